// Package allocation measures what a call allocates, for tests and fuzz targets
// that hold a reader of foreign bytes to a bound. Nothing else may run beside it.
package allocation

import "runtime"

// Of runs f and returns the bytes it allocated in all, garbage included.
func Of(f func()) int64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return int64(after.TotalAlloc - before.TotalAlloc)
}

// Linear is the bound of a reader that has no reason to allocate more than perByte
// for each byte it is given, above the few buffers it always takes.
func Linear(input, perByte int) int64 { return 1<<20 + int64(input)*int64(perByte) }
