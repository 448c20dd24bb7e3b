package main

import (
	"os"
	"runtime"
	"runtime/debug"
)

// roomy is how far the heap may grow, in bytes, before garbage is collected for the first time: most commands are done before that.
const roomy = 64 << 20

// leastHeap is the heap at which the runtime first collects with its percentage at 100 (runtime/debug, documentation of GOGC).
const leastHeap = 4 << 20

// leaveRoom puts the first collection of garbage off, and gives the percentage back once there was one. What the user has set stays.
func leaveRoom() {
	if os.Getenv("GOGC") != "" {
		return
	}
	was := debug.SetGCPercent(100 * roomy / leastHeap)
	runtime.AddCleanup(new([16]byte), func(was int) { debug.SetGCPercent(was) }, was)
}
