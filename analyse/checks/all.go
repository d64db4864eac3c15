// Package checks holds the questions that an audit asks of every study, one value
// and one file each, and the ids of the findings that other stages raise.
//
// A check reads the study and returns findings; it does no input or output, has no
// clock and no globals, and cannot fail: what cannot be judged is a status.
package checks

import "leadline/analyse"

// All lists every finding id that can occur, in the order of the README.
//
// Left out with a reason: a finding about a region without priority flag (it
// concerns pixel values only).
var All = []analyse.Check{
	FileUnreadable,
	InstanceConflict,
	InstanceDuplicate,
	DirectoryFileMissing,
	DirectoryFileUnlisted,
	DirectoryRecordContradicts,
	ProtocolUnused,
	StudyNotJudged,
	StudyMixedPatients,
	WeightImplausible,
	BurnedInMeasurements,
	BurnedInUnknown,
	SecondaryCapture,
	LossyHistory,
	PixelDataCut,
	HeaderValueUnreadable,
	RegionOutsideImage,
	RegionBoundExclusive,
	RegionBoundsEmpty,
	RegionIncomplete,
	RegionUnitUnfit,
	RegionTimeBackward,
	RegionSizeImplausible,
	ScanDepthDisagrees,
	StripDepthDisagrees,
	StripWidthImplausible,
	PixelShapeUnexplained,
	ReferencePixelMisplaced,
	TraceReferenceMisplaced,
	RegionSequenceLost,
	SpectralSign,
	DopplerScaleImplausible,
	DopplerScaleFlag,
	SpacingDisagrees,
	RegionsDisagree,
	CalibrationMissing,
	FrameTimingMissing,
	FrameTimingContradicts,
	FrameTimeZero,
	MeasurementDiffers,
	CaliperOutsideImage,
	CaliperUncalibrated,
	CaliperAcrossRegions,
	CaliperAmbiguous,
	CaliperDegenerate,
	ImageNotFound,
	LabelImageNotFound,
	LabelContradicts,
	UnitDoesNotFit,
	ValueMissing,
	ZeroUnknown,
	ItemMissing,
	ItemPartial,
	ItemNotAssessable,
}
