package export

// method says in plain words how the numbers came about, for a clinician or a
// physicist who wants to check one by hand. It states the rules of the program;
// whoever changes one changes it here too.
func method() []Section {
	return []Section{
		{Title: "What a rebuilt value is", Paragraphs: []string{
			"A measurement in an archive is a number, and sometimes the pixel coordinates of the caliper it was taken from. Leadline computes the value again from these coordinates and the calibration in the same image, and compares it with the reported number.",
			"Calipers come from structured reports (spatial coordinates under a number), from presentation states (graphics with their text), and from a caliper table given by hand. A number without a caliper is kept as reported-only. Measurements that exist only as burned-in picture are named in a finding, not guessed.",
		}},
		{Title: "Coordinates", Paragraphs: []string{
			"Pixel coordinates are continuous: the outer corner of the top left pixel is (0, 0), its centre (0.5, 0.5); x runs to the right, y down (PS3.3 C.18.6, C.10.5). Region bounds and reference pixels are whole pixel indices: index i has its centre at i + 0.5 (PS3.3 C.8.5.5).",
		}},
		{Title: "Calibration", Paragraphs: []string{
			"In this order: the region that holds all points of the caliper (Sequence of Ultrasound Regions, PS3.3 C.8.5.5); where no calibrated region and no strip holds any of them, Pixel Spacing (row spacing first, then column spacing, in mm; PS3.3 10.7.1), which gives lengths, areas and angles; nothing. Which one served is on every row.",
			"Physical value at x = Reference Pixel Physical Value X + (x − 0.5 − (Region Min X0 + Reference Pixel X0)) × Physical Delta X; y alike (PS3.3 C.8.5.5). Signs are kept as the file gives them.",
			"All points of a caliper must lie in one region whose units fit the quantity. Where several such regions agree, the first serves, a sound one before a suspect one; where they differ, the value is ambiguous and not rebuilt. The flag for priority among regions is about pixel values and is not used.",
			"A region without a reference pixel has no zero: distances, durations and differences are rebuilt, depths and velocities at a point are not.",
			"A region and a Pixel Spacing that disagree by more than 1 % are a finding; they are never averaged.",
			"Bounds that lie outside the image by more than one pixel show that the image was resampled after it was calibrated. The calibration is applied as written, and every value from it is marked suspect.",
			"A spectral region with a positive Physical Delta Y contradicts the standard: the magnitude stands, the sign is a finding.",
		}},
		{Title: "Formulas, from the physical coordinates of the points", Paragraphs: []string{
			"Distance = √(Δx² + Δy²). Length of a polyline = sum of the distances of its points. Angle of three points = between the legs to the first and the last, at the middle one, 0 to 180 degrees; of four points = between two lines, 0 to 90 degrees. All points are scaled before, each axis by its own scale.",
			"Polygon: area = ½ · |Σ (xᵢ · yᵢ₊₁ − xᵢ₊₁ · yᵢ)|, perimeter = sum of its sides. Outlines that cross themselves, or whose points lie on one line, have no area. Ellipse from the half diameters p and q between the ends of its drawn axes: area = π · |p × q|, which is π · a · b with the semi-axes a and b; perimeter by Ramanujan's second approximation, π · (a + b) · (1 + 3h ÷ (10 + √(4 − 3h))) with h = ((a − b) ÷ (a + b))², good to 1e-9 up to an axis ratio of 2 and to 4e-4 at most. Circle of radius r: area = π · r², perimeter = 2 · π · r, diameter = 2 · r; where pixels are not square it is an ellipse in the body, and has no diameter.",
			"Traced envelope in a spectral region, points joined by straight lines: velocity-time integral = Σ ½ · (vᵢ + vᵢ₊₁) · (tᵢ₊₁ − tᵢ), peak = the velocity furthest from zero, mean = integral ÷ duration, mean gradient = 4 · v² (v in m/s) averaged over the duration. It needs the zero line; an outline must run back along it; a trace that turns back in time is refused.",
			"Volume of a cavity from its contour and its long axis: 20 round discs, V = π/4 · L/20 · Σ d². A contour without a long axis gives none.",
			"Volume of a cavity from two planes at right angles: 20 elliptic discs, V = π/4 · L/20 · Σ a · b, where each contour is cut along its own axis and L is the longer of both axes (Schiller 1989, Lang 2015, from memory). Both contours come from one report, from one table, or from presentation states, and from one observer; a number without contours of its own is held against the only pair of its report. Where the axes differ by more than 10 % the note says so (common practice, no source); nothing is refused by it. Several contours of one plane and fewer of the other are not put together.",
			"A strip that is written by sweeping has a gap in time where the newest column meets the oldest (PS3.3 C.8.5.5.1.16.7); no time is taken across it.",
			"In a strip (M-mode, spectral): duration = |Δx|, depth or velocity difference = |Δy|, slope or acceleration = Δy ÷ Δx, rate = n · 60 s ÷ |Δx|. No file says how many beats or breaths n a line spans: it is taken as one, or as the few (up to 5) by which the reported rate agrees, and the note says which. A line in a strip stands for both a duration and a difference; the reported unit or the measure decides, and where neither does, both are rebuilt, each in a row of its own.",
			"Interval between two frames of a clip (PS3.3 C.7.6.5): the sum of Frame Time Vector between them, or the number of frames from one to the other × Frame Time, whichever of the two Frame Increment Pointer names, the vector where it names both or none; then the other of the two; then the number of frames ÷ Cine Rate. A vector without one element for each frame, or with a negative one, is not used. Actual Frame Duration and Recommended Display Frame Rate are not used: the one is how long a frame took, the other a wish.",
			"Derived indices carry formula and published source on their row, in the sheet Indices. A missing input makes an index absent with its reason; it is never taken as zero.",
			"Values of one measure that were taken in pictures of different modes (2D, M-mode strip, spectral strip, trace) are of different methods: they are not averaged. An index takes all its inputs in one mode where one holds them all; of several the one that the catalogue names for the measure, else 2D before M-mode (Lopez 2010, from memory). The note says what was left out.",
		}},
		{Title: "Uncertainty", Paragraphs: []string{
			"Each coordinate is taken as a rectangular distribution of half-width 0.5 pixel, standard uncertainty u = 0.5 ÷ √3 = 0.289 pixel (JCGM 100:2008, 4.3.7): the step of a pixel, not how well a hand places a caliper. Where the protocol gives a placing error for the measure, that stands in its place, and the note says so.",
			"Where the protocol gives a tolerance of the calibration, it is taken as a rectangular distribution, u = tolerance ÷ √3. It is one error of length, one of time and one of velocity in all images that a device made of the study: it cancels in ratios and does not shrink in means of repeats.",
			"A frame is somewhere within its period T: an interval has u² = (T₁² + T₂²) ÷ 12 with the periods at both ends; Cine Rate is a whole number and adds its own rounding, 0.5 ÷ √3 frames a second.",
			"It is propagated through each formula by its first derivatives (JCGM 100:2008, 5.1 and 5.2); quantities that share an input are correlated. What is printed is the expanded uncertainty U = 2 · u (coverage factor k = 2, about 95 %).",
			"Calipers share a point where both its coordinates are exactly equal on the same image and the same frame, whoever set it: the lower end of the septum that is the upper end of the cavity, the peak and the mean of one trace, a second take from the same point. The error of such a point is one, and moves every value that was computed from it: an index has u² = Σ (Σ ∂f/∂xᵢ · uᵢ)², the inner sum over its inputs xᵢ with what one coordinate adds to each, with its sign, the outer sum over all coordinates, weights, roundings and scales. Intervals share a frame of a clip in the same way, and by Cine Rate its rounding. Points that are merely near, or on another image or frame, are independent. A caliper that was stored twice counts once; stored from its other end it is a take of its own that adds no certainty.",
			"Where the protocol gives two measures different placing errors and they share a point, that point was still placed once: its error moves each value by the size that its own measure has (correlation 1, covariance u₁ · u₂), so that each value keeps its own U. Values that are only reported have no points: beside rebuilt ones they count as independent.",
			"First derivatives are enough within 5 % of u, checked by Monte Carlo (JCGM 101:2008), for calipers of tens of pixels. They are not for distances of about a pixel, slopes over a few columns, angles near 0, 90 (between two lines) and 180 degrees, the peak of a trace with several points nearly as high, and ratios whose denominator is known to no better than about 15 %. Where a denominator is within its U of 0 the note of the index says so (JCGM 101:2008, 5.8, wants a formula that is nearly straight over the uncertainty of its inputs; from memory. The line at U is common sense, no source).",
			"Sheets show values to the second digit of U (JCGM 100:2008, 7.2.6); the cells, and the CSV tables, hold the whole number.",
		}},
		{Title: "The ruler in the picture (only with --pixels)", Paragraphs: rulerMethod()},
		{Title: "Verdict", Paragraphs: []string{
			"agrees: |reported − rebuilt| ≤ half a unit of the reported number's last place + U. Otherwise: differs. There is no other tolerance. Depths and velocities at a point or on average are compared with their sign, unless the sign of the scale contradicts the standard; everything else by its size.",
			"Where they differ, typical faults are tried: a power of ten between units of the quantity, the picture resampled after calibration (where the bounds of the regions tell by how much), Pixel Spacing in place of the region, the steps of both axes swapped, the scale of another region of the picture, another timing of the frames. Each gives another value with its own U; where the reported value agrees with that by the same rule, the note names it, and all of several. The verdict stays, and nothing is corrected.",
			"Example: a reported 12.3 mm has its last place at 0.1 mm. With U = 0.4 mm it agrees with rebuilt values from 11.85 mm to 12.75 mm.",
			"suspect: the calibration contradicts its own image. rebuilt-only: nothing was reported. reported-only: there is no caliper. not-rebuilt: there is a caliper that cannot be turned into a value; the note says why.",
		}},
		{Title: "Reference values", Paragraphs: []string{
			"The value of an index, and of a measure the rebuilt value, else the reported one, is held against each row of the reference table for it: inside from the lower to the upper limit, both included, else below or above. Values of suspect calibrations are not. Where a limit is nearer than U, that is said.",
			"A row is left out where the header contradicts its age (birth date, else Patient's Age) or weight. Where the header does not tell them, and always for weeks of gestation, which no header holds, the row is shown and said to be undecided; rows of one chart are then told together, week by week. Rows are never blended and nothing is extrapolated.",
		}},
		{Title: "Agreement", Paragraphs: []string{
			"The sheet Agreement holds statistics by device, measure, mode and observer, over rebuilt values that are not suspect; a caliper that was stored twice counts once. What the file calls no more than a length or an area is compared with its reported value alone: two of them may be of two things. Differences d with mean and standard deviation s (Bland and Altman 1986): bias = mean ± t · s ÷ √n, limits = mean ∓ 1.96 · s, each ± t · √(3 · s² ÷ n), t with n − 1 degrees of freedom; proportional bias = least-squares slope of d over the mean of both.",
			"Repeats within a study: within-subject standard deviation s_w by n − 1 over all groups, its interval by χ²; repeatability coefficient = 1.96 · √2 · s_w. Two observers of the same images: intraclass correlations ICC(2,1) and ICC(3,1) of Shrout and Fleiss 1979, with their intervals, from three images on. Several values of one study are not independent: where n is above the number of studies, intervals are too narrow. Where all differences are equal there is no interval: pixels come in steps, and an interval of no width would call the value certain.",
		}},
		{Title: "Completeness", Paragraphs: []string{
			"A protocol is a list of items: header facts, images, measures, indices, report. An item is met, partial (less than needed), missing (nothing found), not-assessable (the files do not say enough) or not-applicable. Completeness = required items met ÷ required items that could be judged.",
		}},
		{Title: "Rates, charts and differences", Paragraphs: []string{
			"Every share stands with its numerator, its denominator and its 95 % interval by Wilson's score method, z = 1.959964 (Newcombe 1998, Stat Med 17:857). The denominator counts what could be judged; what could not is counted beside it. Denominators below 20 are marked small (common practice, no source). A unit is Institution Name and Institutional Department Name; Station Name stands for a department that is absent. Weeks are those of ISO 8601, by the study date.",
			"The difference of two shares has the interval of Newcombe 1998, Stat Med 17:873, method 10. It takes studies for independent. A study that is in two audits counts once, in the later one.",
			"p-chart by week (NIST/SEMATECH e-Handbook 6.3.3.2): centre p = all that are met ÷ all that were counted, limits p ± 3 · √(p · (1 − p) ÷ n) with n of each week, within 0 and 1. Where less than five of either kind are expected, a point beyond a limit is a signal only if the binomial distribution gives it no more than 0.135 %. Items of one study go together: the limits of items met are widened by what the weeks show (Laney 2002, from memory), never narrowed.",
			"Times, study by study (NIST/SEMATECH e-Handbook 6.3.2.2): centre the mean, limits mean ± 3 · MR ÷ 1.128 with MR the mean moving range, that is the distance of a study to the one before; moving ranges: centre MR, limit 3.267 · MR. A study whose time is not known is a gap: no moving range and no run goes over it.",
			"Limits are made from the points of earlier audits where there are 10 at least, else from all points. Fewer than 10 points have no limits. Run rules for times: Western Electric 1956 (one point beyond three sigma; two of three beyond two, four of five beyond one, eight in a row, each on one side). For p-charts: one point beyond a limit, a run longer than round(log₂ n + 3) on one side of the median, or fewer crossings of it than the 5 % quantile of the binomial distribution of n − 1 and ½ (Anhøj and Olesen 2014). A steady process gives a false signal in the four rules for times about every 92 points, in a p-chart of a year in about one year of five or six.",
			"With --min-cell, counts below the number chosen are left out of rates, charts, differences, agreement and overview, and so is what sums of the other rows would give away. The sheets that hold one row for each study, image or measurement hold them still: keep those inside.",
		}},
		{Title: "Actions", Paragraphs: []string{
			"The list is made of the findings, of required protocol items, and of the clocks that should be looked at. In this order: errors, which mislead whoever reads the numbers; items that are missing; items that are there in part; warnings and notes about a study; items that headers do not let anybody judge; what a device does in several studies; files. Within each: what concerns most studies, then what was met most often, then by date. All of one kind about one study is one row, and all images that one device spoils in several studies. A row tells three faults and how many more there are; the sheets Findings and Completeness hold all.",
		}},
		timesMethod(),
		{Title: "Reading these sheets", Paragraphs: []string{
			"The sheets hold the rows of the CSV tables, in the same order. The columns Study (the row number in the sheet Studies), Study date, Index in words, Item in words and, in the sheets Regions and Codebook, Instance number and Column in this workbook are there for the reader only. UIDs and other columns that only programs need stand at the right, outside the printed area.",
			"Studies are ordered by start and UID. Colour repeats what a word or number beside it says: orange asks for action, yellow for a look, grey is for what could not be judged. An empty cell is an absent value, never zero. Text that begins like a formula is stored as text.",
			"The sheet Codebook explains every column.",
		}},
		{Title: "Sources", Paragraphs: []string{
			"PS3.3 is part 3 of the DICOM standard (information object definitions). JCGM 100:2008 is the Guide to the expression of uncertainty in measurement. UCUM is The Unified Code for Units of Measure.",
		}},
	}
}

