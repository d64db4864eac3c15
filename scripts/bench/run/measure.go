package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// measure is what one run of a program took.
type measure struct {
	seconds, processor float64
	peakMiB            float64
	// readBytes is what the program and those it started read, itself included:
	// libraries read by a script count, memory maps do not.
	readBytes int64
	// said is what it printed as name=value.
	said map[string]float64
}

// timeCommand tells the memory of a process by itself: what the kernel says of a
// child of this program is never less than what this program has.
const timeCommand = "/usr/bin/time"

// measure runs a program and measures it. A stage that times itself is believed.
func (b *bench) measure(args ...string) (measure, error) {
	note := filepath.Join(b.dir, "time")
	before := readSoFar()
	began := time.Now()
	out, err := output(timeCommand, append([]string{"-o", note, "-f", "%U %S %M"}, args...)...)
	m := measure{seconds: time.Since(began).Seconds(), readBytes: readSoFar() - before, said: values(out)}
	if err != nil {
		return m, err
	}
	text, err := os.ReadFile(note)
	if err != nil {
		return m, err
	}
	var user, system, peakKiB float64
	if _, err := fmt.Sscan(string(text), &user, &system, &peakKiB); err != nil {
		return m, fmt.Errorf("reading what %s says: %w", timeCommand, err)
	}
	m.processor, m.peakMiB = user+system, peakKiB/1024
	if seconds, timed := m.said["seconds"]; timed {
		m.seconds, m.processor = seconds, m.said["processor"]
	}
	return m, nil
}

// output runs a program and returns what it prints; an error has its last words.
func output(name string, args ...string) (string, error) {
	var out, complaint bytes.Buffer
	cmd := exec.Command(name, args...)
	cmd.Stdout, cmd.Stderr = &out, &complaint
	if err := cmd.Run(); err != nil {
		last := complaint.String()
		return "", fmt.Errorf("running %s %s: %w: %s", name, strings.Join(args, " "), err, last[max(0, len(last)-300):])
	}
	return out.String(), nil
}

// readSoFar is how many bytes this process and the children that ended have read
// (rchar in proc_pid_io(5)), 0 where the system does not say.
func readSoFar() int64 {
	text, err := os.ReadFile("/proc/self/io")
	if err != nil {
		return 0
	}
	return int64(values(strings.ReplaceAll(string(text), ": ", "="))["rchar"])
}

// values reads words of the form name=number.
func values(text string) map[string]float64 {
	all := map[string]float64{}
	for _, word := range strings.Fields(text) {
		name, number, found := strings.Cut(word, "=")
		if v, err := strconv.ParseFloat(number, 64); found && err == nil {
			all[name] = v
		}
	}
	return all
}
