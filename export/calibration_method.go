package export

// calibrationMethod says in plain words how a check of devices comes to what it
// says. Whoever changes a rule of the program changes it here too.
func calibrationMethod() []Section {
	return []Section{
		{Title: "What a device is", Paragraphs: []string{
			"Pictures with the same Manufacturer (0008,0070), Manufacturer's Model Name (0008,1090) and Device Serial Number (0018,1000) are of one device. Where the files give no serial number, all units of a model are one row, and nothing can be said of any one of them.",
		}},
		{Title: "Findings", Paragraphs: []string{
			"The sheet Findings holds those that speak of scale, timing and the history of pictures, from one file each. An audit shows the same ones, and others.",
		}},
		{Title: "Test object", Paragraphs: []string{
			"Studies are scans of the test object where its file names their patient id, their UID, or words of their descriptions; nothing else makes them one. Lengths belong to a target by their measure or label; they are rebuilt from the caliper, else taken as reported. Values of suspect calibrations are not used. One caliper that was stored in two places counts once.",
			"A scanner shows an echo from the true depth d at d × assumed speed ÷ speed of the material: its time of flight is 2 · d ÷ speed. So along the beam corrected = measured × speed of the material ÷ assumed speed, the speed being that of the day's temperature. Across the beam nothing is corrected: in a linear array the pitch of the elements sets the distance; of sector and curved arrays what lies aside moves with its depth, which is not corrected and said. Error = corrected − true distance.",
			"Bias = mean of the errors of the tests, each counting once, ± t · s ÷ √n. Repeatability = standard deviation of repeats within a test, over all tests, its interval by χ² (Bland and Altman 1996). U is for 95 % with the degrees of freedom of Welch and Satterthwaite (JCGM 100:2008 G.4), from: the spread of the tests, for the newest test that of its repeats, never less than the step of one value (F.2.2.1); the true distance; along the beam the speed of sound.",
			"pass: |error| + U ≤ tolerance. fail: |error| − U > tolerance. In between it cannot be told. Common practice, no source. Without a tolerance of its own a target has the action level of AAPM Ultrasound Task Group 1: 1.5 mm or 1.5 % along the beam, 2 mm or 2 % across it, the larger one (Goodsitt 1998, Med Phys 25:1385; figures second-hand).",
			"Charts: individuals with mean ± 3 · mean moving range ÷ 1.128 of the baseline (NIST/SEMATECH e-Handbook 6.3.2.2), no moving range over a missed test; exponentially weighted moving average z = 0.3 · error + 0.7 · z before, from the mean of the baseline on, with ± 3 · σ · √(0.3 ÷ 1.7) (6.3.2.4), σ from the same moving range. At least five tests make limits. A steady device gives false signals: see the overview.",
		}},
		{Title: "Acoustic output", Paragraphs: []string{
			"Mechanical and thermal indices are those of the header (0018,5022 to 5029); they are not computed or inferred. The exam is told by Body Part Examined, else the anatomic region, else protocol name and descriptions; images whose header tells none are counted without a limit. Above is strictly above. Time is that of clips with frame timing; stills have none, and exposure times are not archived. Every row names the source of its limit, and whether it was seen or is from memory.",
			"An archive is a sample of what was scanned. A value above a recommendation says nothing of harm, one below nothing of safety.",
		}},
		{Title: "Sources", Paragraphs: []string{
			"PS3.3 is part 3 of the DICOM standard (information object definitions). JCGM 100:2008 is the Guide to the expression of uncertainty in measurement.",
		}},
	}
}
