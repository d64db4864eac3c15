package ingest

// Region is one item of Sequence of Ultrasound Regions (PS3.3 C.8.5.5), as the
// file gives it. Bounds are inclusive pixel indices; the reference pixel counts
// from the region's Min corner and may lie anywhere or be absent.
type Region struct {
	// Ordinal is the place of the item in the sequence, from 1.
	Ordinal       int
	SpatialFormat Optional[uint16]
	DataType      Optional[uint16]
	Flags         Optional[uint32]

	MinX0, MinY0, MaxX1, MaxY1 Optional[Index]
	RefX0, RefY0               Optional[Index]
	// UnitsX and UnitsY are the codes of C.8.5.5.1.15: 3 cm, 4 s, 5 Hz, 7 cm/s …
	UnitsX, UnitsY       Optional[uint16]
	RefValueX, RefValueY Optional[float64]
	DeltaX, DeltaY       Optional[float64]
	FrequencyKHz, PRFHz  Optional[float64]
	DopplerAngleDeg      Optional[float64]
	SteeringAngleDeg     Optional[float64]
	// Detail is nil where the file gives none of its fields.
	Detail *RegionDetail
}

// RegionDetail holds the rarer fields of a region. Positions are pixels from the
// reference pixel, signed.
type RegionDetail struct {
	SampleVolumeX, SampleVolumeY           Optional[int64]
	TMLineX0, TMLineY0, TMLineX1, TMLineY1 Optional[int64]
	ComponentOrganization                  Optional[uint16]
	ComponentMask                          Optional[uint32]
	ComponentRangeStart                    Optional[uint32]
	ComponentRangeStop                     Optional[uint32]
	ComponentUnits, ComponentDataType      Optional[uint16]
	BreakPoints                            Optional[int64]
	XBreakPoints, YBreakPoints             []float64
	TableEntries                           Optional[int64]
	PixelValues, ParameterValues           []float64
	MappingCodes                           []Code
}

// Region spatial formats (PS3.3 C.8.5.5.1.1).
const (
	FormatNone     = 0
	Format2D       = 1
	FormatMMode    = 2
	FormatSpectral = 3
	FormatWaveform = 4
	FormatGraphics = 5
)

// Physical units of region axes (PS3.3 C.8.5.5.1.15).
const (
	UnitNone    = 0
	UnitPercent = 1
	UnitDecibel = 2
	UnitCM      = 3
	UnitSecond  = 4
	UnitHertz   = 5
	UnitDBPerS  = 6
	UnitCMPerS  = 7
	UnitCM2     = 8
	UnitCM2PerS = 9
	UnitCM3     = 10
	UnitCM3PerS = 11
	UnitDegree  = 12
)
