package main

import (
	"os"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
)

// Between two collections the heap may grow by half of what is in use, since
// archives are large, and by leastGrowth at least, since collecting a small heap
// over and over costs more than it frees (measured on 6,000 files: a sixth of the
// time of reading them). Above 384 MiB in use it grows by mostGrowth, to keep an
// audit of a year of pictures within 1 GiB, and by leastPercent where that is more:
// to collect a large heap still oftener would cost more time than the room is worth.
const (
	growthPercent = 50
	leastPercent  = 25
	leastGrowth   = 32 << 20
	mostGrowth    = 192 << 20
)

// runtimeMinimum is the heap that the runtime lets grow before its first
// collection, at 100 per cent (Go's runtime, "A Guide to the Go Garbage Collector").
const runtimeMinimum = 4 << 20

// boundHeap sets how far the heap may grow, now and after each collection. GOGC in
// the environment decides where it is set.
func boundHeap() {
	if os.Getenv("GOGC") != "" {
		return
	}
	debug.SetGCPercent(leastGrowth / runtimeMinimum * 100)
	afterNextCollection()
}

// afterNextCollection waits, by an object that nothing holds, for the heap to be
// collected, and sets the growth by what is left.
func afterNextCollection() {
	witness := new([64]byte)
	runtime.AddCleanup(witness, func(struct{}) {
		live := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
		metrics.Read(live)
		debug.SetGCPercent(growth(live[0].Value.Uint64()))
		afterNextCollection()
	}, struct{}{})
}

// growth is the growth in per cent that so many live bytes are given.
func growth(live uint64) int {
	live = max(live, runtimeMinimum)
	most := min(growthPercent, max(leastPercent, int(mostGrowth*100/live)))
	return max(most, int(leastGrowth*100/live))
}
