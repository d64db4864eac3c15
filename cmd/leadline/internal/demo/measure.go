package demo

import (
	"fmt"
	"math"

	"leadline/ingest"
)

// modifier is a coded concept modifier of a number: name and value.
type modifier struct{ name, value code }

// measure is how a device reports one mark of a picture.
type measure struct {
	concept code
	unit    code
	// decimals are how many places the device prints.
	decimals  int
	modifiers []modifier
	// of computes the number, in unit, from the caliper.
	of func(r region, m mark) float64
}

func site(c code) modifier { return modifier{findingSite, c} }

// The quantities of a mark, in the units that are reported.
var (
	inMM    = func(r region, m mark) float64 { return r.lengthMM(m) }
	inCM    = func(r region, m mark) float64 { return r.lengthMM(m) / 10 }
	inMS    = func(r region, m mark) float64 { return r.durationMS(m.points) }
	inCMS   = func(r region, m mark) float64 { return r.velocity(m.points) }
	inMetre = func(r region, m mark) float64 { return r.velocity(m.points) / 100 }
	inML    = func(r region, m mark) float64 { return biplaneML(r, m.points, r, m.points) }
	inCM2   = func(r region, m mark) float64 { return r.areaOf(m) / 100 }
)

// lengthMM is the length that a mark stands for: a depth in an M-mode strip, a
// distance or the length of a path in a picture.
func (r region) lengthMM(m mark) float64 {
	if r.format == ingest.FormatMMode {
		return r.depthMM(m.points)
	}
	return r.distanceMM(m.points)
}

// areaOf is the area in mm² of a polygon, of a circle (centre and a point on it) or
// of an ellipse (both ends of the major, then of the minor axis).
func (r region) areaOf(m mark) float64 {
	switch m.geometry {
	case ingest.GeometryCircle:
		radius := r.distanceMM(m.points)
		return math.Pi * radius * radius
	case ingest.GeometryEllipse:
		return math.Pi / 4 * r.distanceMM(m.points[:2]) * r.distanceMM(m.points[2:])
	}
	return r.areaMM2(m.points)
}

// text is the number as the device prints it.
func (m measure) text(r region, k mark) string {
	return fmt.Sprintf("%.*f", m.decimals, m.of(r, k))
}

