package main

import (
	"fmt"
	"io"
	"sync/atomic"
	"time"
)

// A bar is one line on a terminal that tells how far long work has come. It stays away from work that is done within a
// second, and from anything that is no terminal.
type bar struct {
	out         io.Writer
	doing       atomic.Pointer[work]
	started     time.Time
	done, total atomic.Int64
	stop, ended chan struct{} // nil where nothing is shown
}

// work is what is being done, and what is counted of it.
type work struct{ what, things string }

// patience is how long work goes on before a line about it appears; pause is how long each line stands.
const (
	patience = time.Second
	pause    = 200 * time.Millisecond
)

// bar begins a line about work of some kind; clear ends it.
func (s streams) bar(what string) *bar { return s.counting(what, "cases") }

// counting is a bar that counts other things than cases.
func (s streams) counting(what, things string) *bar {
	b := &bar{out: s.err, started: time.Now()}
	b.turn(what, things)
	if s.progress {
		b.stop, b.ended = make(chan struct{}), make(chan struct{})
		go b.keep()
	}
	return b
}

// turn says that something else is being done from now on.
func (b *bar) turn(what, things string) { b.doing.Store(&work{what, things}) }

// show says how many of how many are done.
func (b *bar) show(done, total int) {
	b.done.Store(int64(done))
	b.total.Store(int64(total))
}

// keep writes the line until it is stopped, and takes it away again.
func (b *bar) keep() {
	defer close(b.ended)
	next := time.NewTimer(patience)
	defer next.Stop()
	for shown := false; ; shown = true {
		select {
		case <-b.stop:
			if shown {
				fmt.Fprint(b.out, "\r\x1b[K")
			}
			return
		case <-next.C:
			doing := b.doing.Load()
			fmt.Fprintf(b.out, "\r%s: %d of %d %s, %.0f s\x1b[K", doing.what, b.done.Load(), b.total.Load(), doing.things, time.Since(b.started).Seconds())
			next.Reset(pause)
		}
	}
}

// clear ends the line.
func (b *bar) clear() {
	if b.stop != nil {
		close(b.stop)
		<-b.ended
	}
}
