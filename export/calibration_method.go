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
		{Title: "Sources", Paragraphs: []string{
			"PS3.3 is part 3 of the DICOM standard (information object definitions). Iglewicz and Hoaglin 1993, How to detect and handle outliers. The line is held to NIST's reference data set Norris in the tests.",
		}},
	}
}
