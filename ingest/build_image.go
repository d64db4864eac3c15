package ingest

import "leadline/ingest/dcm"

// imageOf reads what d, the header of an image file without what belongs to the
// instance or the study, says about its picture.
func imageOf(d *dcm.Dataset, f *dcm.File) *Image {
	img := &Image{
		Rows:                 wholeOr(d, dcm.Rows, 0),
		Columns:              wholeOr(d, dcm.Columns, 0),
		Frames:               max(wholeOr(d, dcm.NumberOfFrames, 1), 1),
		SamplesPerPixel:      wholeOr(d, dcm.SamplesPerPixel, 0),
		BitsAllocated:        wholeOr(d, dcm.BitsAllocated, 0),
		Photometric:          d.String(dcm.PhotometricInterpretation),
		ImageType:            d.Strings(dcm.ImageType),
		ImageLaterality:      d.String(dcm.ImageLaterality),
		Timing:               timingOf(d),
		Regions:              regionsOf(d),
		RegionsBare:          f.BareItem && d.Has(dcm.RegionSpatialFormat),
		Spacing:              spacingOf(d),
		Acoustic:             acousticOf(d),
		View:                 viewOf(d),
		DepthMM:              d.Float(dcm.DepthOfScanField),
		FocusCM:              d.Float(dcm.FocusDepth),
		BurnedIn:             d.String(dcm.BurnedInAnnotation),
		RecognizableFeatures: d.String(dcm.RecognizableVisualFeatures),
		ColourData:           d.Int(dcm.UltrasoundColorDataPresent),
		AnatomicRegions:      append(d.Codes(dcm.AnatomicRegionSequence), d.Codes(dcm.PrimaryAnatomicStructureSequence)...),
		Processing:           d.String(dcm.ProcessingFunction),
		OutputPower:          d.String(dcm.OutputPower),
	}
	img.Lossy = Lossy{
		Compressed: d.String(dcm.LossyImageCompression),
		Ratios:     d.Floats(dcm.LossyImageCompressionRatio),
		Methods:    d.Strings(dcm.LossyImageCompressionMethod),
		Derivation: d.Text(dcm.DerivationDescription),
	}
	img.PixelData = pixelStates[f.Pixels]
	return img
}

var pixelStates = map[dcm.PixelState]PixelData{
	dcm.PixelsAbsent: PixelsAbsent, dcm.PixelsWhole: PixelsWhole, dcm.PixelsCut: PixelsCut,
}

func wholeOr(d *dcm.Dataset, tag dcm.Tag, absent int) int {
	if v, ok := d.Int(tag).Get(); ok {
		return int(v)
	}
	return absent
}

func spacingOf(d *dcm.Dataset) Spacing {
	s := Spacing{
		Pixel:              pairOf(d, dcm.PixelSpacing),
		Imager:             pairOf(d, dcm.ImagerPixelSpacing),
		NominalScanned:     pairOf(d, dcm.NominalScannedPixelSpacing),
		CalibrationType:    d.String(dcm.PixelSpacingCalibrationType),
		CalibrationMeaning: d.String(dcm.PixelSpacingCalibrationDescription),
	}
	if v := d.Ints(dcm.PixelAspectRatio); len(v) == 2 {
		s.AspectRatio = dcm.Some([2]int{v[0], v[1]})
	}
	return s
}

func pairOf(d *dcm.Dataset, tag dcm.Tag) Optional[[2]float64] {
	if v := d.Floats(tag); len(v) == 2 {
		return dcm.Some([2]float64{v[0], v[1]})
	}
	return Optional[[2]float64]{}
}

func acousticOf(d *dcm.Dataset) Acoustic {
	return Acoustic{
		Mechanical:        d.Float(dcm.MechanicalIndex),
		Bone:              d.Float(dcm.BoneThermalIndex),
		Cranial:           d.Float(dcm.CranialThermalIndex),
		SoftTissue:        d.Float(dcm.SoftTissueThermalIndex),
		SoftTissueFocus:   d.Float(dcm.SoftTissueFocusThermalIndex),
		SoftTissueSurface: d.Float(dcm.SoftTissueSurfaceThermalIndex),
	}
}

func viewOf(d *dcm.Dataset) View {
	v := View{
		Name:         d.String(dcm.ViewName),
		StageName:    d.String(dcm.StageName),
		Number:       d.Int(dcm.ViewNumber),
		StageNumber:  d.Int(dcm.StageNumber),
		ViewsInStage: d.Int(dcm.NumberOfViewsInStage),
		StagesTotal:  d.Int(dcm.NumberOfStages),
		Code:         d.Code(dcm.ViewCodeSequence),
		StageCode:    d.Code(dcm.StageCodeSequence),

		OverlayLabel: d.String(dcm.OverlayLabel), OverlayDescription: d.String(dcm.OverlayDescription),
	}
	if items := d.Items(dcm.ViewCodeSequence); len(items) > 0 {
		v.Modifiers = items[0].Codes(dcm.ViewModifierCodeSequence)
	}
	return v
}

func timingOf(d *dcm.Dataset) Timing {
	return Timing{
		IncrementPointer:      d.Tags(dcm.FrameIncrementPointer),
		FrameTimeMS:           d.Float(dcm.FrameTime),
		FrameTimeVectorMS:     d.Floats(dcm.FrameTimeVector),
		FrameDelayMS:          d.Float(dcm.FrameDelay),
		ImageTriggerDelayMS:   d.Float(dcm.ImageTriggerDelay),
		CineRateHz:            d.Float(dcm.CineRate),
		RecommendedHz:         d.Float(dcm.RecommendedDisplayFrameRate),
		ActualFrameDurationMS: d.Float(dcm.ActualFrameDuration),
		EffectiveDurationS:    d.Float(dcm.EffectiveDuration),
		StartTrim:             d.Int(dcm.StartTrim),
		StopTrim:              d.Int(dcm.StopTrim),
		PlaybackSequencing:    d.Int(dcm.PreferredPlaybackSequencing),
		RWaveTimesMS:          d.Floats(dcm.RWaveTimeVector),
		HeartRate:             d.Float(dcm.HeartRate),
		TriggerTimeMS:         d.Float(dcm.TriggerTime),
		NominalIntervalMS:     d.Float(dcm.NominalInterval),
		LowRRMS:               d.Float(dcm.LowRRValue),
		HighRRMS:              d.Float(dcm.HighRRValue),
		EventElapsedMS:        d.Floats(dcm.EventElapsedTimes),
		EventNames:            d.Strings(dcm.EventTimerNames),
		EventTimers:           d.Int(dcm.NumberOfEventTimers),
		Synchronized:          d.String(dcm.AcquisitionTimeSynchronized),
		TimezoneOffset:        d.String(dcm.TimezoneOffsetFromUTC),
	}
}
