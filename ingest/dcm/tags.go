package dcm

// The elements that ingest reads, with the value representation that the data
// dictionary (PS3.6 chapter 6; checked against python3-pydicom's copy by
// scripts/oracle) gives them. Everything else in a file is walked over.
const (
	MediaStorageSOPClassUID             Tag = 0x00020002
	MediaStorageSOPInstanceUID          Tag = 0x00020003
	TransferSyntaxUID                   Tag = 0x00020010
	ImplementationClassUID              Tag = 0x00020012
	ImplementationVersionName           Tag = 0x00020013
	SourceApplicationEntityTitle        Tag = 0x00020016
	DirectoryRecordSequence             Tag = 0x00041220
	RecordInUseFlag                     Tag = 0x00041410
	DirectoryRecordType                 Tag = 0x00041430
	ReferencedFileID                    Tag = 0x00041500
	ReferencedSOPClassUIDInFile         Tag = 0x00041510
	ReferencedSOPInstanceUIDInFile      Tag = 0x00041511
	SpecificCharacterSet                Tag = 0x00080005
	ImageType                           Tag = 0x00080008
	InstanceCreationDate                Tag = 0x00080012
	InstanceCreationTime                Tag = 0x00080013
	SOPClassUID                         Tag = 0x00080016
	SOPInstanceUID                      Tag = 0x00080018
	StudyDate                           Tag = 0x00080020
	SeriesDate                          Tag = 0x00080021
	AcquisitionDate                     Tag = 0x00080022
	ContentDate                         Tag = 0x00080023
	AcquisitionDateTime                 Tag = 0x0008002A
	StudyTime                           Tag = 0x00080030
	SeriesTime                          Tag = 0x00080031
	AcquisitionTime                     Tag = 0x00080032
	ContentTime                         Tag = 0x00080033
	AccessionNumber                     Tag = 0x00080050
	Modality                            Tag = 0x00080060
	Manufacturer                        Tag = 0x00080070
	InstitutionName                     Tag = 0x00080080
	CodeValue                           Tag = 0x00080100
	CodingSchemeDesignator              Tag = 0x00080102
	CodingSchemeVersion                 Tag = 0x00080103
	CodeMeaning                         Tag = 0x00080104
	MappingResource                     Tag = 0x00080105
	LongCodeValue                       Tag = 0x00080119
	URNCodeValue                        Tag = 0x00080120
	TimezoneOffsetFromUTC               Tag = 0x00080201
	StationName                         Tag = 0x00081010
	StudyDescription                    Tag = 0x00081030
	ProcedureCodeSequence               Tag = 0x00081032
	SeriesDescription                   Tag = 0x0008103E
	InstitutionalDepartmentName         Tag = 0x00081040
	OperatorsName                       Tag = 0x00081070
	ManufacturerModelName               Tag = 0x00081090
	ReferencedSeriesSequence            Tag = 0x00081115
	ReferencedImageSequence             Tag = 0x00081140
	ReferencedSOPClassUID               Tag = 0x00081150
	ReferencedSOPInstanceUID            Tag = 0x00081155
	ReferencedFrameNumber               Tag = 0x00081160
	ReferencedSOPSequence               Tag = 0x00081199
	DerivationDescription               Tag = 0x00082111
	StageName                           Tag = 0x00082120
	StageNumber                         Tag = 0x00082122
	NumberOfStages                      Tag = 0x00082124
	ViewName                            Tag = 0x00082127
	ViewNumber                          Tag = 0x00082128
	NumberOfEventTimers                 Tag = 0x00082129
	NumberOfViewsInStage                Tag = 0x0008212A
	EventElapsedTimes                   Tag = 0x00082130
	EventTimerNames                     Tag = 0x00082132
	StartTrim                           Tag = 0x00082142
	StopTrim                            Tag = 0x00082143
	RecommendedDisplayFrameRate         Tag = 0x00082144
	AnatomicRegionSequence              Tag = 0x00082218
	PrimaryAnatomicStructureSequence    Tag = 0x00082228
	PatientName                         Tag = 0x00100010
	PatientID                           Tag = 0x00100020
	PatientBirthDate                    Tag = 0x00100030
	PatientBirthTime                    Tag = 0x00100032
	PatientSex                          Tag = 0x00100040
	PatientAge                          Tag = 0x00101010
	PatientSize                         Tag = 0x00101020
	PatientWeight                       Tag = 0x00101030
	BodyPartExamined                    Tag = 0x00180015
	CineRate                            Tag = 0x00180040
	EffectiveDuration                   Tag = 0x00180072
	DeviceSerialNumber                  Tag = 0x00181000
	SoftwareVersions                    Tag = 0x00181020
	ProtocolName                        Tag = 0x00181030
	TriggerTime                         Tag = 0x00181060
	NominalInterval                     Tag = 0x00181062
	FrameTime                           Tag = 0x00181063
	FrameTimeVector                     Tag = 0x00181065
	FrameDelay                          Tag = 0x00181066
	ImageTriggerDelay                   Tag = 0x00181067
	LowRRValue                          Tag = 0x00181081
	HighRRValue                         Tag = 0x00181082
	HeartRate                           Tag = 0x00181088
	ImagerPixelSpacing                  Tag = 0x00181164
	ActualFrameDuration                 Tag = 0x00181242
	PreferredPlaybackSequencing         Tag = 0x00181244
	AcquisitionTimeSynchronized         Tag = 0x00181800
	NominalScannedPixelSpacing          Tag = 0x00182010
	OutputPower                         Tag = 0x00185000
	TransducerData                      Tag = 0x00185010
	FocusDepth                          Tag = 0x00185012
	ProcessingFunction                  Tag = 0x00185020
	MechanicalIndex                     Tag = 0x00185022
	BoneThermalIndex                    Tag = 0x00185024
	CranialThermalIndex                 Tag = 0x00185026
	SoftTissueThermalIndex              Tag = 0x00185027
	SoftTissueFocusThermalIndex         Tag = 0x00185028
	SoftTissueSurfaceThermalIndex       Tag = 0x00185029
	DepthOfScanField                    Tag = 0x00185050
	SequenceOfUltrasoundRegions         Tag = 0x00186011
	RegionSpatialFormat                 Tag = 0x00186012
	RegionDataType                      Tag = 0x00186014
	RegionFlags                         Tag = 0x00186016
	RegionLocationMinX0                 Tag = 0x00186018
	RegionLocationMinY0                 Tag = 0x0018601A
	RegionLocationMaxX1                 Tag = 0x0018601C
	RegionLocationMaxY1                 Tag = 0x0018601E
	ReferencePixelX0                    Tag = 0x00186020
	ReferencePixelY0                    Tag = 0x00186022
	PhysicalUnitsXDirection             Tag = 0x00186024
	PhysicalUnitsYDirection             Tag = 0x00186026
	ReferencePixelPhysicalValueX        Tag = 0x00186028
	ReferencePixelPhysicalValueY        Tag = 0x0018602A
	PhysicalDeltaX                      Tag = 0x0018602C
	PhysicalDeltaY                      Tag = 0x0018602E
	TransducerFrequency                 Tag = 0x00186030
	TransducerType                      Tag = 0x00186031
	PulseRepetitionFrequency            Tag = 0x00186032
	DopplerCorrectionAngle              Tag = 0x00186034
	SteeringAngle                       Tag = 0x00186036
	DopplerSampleVolumeXPositionRetired Tag = 0x00186038
	DopplerSampleVolumeXPosition        Tag = 0x00186039
	DopplerSampleVolumeYPositionRetired Tag = 0x0018603A
	DopplerSampleVolumeYPosition        Tag = 0x0018603B
	TMLinePositionX0Retired             Tag = 0x0018603C
	TMLinePositionX0                    Tag = 0x0018603D
	TMLinePositionY0Retired             Tag = 0x0018603E
	TMLinePositionY0                    Tag = 0x0018603F
	TMLinePositionX1Retired             Tag = 0x00186040
	TMLinePositionX1                    Tag = 0x00186041
	TMLinePositionY1Retired             Tag = 0x00186042
	TMLinePositionY1                    Tag = 0x00186043
	PixelComponentOrganization          Tag = 0x00186044
	PixelComponentMask                  Tag = 0x00186046
	PixelComponentRangeStart            Tag = 0x00186048
	PixelComponentRangeStop             Tag = 0x0018604A
	PixelComponentPhysicalUnits         Tag = 0x0018604C
	PixelComponentDataType              Tag = 0x0018604E
	NumberOfTableBreakPoints            Tag = 0x00186050
	TableOfXBreakPoints                 Tag = 0x00186052
	TableOfYBreakPoints                 Tag = 0x00186054
	NumberOfTableEntries                Tag = 0x00186056
	TableOfPixelValues                  Tag = 0x00186058
	TableOfParameterValues              Tag = 0x0018605A
	RWaveTimeVector                     Tag = 0x00186060
	StudyInstanceUID                    Tag = 0x0020000D
	SeriesInstanceUID                   Tag = 0x0020000E
	StudyID                             Tag = 0x00200010
	SeriesNumber                        Tag = 0x00200011
	InstanceNumber                      Tag = 0x00200013
	Laterality                          Tag = 0x00200060
	ImageLaterality                     Tag = 0x00200062
	SamplesPerPixel                     Tag = 0x00280002
	PhotometricInterpretation           Tag = 0x00280004
	NumberOfFrames                      Tag = 0x00280008
	FrameIncrementPointer               Tag = 0x00280009
	Rows                                Tag = 0x00280010
	Columns                             Tag = 0x00280011
	UltrasoundColorDataPresent          Tag = 0x00280014
	PixelSpacing                        Tag = 0x00280030
	PixelAspectRatio                    Tag = 0x00280034
	BitsAllocated                       Tag = 0x00280100
	BurnedInAnnotation                  Tag = 0x00280301
	RecognizableVisualFeatures          Tag = 0x00280302
	PixelSpacingCalibrationType         Tag = 0x00280A02
	PixelSpacingCalibrationDescription  Tag = 0x00280A04
	LossyImageCompression               Tag = 0x00282110
	LossyImageCompressionRatio          Tag = 0x00282112
	LossyImageCompressionMethod         Tag = 0x00282114
	RequestedProcedureDescription       Tag = 0x00321060
	StageCodeSequence                   Tag = 0x0040000A
	PerformedProcedureStepDescription   Tag = 0x00400254
	PerformedProtocolCodeSequence       Tag = 0x00400260
	RequestAttributesSequence           Tag = 0x00400275
	MeasurementUnitsCodeSequence        Tag = 0x004008EA
	PixelValueMappingCodeSequence       Tag = 0x00409098
	RelationshipType                    Tag = 0x0040A010
	VerificationDateTime                Tag = 0x0040A030
	ObservationDateTime                 Tag = 0x0040A032
	ValueType                           Tag = 0x0040A040
	ConceptNameCodeSequence             Tag = 0x0040A043
	ContinuityOfContent                 Tag = 0x0040A050
	VerifyingObserverSequence           Tag = 0x0040A073
	VerifyingObserverName               Tag = 0x0040A075
	PersonName                          Tag = 0x0040A123
	TextValue                           Tag = 0x0040A160
	FloatingPointValue                  Tag = 0x0040A161
	RationalNumeratorValue              Tag = 0x0040A162
	RationalDenominatorValue            Tag = 0x0040A163
	ConceptCodeSequence                 Tag = 0x0040A168
	MeasuredValueSequence               Tag = 0x0040A300
	NumericValueQualifierCodeSequence   Tag = 0x0040A301
	NumericValue                        Tag = 0x0040A30A
	CompletionFlag                      Tag = 0x0040A491
	VerificationFlag                    Tag = 0x0040A493
	PreliminaryFlag                     Tag = 0x0040A496
	ContentTemplateSequence             Tag = 0x0040A504
	ContentSequence                     Tag = 0x0040A730
	TemplateIdentifier                  Tag = 0x0040DB00
	ReferencedContentItemIdentifier     Tag = 0x0040DB73
	ViewCodeSequence                    Tag = 0x00540220
	ViewModifierCodeSequence            Tag = 0x00540222
	GraphicAnnotationSequence           Tag = 0x00700001
	GraphicLayer                        Tag = 0x00700002
	BoundingBoxAnnotationUnits          Tag = 0x00700003
	AnchorPointAnnotationUnits          Tag = 0x00700004
	GraphicAnnotationUnits              Tag = 0x00700005
	UnformattedTextValue                Tag = 0x00700006
	TextObjectSequence                  Tag = 0x00700008
	GraphicObjectSequence               Tag = 0x00700009
	BoundingBoxTopLeftHandCorner        Tag = 0x00700010
	BoundingBoxBottomRightHandCorner    Tag = 0x00700011
	AnchorPoint                         Tag = 0x00700014
	NumberOfGraphicPoints               Tag = 0x00700021
	GraphicData                         Tag = 0x00700022
	GraphicType                         Tag = 0x00700023
	GraphicFilled                       Tag = 0x00700024
	ImageHorizontalFlip                 Tag = 0x00700041
	ImageRotation                       Tag = 0x00700042
	DisplayedAreaTopLeftHandCorner      Tag = 0x00700052
	DisplayedAreaBottomRightHandCorner  Tag = 0x00700053
	DisplayedAreaSelectionSequence      Tag = 0x0070005A
	GraphicLayerSequence                Tag = 0x00700060
	GraphicLayerOrder                   Tag = 0x00700062
	GraphicLayerDescription             Tag = 0x00700068
	ContentLabel                        Tag = 0x00700080
	PresentationCreationDate            Tag = 0x00700082
	PresentationCreationTime            Tag = 0x00700083
	ContentCreatorName                  Tag = 0x00700084
	PresentationPixelAspectRatio        Tag = 0x00700102
	CompoundGraphicSequence             Tag = 0x00700209
	CompoundGraphicInstanceID           Tag = 0x00700226
	CompoundGraphicUnits                Tag = 0x00700282
	CompoundGraphicType                 Tag = 0x00700294
	GraphicGroupID                      Tag = 0x00700295
	OverlayDescription                  Tag = 0x60000022
	OverlayLabel                        Tag = 0x60001500
)

