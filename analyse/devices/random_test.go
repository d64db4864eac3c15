package devices

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"leadline/analyse"
	"leadline/ingest"
)

// TestRandom throws pictures of random and absurd headers at the package: it must
// neither stop nor let out what is no number.
func TestRandom(t *testing.T) {
	values := []float64{0, 1e-320, 1e-12, 0.1, 0.1, 0.1, 0.15, 40, 1e9, 1e300, math.MaxFloat64, -0.1}
	bounds := []int64{0, 0, 1, 99, 399, 499, 65535, math.MaxUint32, -5}
	for seed := range uint64(300) {
		rng := rand.New(rand.NewPCG(seed, 77))
		pick := func() float64 { return values[rng.IntN(len(values))] }
		list := studies(series(10+rng.IntN(40), func(_ int, s *shot) {
			s.day, s.depth, s.serial = rng.IntN(30), math.Abs(pick()), fmt.Sprint(rng.IntN(3))
			s.rows, s.columns, s.source = []int{1, 200, 400}[rng.IntN(3)], []int{1, 250, 500}[rng.IntN(3)], fmt.Sprint(rng.IntN(2))
			s.unstated, s.none, s.noZero = rng.IntN(5) == 0, rng.IntN(8) == 0, rng.IntN(2) == 0
		}))
		for _, s := range list {
			for _, img := range s.Images {
				for i := range img.Regions {
					r := img.Regions[i].Raw
					r.DeltaY, r.RefValueY = ingest.Some(pick()), ingest.Some(pick())
					for _, b := range []*ingest.Optional[ingest.Index]{&r.MinX0, &r.MinY0, &r.MaxX1, &r.MaxY1, &r.RefY0} {
						if rng.IntN(4) == 0 {
							*b = ingest.Optional[ingest.Index]{Value: ingest.Index(bounds[rng.IntN(len(bounds))]), Set: rng.IntN(5) > 0}
						}
					}
					if rng.IntN(2) == 0 && r.DeltaY.Value != 0 {
						img.Regions[i].MMPerPixelY = ingest.Some(math.Abs(r.DeltaY.Value) * 10)
					}
				}
			}
		}
		for _, d := range Of(list, nil) {
			if rank(d.Verdict) < 0 || len(d.Remarks) == 0 {
				t.Errorf("seed %d: verdict %q, %d remarks", seed, d.Verdict, len(d.Remarks))
			}
			for _, part := range []any{d.Settings, d.Scales, d.Routes} {
				finite(t, fmt.Sprintf("seed %d, %T", seed, part), reflect.ValueOf(part))
			}
		}
	}
}

// finite wants every number within a value to be one; pictures are left out.
func finite(t *testing.T, where string, v reflect.Value) {
	t.Helper()
	switch v.Kind() {
	case reflect.Float64:
		if math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0) {
			t.Errorf("%s: %v", where, v.Float())
		}
	case reflect.Slice:
		if v.Type().Elem() == reflect.TypeFor[*analyse.Image]() {
			return
		}
		for i := range v.Len() {
			finite(t, where, v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			finite(t, where+" "+v.Type().Field(i).Name, v.Field(i))
		}
	}
}
