package main

import (
	"fmt"
	"syscall"
	"time"
)

// clock measures a stretch of this process: the time that went by, and the time of
// the processors, which other programs on the machine disturb less.
type clock struct {
	began     time.Time
	processor time.Duration
}

func startClock() clock { return clock{began: time.Now(), processor: processorTime()} }

// stop writes both, in seconds.
func (c clock) stop() string {
	took, used := time.Since(c.began), processorTime()-c.processor
	return fmt.Sprintf("seconds=%.6f processor=%.6f", took.Seconds(), used.Seconds())
}

func processorTime() time.Duration {
	var usage syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &usage) != nil {
		return 0
	}
	return time.Duration(usage.Utime.Nano() + usage.Stime.Nano())
}
