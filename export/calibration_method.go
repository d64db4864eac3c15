package export

// calibrationMethod says in plain words how a check of devices comes to what it
// says. Whoever changes a rule of the program changes it here too.
func calibrationMethod() []Section {
	return []Section{
		{Title: "What a device is", Paragraphs: []string{
			"Pictures with the same Manufacturer (0008,0070), Manufacturer's Model Name (0008,1090) and Device Serial Number (0018,1000) are of one device. Pictures of other modalities than ultrasound count only where they have ultrasound regions. Where the files give no serial number, all units of a model are one row, and nothing can be said of any one of them.",
			"Software Versions (0018,1020) and Transducer Data (0018,5010) do not part devices: transducers are looked at one by one, and software versions are marked where they change with the scale.",
		}},
		{Title: "The scale of a picture", Paragraphs: []string{
			"Each picture has one scale: that of its 2D region that shows most depth (Physical Delta X and Y, PS3.3 C.8.5.5.1.15 to .17), or Pixel Spacing where it has no region. Depth shown = rows of the region × mm per pixel. Depth stated = Depth of Scan Field (0018,5050). A region that begins deeper than its skin line by more than a twentieth of what it shows is an enlarged part, and not judged.",
			"Scales are compared as ratios. Two scales are one where they differ by no more than half a unit of the last printed place of each, and half a pixel of each region's height: digits and whole pixels explain that much. The last place is that of the longest number of the same route and software, up to six significant digits; beyond, it is the step of single precision. Digits are never taken to explain more than 1 % between two scales.",
		}},
		{Title: "Settings", Paragraphs: []string{
			"A setting is transducer, size of picture, size of region, stated depth, exam as the header names it, and kind of data. It must have one scale. From five pictures on (common practice, no source) the scale that most pictures agree on is found, and others are outliers where their modified z, 0.6745 · (x − median) ÷ MAD, is above 3.5 (Iglewicz and Hoaglin 1993). Where more than half of the pictures have the very same scale, MAD is 0, and (x − median) ÷ (1.253314 · mean absolute deviation) stands in for it. Others that are too many to be outliers are a second scale.",
			"A second scale that is 1 % or more off contradicts the first; less is for a look, and so is a single picture, or where the header does not tell enlarged parts. 1 % is common practice; action levels for lengths are 1.5 % along the beam and 2 % across (AAPM TG-1, Goodsitt 1998, Med Phys 25:1385, second hand).",
		}},
		{Title: "Depth", Paragraphs: []string{
			"Rows of the region × mm per pixel must follow the stated depth. A line is fitted by least squares; its slope is 1, or a little more where regions have a margin around the picture. In one layout (size of picture and region) the median of the slopes between all pairs of pictures (Theil 1950, Sen 1968) must lie between 0.95 and 1.2 (the tolerances of the finding scan-depth-disagrees), whole millimetres of depth considered, else the scale does not follow the depth; this needs three depths over 10 mm. Pictures whose multiple of the stated depth differs from that of their layout by more than 1 %, the half millimetre in which depth is stated and half a pixel, with a modified z above 3.5, are outliers.",
		}},
		{Title: "Pixel shape", Paragraphs: []string{
			"mm per pixel across ÷ down must be one value in a layout. From five pictures on, those that differ from most by more than 1 % and half a pixel contradict the others; a single one is for a look. This needs no stated depth.",
		}},
		{Title: "Time", Paragraphs: []string{
			"From ten pictures of stated depth on, the logarithm of the scale is followed over time, each setting about a level of its own: a step (the best of all places with five pictures on both sides) and a drift (one slope for all settings), by least squares; the one that leaves less is taken. Chance is below 0.001, by Student's t, for the step times the number of places tried (Bonferroni; Hawkins 1977, J Am Stat Assoc 72:180, from memory). Changes smaller than twice what digits and pixels explain are none. 1 % and more contradicts itself.",
			"Where all sizes and regions became others on one day, the depth shown at the same stated depth is compared instead; another margin may explain that, so it is for a look only. Where at the same time (within 14 days) two devices each took regions and scales that the other had before, they were exchanged.",
			"Pictures without a stated depth are compared with each other in one way only: where on one day all scales of a layout become new, three or more, and each is the same multiple of an earlier one (by at most 15 %; common practice, no source), that is for a look.",
		}},
		{Title: "Export routes", Paragraphs: []string{
			"Routes are told apart by Transfer Syntax, Lossy Image Compression, Image Type and Derivation Description, Implementation Class UID and Version Name (0002,0012 and 0002,0013), Source Application Entity Title (0002,0016), and the size of the picture. Route 1 is that of most pictures which are not derived.",
			"Where a route's pictures are larger or smaller by one factor on both axes, and region and scale are the same (five pictures or more), the scale is not that of the picture. So it is where the depth shown at the same stated depth differs by that very factor: the region was resized and the scale was not, or the scale and not the region. Such routes are left out of all that follows.",
		}},
		{Title: "Devices of one model", Paragraphs: []string{
			"Where three devices or more of a model have the same settings, one whose scale is more than 1 % off their median is for a look. A change over time, of which it was told, is taken out before.",
		}},
		{Title: "Findings", Paragraphs: []string{
			"The sheet Findings holds those that speak of scale, timing and the history of pictures, from one file each. An audit shows the same ones, and others. The column Study is the place of the study in the order of dates, as in an audit of the same files.",
		}},
		{Title: "The ruler in the picture (only with --pixels)", Paragraphs: rulerMethod()},
		timesMethod(),
		{Title: "Test object", Paragraphs: []string{
			"Studies are scans of the test object where its file names their patient id, their UID, or words of their descriptions; nothing else makes them one. Lengths belong to a target by their measure or label; they are rebuilt from the caliper, else taken as reported. Values of suspect calibrations are not used. One caliper that was stored in two places counts once.",
			"A scanner shows an echo from the true depth d at d × assumed speed ÷ speed of the material: its time of flight is 2 · d ÷ speed. So along the beam corrected = measured × speed of the material ÷ assumed speed, the speed being that of the day's temperature. Across the beam nothing is corrected: in a linear array the pitch of the elements sets the distance; of sector and curved arrays what lies aside moves with its depth, which is not corrected and said. Error = corrected − true distance.",
			"Bias = mean of the errors of the tests, each counting once, ± t · s ÷ √n. Repeatability = standard deviation of repeats within a test, over all tests, its interval by χ² (Bland and Altman 1996). U is for 95 % with the degrees of freedom of Welch and Satterthwaite (JCGM 100:2008 G.4), from: the spread of the tests, for the newest test that of its repeats, never less than the step of one value (F.2.2.1); the true distance; along the beam the speed of sound.",
			"pass: |error| + U ≤ tolerance. fail: |error| − U > tolerance. In between it cannot be told. Common practice, no source. Without a tolerance of its own a target has the action level of AAPM Ultrasound Task Group 1: 1.5 mm or 1.5 % along the beam, 2 mm or 2 % across it, the larger one (Goodsitt 1998, Med Phys 25:1385; figures second-hand).",
			"Charts: individuals with mean ± 3 · mean moving range ÷ 1.128 of the baseline (NIST/SEMATECH e-Handbook 6.3.2.2), no moving range over a missed test; exponentially weighted moving average z = 0.3 · error + 0.7 · z before, from the mean of the baseline on, with ± 3 · σ · √(0.3 ÷ 1.7) (6.3.2.4), σ from the same moving range. At least five tests make limits. A steady device gives false signals: see the overview.",
		}},
		{Title: "Acoustic output", Paragraphs: []string{
			"Mechanical and thermal indices are those of the header (0018,5022 to 5029); they are not computed or inferred. The exam is told by a label, else Body Part Examined, the anatomic region, the view, or protocol name and descriptions; images of which none of them tells it are counted without a limit. An index that is negative, or above 4 (MI) or 12 (thermal), is no reading and in no count but that of images set aside. Above is strictly above. Time is that of clips with frame timing; stills have none, and exposure times are not archived. Every row names the source of its limit, and whether it was seen or is from memory.",
			"An archive is a sample of what was scanned. A value above a recommendation says nothing of harm, one below nothing of safety.",
		}},
		{Title: "Sources", Paragraphs: []string{
			"PS3.3 is part 3 of the DICOM standard (information object definitions). JCGM 100:2008 is the Guide to the expression of uncertainty in measurement. Iglewicz and Hoaglin 1993, How to detect and handle outliers. The line is held to NIST's reference data set Norris in the tests.",
		}},
	}
}
