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
		{Title: "Sources", Paragraphs: []string{
			"PS3.3 is part 3 of the DICOM standard (information object definitions).",
		}},
	}
}
