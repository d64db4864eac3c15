package ruler

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"testing"

	"golang.org/x/image/draw"
	"golang.org/x/image/font"
	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/fixed"
)

// drawing is a picture that is drawn for a test, with the truth.
type drawing struct {
	columns, rows int
	box           Box
	// perCM is the true scale; depthCM how deep the box goes.
	perCM, depthCM float64
	look           look
	// confusers are drawn beside the ruler, or in its place.
	confusers []confuser
	inside    bool
	strip     bool
	seed      uint64
}

// look is how a ruler is drawn: the step in mm, its larger marks, side, kind of mark,
// brightness and colour.
type look struct {
	stepMM        float64
	every, again  int
	right         bool
	kind          string
	small, large  int
	thick         int
	minor, major  color.RGBA
	numbers       bool
	wholeRows     bool
	missing, none bool
}

type confuser func(*drawing, *image.RGBA, *rand.Rand)

func (d *drawing) draw() *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, d.columns, d.rows))
	for i := 3; i < len(img.Pix); i += 4 {
		img.Pix[i] = 255
	}
	r := rand.New(rand.NewPCG(d.seed, 7))
	d.tissue(img, r)
	for _, c := range d.confusers {
		c(d, img, r)
	}
	if !d.look.none {
		d.ruler(img, r)
	}
	return img
}

// tissue fills the sector of the box with grain, wider than high as of real beams.
func (d *drawing) tissue(img *image.RGBA, r *rand.Rand) {
	b := d.box
	w, h := b.X1-b.X0, b.Y1-b.Y0
	coarse := make([]float64, (w/4+2)*(h/2+2))
	for i := range coarse {
		coarse[i] = math.Hypot(r.NormFloat64(), r.NormFloat64()) * 45
	}
	for y := range h {
		half := float64(w) / 2
		if !d.inside {
			half = math.Min(half*0.8, 20+float64(y)*0.75)
		}
		for x := range w {
			if math.Abs(float64(x)-float64(w)/2) > half {
				continue
			}
			fx, fy := float64(x)/4, float64(y)/2
			i := int(fy)*(w/4+2) + int(fx)
			tx, ty := fx-math.Floor(fx), fy-math.Floor(fy)
			v := (coarse[i]*(1-tx)+coarse[i+1]*tx)*(1-ty) + (coarse[i+w/4+2]*(1-tx)+coarse[i+w/4+3]*tx)*ty
			img.Set(b.X0+x, b.Y0+y, color.Gray{uint8(math.Min(v, 235))})
		}
	}
}

func (d *drawing) ruler(img *image.RGBA, r *rand.Rand) {
	l := d.look
	x := d.box.X0 + 3
	if l.right {
		x = d.box.X1 - 4
	}
	step := d.perCM * l.stepMM / 10
	for n := 0; float64(n)*step <= d.perCM*d.depthCM; n++ {
		if l.missing && r.IntN(12) == 0 && n > 0 {
			continue
		}
		size, ink := l.small, l.minor
		thick := l.thick
		if l.every > 0 && n%l.every == 0 {
			size, ink = l.large, l.major
			if l.again > 0 && n%(l.every*l.again) == 0 {
				size += l.large - l.small
			}
			if l.numbers && n > 0 {
				side := -30
				if !l.right {
					side = 14
				}
				text(img, x+side, int(float64(d.box.Y0)+float64(n)*step)-6, number(n/l.every*5))
			}
		}
		row := float64(d.box.Y0) + float64(n)*step
		if l.wholeRows {
			row = math.Round(row)
		}
		stamp(img, l.kind, x, row, size, thick, l.right, ink)
	}
}

// stamp draws one mark whose middle lies at a row in continuous coordinates, its edges
// shared between rows.
func stamp(img *image.RGBA, kind string, x int, row float64, size, thick int, left bool, ink color.RGBA) {
	half := float64(thick) / 2
	width := size
	if kind == "dot" {
		half, width = float64(size)/2, size
	}
	top, bottom := row+0.5-half, row+0.5+half
	for y := int(math.Floor(top)); y <= int(math.Floor(bottom)); y++ {
		share := math.Min(bottom, float64(y+1)) - math.Max(top, float64(y))
		if share <= 0 {
			continue
		}
		from := x
		switch {
		case kind == "dot" || kind == "diamond":
			from = x - width/2
		case left:
			from = x - width + 1
		}
		for k := range width {
			blend(img, from+k, y, ink, share)
		}
	}
	if kind == "diamond" && size > 2 {
		for k := 1; k <= size/2; k++ {
			for i := -size/2 + k; i <= size/2-k; i++ {
				blend(img, x+i, int(math.Round(row))-k, ink, 1)
				blend(img, x+i, int(math.Round(row))+k, ink, 1)
			}
		}
	}
}

func blend(img *image.RGBA, x, y int, ink color.RGBA, share float64) {
	if !(image.Point{X: x, Y: y}).In(img.Rect) {
		return
	}
	old := img.RGBAAt(x, y)
	mix := func(a, b uint8) uint8 { return uint8(float64(a)*(1-share) + float64(b)*share + 0.5) }
	img.SetRGBA(x, y, color.RGBA{mix(old.R, ink.R), mix(old.G, ink.G), mix(old.B, ink.B), 255})
}

func text(img *image.RGBA, x, y int, s string) {
	f := basicfont.Face7x13
	(&font.Drawer{Dst: img, Src: image.NewUniform(color.Gray{Y: 210}), Face: f, Dot: fixed.P(x, y+f.Ascent)}).DrawString(s)
}

func number(n int) string {
	if n >= 10 {
		return string(rune('0'+n/10%10)) + string(rune('0'+n%10))
	}
	return string(rune('0' + n))
}