// wanted maps each element that is read to its value representation.
var wanted = map[Tag]VR{
	MediaStorageSOPClassUID:             vrUI,
	MediaStorageSOPInstanceUID:          vrUI,
	TransferSyntaxUID:                   vrUI,
	ImplementationClassUID:              vrUI,
	ImplementationVersionName:           vrSH,
	SourceApplicationEntityTitle:        vrAE,
	DirectoryRecordSequence:             vrSQ,
	RecordInUseFlag:                     vrUS,
	DirectoryRecordType:                 vrCS,
	ReferencedFileID:                    vrCS,
	ReferencedSOPClassUIDInFile:         vrUI,
	ReferencedSOPInstanceUIDInFile:      vrUI,
	SpecificCharacterSet:                vrCS,
	ImageType:                           vrCS,
	InstanceCreationDate:                vrDA,
	InstanceCreationTime:                vrTM,
	SOPClassUID:                         vrUI,
	SOPInstanceUID:                      vrUI,
	StudyDate:                           vrDA,
	SeriesDate:                          vrDA,
	AcquisitionDate:                     vrDA,
	ContentDate:                         vrDA,
	AcquisitionDateTime:                 vrDT,
	StudyTime:                           vrTM,
	SeriesTime:                          vrTM,
	AcquisitionTime:                     vrTM,
	ContentTime:                         vrTM,
	AccessionNumber:                     vrSH,
	Modality:                            vrCS,
	Manufacturer:                        vrLO,
	InstitutionName:                     vrLO,
	CodeValue:                           vrSH,
	CodingSchemeDesignator:              vrSH,
	CodingSchemeVersion:                 vrSH,
	CodeMeaning:                         vrLO,
	MappingResource:                     vrCS,
	LongCodeValue:                       vrUC,
	URNCodeValue:                        vrUR,
	TimezoneOffsetFromUTC:               vrSH,
	StationName:                         vrSH,
	StudyDescription:                    vrLO,
	ProcedureCodeSequence:               vrSQ,
	SeriesDescription:                   vrLO,
	InstitutionalDepartmentName:         vrLO,
	OperatorsName:                       vrPN,
	ManufacturerModelName:               vrLO,
	ReferencedSeriesSequence:            vrSQ,
	ReferencedImageSequence:             vrSQ,
	ReferencedSOPClassUID:               vrUI,
	ReferencedSOPInstanceUID:            vrUI,
	ReferencedFrameNumber:               vrIS,
	ReferencedSOPSequence:               vrSQ,
	DerivationDescription:               vrST,
	StageName:                           vrSH,
	StageNumber:                         vrIS,
	NumberOfStages:                      vrIS,
	ViewName:                            vrSH,
	ViewNumber:                          vrIS,
	NumberOfEventTimers:                 vrIS,
	NumberOfViewsInStage:                vrIS,
	EventElapsedTimes:                   vrDS,
	EventTimerNames:                     vrLO,
	StartTrim:                           vrIS,
	StopTrim:                            vrIS,
	RecommendedDisplayFrameRate:         vrIS,
	AnatomicRegionSequence:              vrSQ,
	PrimaryAnatomicStructureSequence:    vrSQ,
	PatientName:                         vrPN,
	PatientID:                           vrLO,
	PatientBirthDate:                    vrDA,
	PatientBirthTime:                    vrTM,
	PatientSex:                          vrCS,
	PatientAge:                          vrAS,
	PatientSize:                         vrDS,
	PatientWeight:                       vrDS,
	BodyPartExamined:                    vrCS,
	CineRate:                            vrIS,
	EffectiveDuration:                   vrDS,
	DeviceSerialNumber:                  vrLO,
	SoftwareVersions:                    vrLO,
	ProtocolName:                        vrLO,
	TriggerTime:                         vrDS,
	NominalInterval:                     vrIS,
	FrameTime:                           vrDS,
	FrameTimeVector:                     vrDS,
	FrameDelay:                          vrDS,
	ImageTriggerDelay:                   vrDS,
	LowRRValue:                          vrIS,
	HighRRValue:                         vrIS,
	HeartRate:                           vrIS,
	ImagerPixelSpacing:                  vrDS,
	ActualFrameDuration:                 vrIS,
	PreferredPlaybackSequencing:         vrUS,
	AcquisitionTimeSynchronized:         vrCS,
	NominalScannedPixelSpacing:          vrDS,
	OutputPower:                         vrSH,
	TransducerData:                      vrLO,
	FocusDepth:                          vrDS,
	ProcessingFunction:                  vrLO,
	MechanicalIndex:                     vrDS,
	BoneThermalIndex:                    vrDS,
	CranialThermalIndex:                 vrDS,
	SoftTissueThermalIndex:              vrDS,
	SoftTissueFocusThermalIndex:         vrDS,
	SoftTissueSurfaceThermalIndex:       vrDS,
	DepthOfScanField:                    vrIS,
	SequenceOfUltrasoundRegions:         vrSQ,
	RegionSpatialFormat:                 vrUS,
	RegionDataType:                      vrUS,
	RegionFlags:                         vrUL,
	RegionLocationMinX0:                 vrUL,
	RegionLocationMinY0:                 vrUL,
	RegionLocationMaxX1:                 vrUL,
	RegionLocationMaxY1:                 vrUL,
	ReferencePixelX0:                    vrSL,
	ReferencePixelY0:                    vrSL,
	PhysicalUnitsXDirection:             vrUS,
	PhysicalUnitsYDirection:             vrUS,
	ReferencePixelPhysicalValueX:        vrFD,
	ReferencePixelPhysicalValueY:        vrFD,
	PhysicalDeltaX:                      vrFD,
	PhysicalDeltaY:                      vrFD,
	TransducerFrequency:                 vrUL,
	TransducerType:                      vrCS,
	PulseRepetitionFrequency:            vrUL,
	DopplerCorrectionAngle:              vrFD,
	SteeringAngle:                       vrFD,
	DopplerSampleVolumeXPositionRetired: vrUL,
	DopplerSampleVolumeXPosition:        vrSL,
	DopplerSampleVolumeYPositionRetired: vrUL,
	DopplerSampleVolumeYPosition:        vrSL,
	TMLinePositionX0Retired:             vrUL,
	TMLinePositionX0:                    vrSL,
	TMLinePositionY0Retired:             vrUL,
	TMLinePositionY0:                    vrSL,
	TMLinePositionX1Retired:             vrUL,
	TMLinePositionX1:                    vrSL,
	TMLinePositionY1Retired:             vrUL,
	TMLinePositionY1:                    vrSL,
	PixelComponentOrganization:          vrUS,
	PixelComponentMask:                  vrUL,
	PixelComponentRangeStart:            vrUL,
	PixelComponentRangeStop:             vrUL,
	PixelComponentPhysicalUnits:         vrUS,
	PixelComponentDataType:              vrUS,
	NumberOfTableBreakPoints:            vrUL,
	TableOfXBreakPoints:                 vrUL,
	TableOfYBreakPoints:                 vrFD,
	NumberOfTableEntries:                vrUL,
	TableOfPixelValues:                  vrUL,
	TableOfParameterValues:              vrFL,
	RWaveTimeVector:                     vrFL,
	StudyInstanceUID:                    vrUI,
	SeriesInstanceUID:                   vrUI,
	StudyID:                             vrSH,
	SeriesNumber:                        vrIS,
	InstanceNumber:                      vrIS,
	Laterality:                          vrCS,
	ImageLaterality:                     vrCS,
	SamplesPerPixel:                     vrUS,
	PhotometricInterpretation:           vrCS,
	NumberOfFrames:                      vrIS,
	FrameIncrementPointer:               vrAT,
	Rows:                                vrUS,
	Columns:                             vrUS,
	UltrasoundColorDataPresent:          vrUS,
	PixelSpacing:                        vrDS,
	PixelAspectRatio:                    vrIS,
	BitsAllocated:                       vrUS,
	BurnedInAnnotation:                  vrCS,
	RecognizableVisualFeatures:          vrCS,
	PixelSpacingCalibrationType:         vrCS,
	PixelSpacingCalibrationDescription:  vrLO,
	LossyImageCompression:               vrCS,
	LossyImageCompressionRatio:          vrDS,
	LossyImageCompressionMethod:         vrCS,
	RequestedProcedureDescription:       vrLO,
	StageCodeSequence:                   vrSQ,
	PerformedProcedureStepDescription:   vrLO,
	PerformedProtocolCodeSequence:       vrSQ,
	RequestAttributesSequence:           vrSQ,
	MeasurementUnitsCodeSequence:        vrSQ,
	PixelValueMappingCodeSequence:       vrSQ,
	RelationshipType:                    vrCS,
	VerificationDateTime:                vrDT,
	ObservationDateTime:                 vrDT,
	ValueType:                           vrCS,
	ConceptNameCodeSequence:             vrSQ,
	ContinuityOfContent:                 vrCS,
	VerifyingObserverSequence:           vrSQ,
	VerifyingObserverName:               vrPN,
	PersonName:                          vrPN,
	TextValue:                           vrUT,
	FloatingPointValue:                  vrFD,
	RationalNumeratorValue:              vrSL,
	RationalDenominatorValue:            vrUL,
	ConceptCodeSequence:                 vrSQ,
	MeasuredValueSequence:               vrSQ,
	NumericValueQualifierCodeSequence:   vrSQ,
	NumericValue:                        vrDS,
	CompletionFlag:                      vrCS,
	VerificationFlag:                    vrCS,
	PreliminaryFlag:                     vrCS,
	ContentTemplateSequence:             vrSQ,
	ContentSequence:                     vrSQ,
	TemplateIdentifier:                  vrCS,
	ReferencedContentItemIdentifier:     vrUL,
	ViewCodeSequence:                    vrSQ,
	ViewModifierCodeSequence:            vrSQ,
	GraphicAnnotationSequence:           vrSQ,
	GraphicLayer:                        vrCS,
	BoundingBoxAnnotationUnits:          vrCS,
	AnchorPointAnnotationUnits:          vrCS,
	GraphicAnnotationUnits:              vrCS,
	UnformattedTextValue:                vrST,
	TextObjectSequence:                  vrSQ,
	GraphicObjectSequence:               vrSQ,
	BoundingBoxTopLeftHandCorner:        vrFL,
	BoundingBoxBottomRightHandCorner:    vrFL,
	AnchorPoint:                         vrFL,
	NumberOfGraphicPoints:               vrUS,
	GraphicData:                         vrFL,
	GraphicType:                         vrCS,
	GraphicFilled:                       vrCS,
	ImageHorizontalFlip:                 vrCS,
	ImageRotation:                       vrUS,
	DisplayedAreaTopLeftHandCorner:      vrSL,
	DisplayedAreaBottomRightHandCorner:  vrSL,
	DisplayedAreaSelectionSequence:      vrSQ,
	GraphicLayerSequence:                vrSQ,
	GraphicLayerOrder:                   vrIS,
	GraphicLayerDescription:             vrLO,
	ContentLabel:                        vrCS,
	PresentationCreationDate:            vrDA,
	PresentationCreationTime:            vrTM,
	ContentCreatorName:                  vrPN,
	PresentationPixelAspectRatio:        vrIS,
	CompoundGraphicSequence:             vrSQ,
	CompoundGraphicInstanceID:           vrUL,
	CompoundGraphicUnits:                vrCS,
	CompoundGraphicType:                 vrCS,
	GraphicGroupID:                      vrUL,
	OverlayDescription:                  vrLO,
	OverlayLabel:                        vrLO,
}

var (
	vrAS = VR{'A', 'S'}
	vrAT = VR{'A', 'T'}
	vrAE = VR{'A', 'E'}
	vrCS = VR{'C', 'S'}
	vrDA = VR{'D', 'A'}
	vrDS = VR{'D', 'S'}
	vrDT = VR{'D', 'T'}
	vrFD = VR{'F', 'D'}
	vrFL = VR{'F', 'L'}
	vrIS = VR{'I', 'S'}
	vrLO = VR{'L', 'O'}
	vrOB = VR{'O', 'B'}
	vrOW = VR{'O', 'W'}
	vrPN = VR{'P', 'N'}
	vrSH = VR{'S', 'H'}
	vrSL = VR{'S', 'L'}
	vrSQ = VR{'S', 'Q'}
	vrST = VR{'S', 'T'}
	vrTM = VR{'T', 'M'}
	vrUC = VR{'U', 'C'}
	vrUI = VR{'U', 'I'}
	vrUL = VR{'U', 'L'}
	vrUN = VR{'U', 'N'}
	vrUR = VR{'U', 'R'}
	vrUS = VR{'U', 'S'}
	vrUT = VR{'U', 'T'}
)