// timesMethod says what is known of times; an audit and a check of devices both say it.
func timesMethod() Section {
	return Section{Title: "Times and clocks", Paragraphs: []string{
		"An image was taken at its acquisition time, else at its content time (PS3.3 C.7.6.1). Times are those of the device's clock. Where an object states its zone (Timezone Offset From UTC, (0008,0201)) they are compared in UTC, else as the clocks read. Night is " + nightHours + ", the weekend Saturday and Sunday (common practice, no source). No clock of the computer is asked.",
		"Clocks: the difference of another stamp less the device's is taken once for each study, against the making of the file (Instance Creation), the start of the study, and the report of another device. Value = median, spread = 1.4826 × median absolute deviation, drift = median of all pairwise slopes (Theil 1950, Sen 1968; from memory). A difference counts where it is above 4 standard errors of a median, 1.2533 × spread ÷ √n, and outside what people and networks add. A jump is told where the medians of the six studies before and after are 60 ± 5 minutes apart and all between jumps scatters by less than 10 minutes. A drift of 1 s a day does no harm (PS3.17 R.6.2).",
		"Frame time: a whole number of milliseconds was rounded where the mean of the Frame Time Vector, or Effective Duration ÷ frames or ÷ intervals, lies within half a millisecond of it and neither confirms it. Heart rate read = 140 × implied ÷ stated.",
	}}
}
