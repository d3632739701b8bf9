package main

import (
	"os"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
)

// collectAt and collectBelow set the collector of garbage: it waits until the heap
// is so many percent larger than what is in use, for a run is short, and less
// long once the whole comes near so many bytes. Common practice, no source.
const (
	collectAt    = 800
	collectBelow = 256 << 20
)

// collect sets it, unless the environment does.
func collect() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(collectAt)
	}
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(collectBelow)
		giveWay()
	}
}

// giveWay raises the limit to twice what is in use, after each collection that
// leaves more than half of the limit: near a limit that it cannot keep, the
// collector would run all the time. One ledger of thousands of circuits needs that.
func giveWay() {
	sample := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
	type mark struct{ _ *int } // what a collection finds unused
	var arm func()
	arm = func() {
		runtime.SetFinalizer(&mark{}, func(*mark) {
			metrics.Read(sample)
			debug.SetMemoryLimit(max(collectBelow, 2*int64(sample[0].Value.Uint64())))
			arm()
		})
	}
	arm()
}