// measures are the reports of the marks by name. Codes: reference section 7.
var measures = map[string]measure{
	"lv-internal-diameter-diastole":    {code{"29436-3", "LN", "Left Ventricle Internal End Diastolic Dimension"}, unitCM, 2, []modifier{{imageMode, modeM}}, inCM},
	"lv-internal-diameter-systole":     {code{"29438-9", "LN", "Left Ventricle Internal Systolic Dimension"}, unitCM, 2, []modifier{{imageMode, modeM}}, inCM},
	"interventricular-septum-diastole": {code{"18154-5", "LN", "Interventricular Septum Diastolic Thickness"}, unitMM, 1, []modifier{{imageMode, modeM}}, inMM},
	"lv-posterior-wall-diastole":       {code{"18152-9", "LN", "Left Ventricle Posterior Wall Diastolic Thickness"}, unitMM, 1, []modifier{{imageMode, modeM}}, inMM},
	"r-r-interval":                     {code{"122182", "DCM", "R-R interval"}, unitMS, 0, nil, inMS},
	"left-atrium-diameter":             {code{"29469-4", "LN", "Left Atrium Antero-posterior Systolic Dimension"}, unitMM, 1, []modifier{{imageMode, mode2D}}, inMM},
	"aortic-root-diameter":             {code{"18015-8", "LN", "Aortic Root Diameter"}, unitMM, 1, []modifier{{imageMode, mode2D}}, inMM},
	"lv-outflow-diameter":              {code{"399027007", "SCT", "Cardiovascular Orifice Diameter"}, unitMM, 1, []modifier{site(outflowTract), {imageMode, mode2D}}, inMM},
	"lv-four-chamber-volume-diastole":  {code{"79999-9", "LN", "Left ventricular end diastolic volume single plane 4C (MOD)"}, unitML, 2, nil, inML},
	"lv-four-chamber-volume-systole":   {code{"80004-5", "LN", "Left ventricular end systolic volume single plane 4C (MOD)"}, unitML, 2, nil, inML},
	"lv-two-chamber-volume-diastole":   {code{"79998-1", "LN", "Left ventricular end diastolic volume single plane 2C (MOD)"}, unitML, 2, nil, inML},
	"lv-two-chamber-volume-systole":    {code{"80003-7", "LN", "Left ventricular end systolic volume single plane 2C (MOD)"}, unitML, 2, nil, inML},
	"rv-basal-diameter":                {code{"80080-5", "LN", "Right ventricular basal dimension 4C"}, unitMM, 1, nil, inMM},
	"tapse":                            {code{"77903-3", "LN", "Tricuspid Annular Plane Systolic Excursion (TAPSE)"}, unitMM, 1, []modifier{{imageMode, modeM}}, inMM},
	"lv-outflow-peak-velocity":         {code{"11726-7", "LN", "Peak Systolic Velocity"}, unitCMPerS, 1, []modifier{site(outflowTract), {imageMode, modePW}}, inCMS},
	"lv-ejection-time":                 {code{"20222-6", "LN", "Ejection Time"}, unitMS, 0, []modifier{site(outflowTract)}, inMS},
	"mitral-e":                         {code{"18037-2", "LN", "Mitral Valve E-Wave Peak Velocity"}, unitCMPerS, 1, []modifier{{imageMode, modePW}}, inCMS},
	"mitral-a":                         {code{"17978-8", "LN", "Mitral Valve A-Wave Peak Velocity"}, unitCMPerS, 1, []modifier{{imageMode, modePW}}, inCMS},
	"tricuspid-regurgitation-peak-velocity": {code{"11726-7", "LN", "Peak Systolic Velocity"}, unitMPerS, 2,
		[]modifier{site(tricuspidValve), {flow, regurgitant}, {imageMode, modeCW}}, inMetre},
	"pulmonary-valve-peak-velocity": {code{"11726-7", "LN", "Peak Systolic Velocity"}, unitCMPerS, 1, []modifier{site(pulmonicValve), {imageMode, modePW}}, inCMS},
	"pulmonary-acceleration-time":   {code{"20168-1", "LN", "Acceleration Time"}, unitMS, 0, []modifier{site(pulmonicValve)}, inMS},
	"rv-ejection-time":              {code{"20222-6", "LN", "Ejection Time"}, unitMS, 0, []modifier{site(pulmonicValve)}, inMS},
	"foramen-ovale-diameter":        {code{"81827009", "SCT", "Diameter"}, unitMM, 1, []modifier{site(foramenOvale)}, inMM},
	"right-atrium-area":             {code{"42798000", "SCT", "Area"}, unitCM2, 2, []modifier{site(rightAtrium)}, inCM2},
	"duct-diameter":                 {code{"81827009", "SCT", "Diameter"}, unitMM, 1, []modifier{site(openDuct)}, inMM},
	"duct-peak-systolic-velocity":   {code{"11726-7", "LN", "Peak Systolic Velocity"}, unitCMPerS, 1, []modifier{site(openDuct), {imageMode, modePW}}, inCMS},
	"duct-end-diastolic-velocity":   {code{"11653-3", "LN", "End Diastolic Velocity"}, unitCMPerS, 1, []modifier{site(openDuct), {imageMode, modePW}}, inCMS},
	"aortic-isthmus-diameter":       {code{"18014-1", "LN", "Aortic Isthmus Diameter"}, unitMM, 1, nil, inMM},
	"anterior-horn-width":           {code{"33197-5", "LN", "Anterior Horn Lateral ventricular width"}, unitMM, 1, []modifier{{laterality, sideLeft}}, inMM},
	"head-outline":                  {code{"42798000", "SCT", "Area"}, unitCM2, 2, []modifier{site(brain)}, inCM2},
	"corpus-callosum-length":        {code{"121211", "DCM", "Path length"}, unitMM, 1, []modifier{site(callosum)}, inMM},
	"aca-peak-systolic-velocity":    {code{"11726-7", "LN", "Peak Systolic Velocity"}, unitCMPerS, 1, []modifier{site(acaSite)}, inCMS},
	"aca-end-diastolic-velocity":    {code{"11653-3", "LN", "End Diastolic Velocity"}, unitCMPerS, 1, []modifier{site(acaSite)}, inCMS},
	"sma-peak-systolic-velocity":    {code{"11726-7", "LN", "Peak Systolic Velocity"}, unitCMPerS, 1, []modifier{site(smaSite)}, inCMS},
	"sma-end-diastolic-velocity":    {code{"11653-3", "LN", "End Diastolic Velocity"}, unitCMPerS, 1, []modifier{site(smaSite)}, inCMS},
	"vessel-diameter":               {code{"18006-7", "LN", "Inferior Vena Cava Diameter"}, unitMM, 2, nil, inMM},
	"vessel-circle":                 {code{"397415007", "SCT", "Vessel lumen cross-sectional area"}, unitCM2, 3, []modifier{site(cavaSite)}, inCM2},
	"vessel-ellipse":                {code{"42798000", "SCT", "Area"}, unitCM2, 3, []modifier{site(abdominalAorta)}, inCM2},
	"ventricular-index-left":        {localIndex, unitMM, 1, []modifier{{laterality, sideLeft}}, inMM},
	"ventricular-index-right":       {localIndex, unitMM, 1, []modifier{{laterality, sideRight}}, inMM},
	"diaphragm-excursion":           {localExcursion, unitMM, 1, []modifier{site(diaphragmSite), {laterality, sideRight}}, inMM},
}
