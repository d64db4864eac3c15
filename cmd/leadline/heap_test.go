package main

import "testing"

func TestGrowth(t *testing.T) {
	for _, c := range []struct {
		live uint64
		want int
	}{
		{0, 800}, {1 << 20, 800}, {16 << 20, 200}, {32 << 20, 100}, {64 << 20, 50}, {384 << 20, 50}, {640 << 20, 30}, {1 << 30, 25}, {1 << 40, 25},
	} {
		if got := growth(c.live); got != c.want {
			t.Errorf("%d bytes live: %d %%, want %d", c.live, got, c.want)
		}
	}
}
