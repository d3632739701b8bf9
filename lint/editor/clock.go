package editor

import "time"

// Clock measures pauses.
type Clock interface {
	// After calls f once so much time has passed, unless stop is called first.
	After(d time.Duration, f func()) (stop func())
}

// WallClock is the clock on the wall.
type WallClock struct{}

// After implements Clock.
func (WallClock) After(d time.Duration, f func()) (stop func()) {
	t := time.AfterFunc(d, f)
	return func() { t.Stop() }
}
