package ingest

import "leadline/ingest/dcm"

// maxRegions bounds the regions of one image: their work grows with the square.
// Devices write one to about ten.
const maxRegions = 1000

// regionsOf reads every item of Sequence of Ultrasound Regions.
func regionsOf(d *dcm.Dataset) []Region {
	items := d.ItemsAtMost(dcm.SequenceOfUltrasoundRegions, maxRegions)
	if len(items) == 0 {
		return nil
	}
	regions := make([]Region, len(items))
	for i := range items {
		regions[i] = regionOf(&items[i], i+1)
	}
	return regions
}

func regionOf(d *dcm.Dataset, ordinal int) Region {
	return Region{
		Ordinal:          ordinal,
		SpatialFormat:    as[uint16](d, dcm.RegionSpatialFormat),
		DataType:         as[uint16](d, dcm.RegionDataType),
		Flags:            as[uint32](d, dcm.RegionFlags),
		MinX0:            as[Index](d, dcm.RegionLocationMinX0),
		MinY0:            as[Index](d, dcm.RegionLocationMinY0),
		MaxX1:            as[Index](d, dcm.RegionLocationMaxX1),
		MaxY1:            as[Index](d, dcm.RegionLocationMaxY1),
		RefX0:            as[Index](d, dcm.ReferencePixelX0),
		RefY0:            as[Index](d, dcm.ReferencePixelY0),
		UnitsX:           as[uint16](d, dcm.PhysicalUnitsXDirection),
		UnitsY:           as[uint16](d, dcm.PhysicalUnitsYDirection),
		RefValueX:        d.Float(dcm.ReferencePixelPhysicalValueX),
		RefValueY:        d.Float(dcm.ReferencePixelPhysicalValueY),
		DeltaX:           d.Float(dcm.PhysicalDeltaX),
		DeltaY:           d.Float(dcm.PhysicalDeltaY),
		FrequencyKHz:     d.Float(dcm.TransducerFrequency),
		PRFHz:            d.Float(dcm.PulseRepetitionFrequency),
		DopplerAngleDeg:  d.Float(dcm.DopplerCorrectionAngle),
		SteeringAngleDeg: d.Float(dcm.SteeringAngle),
		Detail:           detailOf(d),
	}
}

// detailTags are the elements that RegionDetail holds.
var detailTags = []dcm.Tag{
	dcm.DopplerSampleVolumeXPosition, dcm.DopplerSampleVolumeXPositionRetired,
	dcm.DopplerSampleVolumeYPosition, dcm.DopplerSampleVolumeYPositionRetired,
	dcm.TMLinePositionX0, dcm.TMLinePositionX0Retired, dcm.TMLinePositionX1, dcm.TMLinePositionX1Retired,
	dcm.TMLinePositionY0, dcm.TMLinePositionY0Retired, dcm.TMLinePositionY1, dcm.TMLinePositionY1Retired,
	dcm.PixelComponentOrganization,
}

func detailOf(d *dcm.Dataset) *RegionDetail {
	some := false
	for _, tag := range detailTags {
		some = some || d.Has(tag)
	}
	if !some {
		return nil
	}
	return &RegionDetail{
		SampleVolumeX:         either(d, dcm.DopplerSampleVolumeXPosition, dcm.DopplerSampleVolumeXPositionRetired),
		SampleVolumeY:         either(d, dcm.DopplerSampleVolumeYPosition, dcm.DopplerSampleVolumeYPositionRetired),
		TMLineX0:              either(d, dcm.TMLinePositionX0, dcm.TMLinePositionX0Retired),
		TMLineY0:              either(d, dcm.TMLinePositionY0, dcm.TMLinePositionY0Retired),
		TMLineX1:              either(d, dcm.TMLinePositionX1, dcm.TMLinePositionX1Retired),
		TMLineY1:              either(d, dcm.TMLinePositionY1, dcm.TMLinePositionY1Retired),
		ComponentOrganization: as[uint16](d, dcm.PixelComponentOrganization),
		ComponentMask:         as[uint32](d, dcm.PixelComponentMask),
		ComponentRangeStart:   as[uint32](d, dcm.PixelComponentRangeStart),
		ComponentRangeStop:    as[uint32](d, dcm.PixelComponentRangeStop),
		ComponentUnits:        as[uint16](d, dcm.PixelComponentPhysicalUnits),
		ComponentDataType:     as[uint16](d, dcm.PixelComponentDataType),
		BreakPoints:           d.Int(dcm.NumberOfTableBreakPoints),
		XBreakPoints:          d.Floats(dcm.TableOfXBreakPoints),
		YBreakPoints:          d.Floats(dcm.TableOfYBreakPoints),
		TableEntries:          d.Int(dcm.NumberOfTableEntries),
		PixelValues:           d.Floats(dcm.TableOfPixelValues),
		ParameterValues:       d.Floats(dcm.TableOfParameterValues),
		MappingCodes:          d.Codes(dcm.PixelValueMappingCodeSequence),
	}
}

// either prefers the current tag to its retired, unsigned neighbour.
func either(d *dcm.Dataset, current, retired dcm.Tag) Optional[int64] {
	if v := d.Int(current); v.Set {
		return v
	}
	return d.Int(retired)
}

// as reads a whole number as type T, absent where it does not fit.
func as[T ~uint16 | ~uint32 | ~int64](d *dcm.Dataset, tag dcm.Tag) Optional[T] {
	v, ok := d.Int(tag).Get()
	if !ok || int64(T(v)) != v {
		return Optional[T]{}
	}
	return dcm.Some(T(v))
}
