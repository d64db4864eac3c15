package devices

import "math"

// The limits of this package. Where no source is named: common practice, no source.
const (
	// fewest is the least number of pictures that are held against each other: of
	// fewer nobody can say which is the strange one.
	fewest = 5
	// longest is the least number of pictures over which a change in time is looked
	// for, fewest on each side of it.
	longest = 2 * fewest
	// material is the relative difference of two scales of one setting from which on
	// they contradict each other: the 1 % at which two scales of one picture are a
	// finding (design), below the action levels for lengths, 1.5 % along and 2 % across
	// the beam (AAPM TG-1, Goodsitt 1998, Med Phys 25:1385, second hand).
	material = 0.01
	// certain is the probability below which a change in time is not chance: one
	// false alarm among a thousand series.
	certain = 0.001
	// followLow and followHigh are what the slope of the depth shown over the depth
	// stated may be: the tolerances of the finding scan-depth-disagrees.
	followLow, followHigh = 0.95, 1.2
	// mostDigits is how many significant digits are looked through for a printed end;
	// single is the relative step of the numbers beyond it (IEEE 754 binary32), in
	// which many devices compute.
	mostDigits = 6
	single     = 1.0 / (1 << 23)
	// depthStep is half of the whole millimetre in which depth is stated.
	depthStep = 0.5
)

// printedUnit is the unit of the last decimal place that a number was printed to,
// however it was stored since; where no end shows, the step of single precision.
func printedUnit(v float64) float64 {
	v = math.Abs(v)
	step := v * single
	for places := 0; places <= 12; places++ {
		scale := math.Pow10(places)
		scaled := v * scale
		if scaled >= math.Pow10(mostDigits) {
			break
		}
		if whole := math.Round(scaled); whole > 0 && math.Abs(scaled-whole) <= scaled*single {
			return math.Max(1/scale, step)
		}
	}
	return step
}

// settleSlack says how exact each scale is. A round number hides the places that it was
// printed to, so the most that any number of the same route and software has count.
// Digits explain no more than half of what is material: a scale that is stated so
// coarsely is wrong by that much.
func (d *device) settleSlack() {
	type source struct {
		route    int
		software string
	}
	unit := map[source]float64{}
	for _, r := range d.readings {
		key := source{r.route, r.software}
		if least, known := unit[key]; !known || r.unit < least {
			unit[key] = r.unit
		}
	}
	for _, r := range d.readings {
		digits := min(unit[source{r.route, r.software}]/r.y/2, material/2)
		r.slack = digits + 0.5/float64(r.height)
	}
}

// apart is the relative difference of two positive numbers, as a difference of
// logarithms, which is the same from either side.
func apart(a, b float64) float64 { return math.Log(a) - math.Log(b) }

// percent turns a difference of logarithms into per cent.
func percent(logarithm float64) float64 { return 100 * math.Expm1(logarithm) }