// after is the picture as an archive keeps it: resampled and packed with loss.
func after(t *testing.T, img *image.RGBA, scale float64, quality int) (grey []byte, columns, rows int) {
	t.Helper()
	out := img
	if scale != 1 {
		out = image.NewRGBA(image.Rect(0, 0, int(float64(img.Rect.Dx())*scale+0.5), int(float64(img.Rect.Dy())*scale+0.5)))
		draw.BiLinear.Scale(out, out.Rect, img, img.Rect, draw.Src, nil)
	}
	var seen image.Image = out
	if quality > 0 {
		var b bytes.Buffer
		if err := jpeg.Encode(&b, out, &jpeg.Options{Quality: quality}); err != nil {
			t.Fatal(err)
		}
		var err error
		if seen, err = jpeg.Decode(&b); err != nil {
			t.Fatal(err)
		}
	}
	columns, rows = out.Rect.Dx(), out.Rect.Dy()
	grey = make([]byte, columns*rows)
	for i := range grey {
		c := color.RGBAModel.Convert(seen.At(i%columns, i/columns)).(color.RGBA)
		grey[i] = max(c.R, c.G, c.B)
	}
	return grey, columns, rows
}

// The confusers: what stands beside pictures and has marks, edges or periods.
var confusers = map[string]confuser{
	"grey bar": func(d *drawing, img *image.RGBA, _ *rand.Rand) {
		for y := range 120 {
			for x := range 12 {
				img.Set(d.columns-26+x, 40+y, color.Gray{uint8(255 - 2*y)})
			}
		}
	},
	"grey blocks": func(d *drawing, img *image.RGBA, _ *rand.Rand) {
		for k := range 14 {
			for y := range 9 {
				for x := range 14 {
					img.Set(6+x, 60+k*11+y, color.Gray{uint8(250 - 16*k)})
				}
			}
		}
	},
	"trace": func(d *drawing, img *image.RGBA, _ *rand.Rand) {
		for x := range d.columns - 40 {
			y := d.rows - 20 - int(14*math.Exp(-math.Pow(math.Mod(float64(x), 90)-20, 2)/12))
			img.Set(20+x, y, color.RGBA{40, 230, 60, 255})
		}
	},
	"lines of text": func(d *drawing, img *image.RGBA, _ *rand.Rand) {
		for k, s := range []string{"General", "28 Hz", "11 cm", "2D", "Gn 60", "C 61", "MI 1.1", "TIS 0.2", "P Low", "HPen", "THI", "M3"} {
			text(img, 3, 30+k*19, s)
			text(img, d.columns-7*len(s)-2, 30+k*19, s)
		}
	},
	"dots of one letter": func(d *drawing, img *image.RGBA, _ *rand.Rand) {
		for k := range 12 {
			text(img, 8, 40+k*15, "o ")
		}
	},
	"arrows of focus": func(d *drawing, img *image.RGBA, _ *rand.Rand) {
		for k := range 4 {
			for i := range 5 {
				for y := -i; y <= i; y++ {
					img.Set(d.box.X0+8-i, 120+23*k+y, color.White)
				}
			}
		}
	},
	"dotted line": func(d *drawing, img *image.RGBA, _ *rand.Rand) {
		for y := d.box.Y0; y < d.box.Y1; y += 6 {
			img.Set((d.box.X0+d.box.X1)/2+20, y, color.White)
		}
	},
	"fine dotted edge": func(d *drawing, img *image.RGBA, _ *rand.Rand) {
		for y := d.box.Y0; y < d.box.Y1; y += 3 {
			img.Set(d.columns-2, y, color.Gray{120})
		}
	},
	"frame": func(d *drawing, img *image.RGBA, _ *rand.Rand) {
		for y := 100; y < 260; y += 2 {
			img.Set(d.box.X0+60, y, color.White)
			img.Set(d.box.X1-60, y, color.White)
		}
	},
	"ruler across": func(d *drawing, img *image.RGBA, _ *rand.Rand) {
		for x := float64(d.box.X0 + 20); x < float64(d.box.X1); x += d.perCM {
			img.Set(int(x), d.box.Y0-6, color.White)
			img.Set(int(x), d.box.Y0-5, color.White)
		}
	},
	"caliper": func(d *drawing, img *image.RGBA, _ *rand.Rand) {
		for k := range 9 {
			img.Set(d.columns/2+4*k, d.rows/2+7*k, color.White)
		}
	},
	"specks": func(d *drawing, img *image.RGBA, r *rand.Rand) {
		for range 150 {
			x := r.IntN(30)
			if r.IntN(2) == 0 {
				x = d.columns - 1 - x
			}
			img.Set(x, r.IntN(d.rows), color.Gray{uint8(60 + r.IntN(190))})
		}
	},
}

// drawStrip draws a strip below the box with ticks of its own depth, twice as fine, and
// of time.
func drawStrip(d *drawing, img *image.RGBA, r *rand.Rand) {
	top := d.box.Y1 + 12
	for y := top; y < d.rows-14; y++ {
		for x := d.box.X0; x < d.box.X1; x++ {
			v := 60 + 50*math.Sin(float64(y)/7) + 20*r.NormFloat64()
			img.Set(x, y, color.Gray{uint8(math.Min(math.Max(v, 0), 220))})
		}
	}
	for n, y := 0, float64(top); y < float64(d.rows-14); n, y = n+1, y+d.perCM/2 {
		size := 3
		if n%5 == 0 {
			size = 7
		}
		stamp(img, "bar", d.box.X1+2, y, size, 1, false, color.RGBA{255, 255, 255, 255})
	}
	for x := d.box.X0; x < d.box.X1; x += 40 {
		stamp(img, "bar", x, float64(d.rows-10), 1, 5, false, color.RGBA{255, 255, 255, 255})
	}
}
