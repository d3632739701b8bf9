package main

import (
	"runtime"
	"runtime/debug"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestCollectorGivesWay: where more than half of the limit is in use, the limit
// is raised to twice that; else the collector would run all the time.
func TestCollectorGivesWay(t *testing.T) {
	t.Setenv("GOGC", "")
	t.Setenv("GOMEMLIMIT", "")
	limit, percent := debug.SetMemoryLimit(-1), debug.SetGCPercent(100)
	defer func() {
		debug.SetGCPercent(percent)
		debug.SetMemoryLimit(limit)
	}()
	collect()
	assert.Equal(t, int64(collectBelow), debug.SetMemoryLimit(-1))
	used := make([]byte, collectBelow)
	for range 1000 { // what a collection finds unused is told later
		if runtime.GC(); debug.SetMemoryLimit(-1) >= 2*collectBelow {
			break
		}
		runtime.Gosched()
	}
	assert.GreaterOrEqual(t, debug.SetMemoryLimit(-1), int64(2*collectBelow))
	runtime.KeepAlive(used)
}
