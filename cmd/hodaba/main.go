// Command hodaba keeps the record of a yard of mushroom logs and forecasts
// from it when each pile is run through, when it fruits and how much, and when
// each tincture batch can start.
package main

import (
	"context"
	"os"
	"os/signal"
	"time"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	status := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr, time.Now())
	stop()
	os.Exit(status)
}
