package main

import (
	"fmt"
	"strings"

	"leadline/analyse"
	"leadline/export/deid"
	"leadline/ingest"
	"leadline/ingest/presentation"
	"leadline/ingest/report"
)

// details collects facts; an absent one adds nothing.
type details []detail

func (d *details) add(name, value string) {
	if value != "" {
		*d = append(*d, detail{name, value})
	}
}

func (d *details) number(name string, v ingest.Optional[float64], unit string) {
	if v.Set {
		d.add(name, strings.TrimSpace(fmt.Sprintf("%g %s", v.Value, unit)))
	}
}

func (d *details) pair(name string, v ingest.Optional[[2]float64]) {
	if v.Set {
		d.add(name, fmt.Sprintf("%g mm between rows, %g mm between columns", v.Value[0], v.Value[1]))
	}
}

// detailsOf are the facts of a file that no table has: device parts, spacing,
// timing as the file gives it, reference pixels, the state of a report.
// Free text of people is not among them.
func detailsOf(inst *ingest.Instance, identity deid.Identity) []detail {
	var d details
	d.device(inst.Device, identity)
	switch {
	case inst.Image != nil:
		d.image(inst.Image)
	case inst.Report != nil:
		d.report(inst.Report)
	case inst.Presentation != nil:
		d.presentation(inst.Presentation)
	}
	for _, p := range inst.Problems {
		d.add("Unreadable element", fmt.Sprintf("%s at offset %d: expected %s", p.Tag, p.Offset, p.Expected))
	}
	return d
}

func (d *details) device(dev *ingest.Device, identity deid.Identity) {
	if dev == nil {
		return
	}
	d.add("Software", dev.Software)
	d.add("Transducer", dev.Transducer)
	d.add("Transducer type", dev.TransducerType)
	if identity != deid.None {
		d.add("Station", dev.Station)
	}
}

func (d *details) image(img *ingest.Image) {
	d.add("Image type", strings.Join(img.ImageType, " "))
	d.add("Pixels", fmt.Sprintf("%s, %d bits, %s a pixel; data %s", img.Photometric, img.BitsAllocated, analyse.Counted(int(img.SamplesPerPixel), "sample", "samples"), img.PixelData))
	d.add("Text burned in", img.BurnedIn)
	d.pair("Pixel spacing", img.Spacing.Pixel)
	d.pair("Imager pixel spacing", img.Spacing.Imager)
	if r := img.Spacing.AspectRatio; r.Set {
		d.add("Pixel aspect ratio", fmt.Sprintf("%d high to %d wide", r.Value[0], r.Value[1]))
	}
	d.number("Focus depth", img.FocusCM, "cm")
	d.timing(&img.Timing)
	for i := range img.Regions {
		d.region(&img.Regions[i])
	}
}

func (d *details) timing(t *ingest.Timing) {
	d.number("Frame time", t.FrameTimeMS, "ms")
	if n := len(t.FrameTimeVectorMS); n > 0 {
		d.add("Frame time vector", fmt.Sprintf("%s, the first %g ms, the last %g ms", analyse.Counted(n, "element", "elements"), t.FrameTimeVectorMS[0], t.FrameTimeVectorMS[n-1]))
	}
	d.number("Cine rate", t.CineRateHz, "/s")
	d.number("Recommended display rate", t.RecommendedHz, "/s")
	d.number("Actual frame duration", t.ActualFrameDurationMS, "ms")
	d.number("Effective duration", t.EffectiveDurationS, "s")
	d.number("Heart rate", t.HeartRate, "/min")
}

func (d *details) region(r *ingest.Region) {
	var parts details
	if r.RefX0.Set && r.RefY0.Set {
		parts.add("reference pixel", fmt.Sprintf("%d,%d", r.RefX0.Value, r.RefY0.Value))
	}
	parts.number("its value in x", r.RefValueX, "")
	parts.number("in y", r.RefValueY, "")
	parts.number("transducer", r.FrequencyKHz, "kHz")
	parts.number("pulse repetition", r.PRFHz, "Hz")
	parts.number("Doppler angle", r.DopplerAngleDeg, "deg")
	parts.number("steering angle", r.SteeringAngleDeg, "deg")
	var words []string
	for _, p := range parts {
		words = append(words, p.Name+" "+p.Value)
	}
	d.add(fmt.Sprintf("Region %d", r.Ordinal), strings.Join(words, ", "))
}

func (d *details) report(r *report.Document) {
	d.add("Report", r.Title.Meaning)
	d.add("Template", r.TemplateID)
	d.add("Completion", r.CompletionFlag)
	d.add("Verification", r.VerificationFlag)
	d.add("Preliminary", r.PreliminaryFlag)
	d.add("Holds", fmt.Sprintf("%s, %s, references to %s", analyse.Counted(len(r.Numerics), "number", "numbers"),
		analyse.Counted(len(r.Statements), "statement", "statements"), analyse.Counted(len(r.Images), "image", "images")))
	for _, p := range r.Problems {
		d.add("Problem", p)
	}
}

func (d *details) presentation(s *presentation.State) {
	graphics, texts := 0, 0
	for _, a := range s.Annotations {
		graphics += len(a.Graphics)
		texts += len(a.Texts)
	}
	d.add("Holds", fmt.Sprintf("%s and %s in %s, for %s", analyse.Counted(graphics, "graphic", "graphics"), analyse.Counted(texts, "text", "texts"),
		analyse.Counted(len(s.Layers), "layer", "layers"), analyse.Counted(len(s.Images), "image", "images")))
	if s.RotationDeg != 0 || s.Flip {
		d.add("Displayed", fmt.Sprintf("turned by %d degrees, flipped: %t", s.RotationDeg, s.Flip))
	}
	for _, p := range s.Problems {
		d.add("Problem", p)
	}
}
