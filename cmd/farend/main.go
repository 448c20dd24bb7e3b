// Command farend designs, proves and documents low-voltage addressable-LED installations and the fused distribution
// boards that feed them.
package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"time"
)

func main() {
	leaveRoom()
	os.Exit(start())
}

// grace is how long a command may take to come to a stop after an interrupt. What it does not finish by then is lost,
// but never half written: files are saved in one piece.
const grace = 500 * time.Millisecond

// start runs the command until it ends or is interrupted, and returns the exit code. A second interrupt ends the program
// at once.
func start() int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	context.AfterFunc(ctx, stop)
	ended := make(chan int, 1)
	go func() { ended <- run(ctx, os.Args[1:], console()) }()
	select {
	case code := <-ended:
		return code
	case <-ctx.Done():
	}
	select {
	case code := <-ended:
		return code
	case <-time.After(grace):
		fmt.Fprintln(os.Stderr, "farend: interrupted")
		return exitInterrupted
	}
}
