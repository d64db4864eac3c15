package demo

// Output indices above what is recommended for the exam.

// indexMechanical leaves the output of a lung clip where an adult preset has it.
func indexMechanical(s *study) {
	o := s.byView("Lower anterior", bits2D)
	o.mi = 1.1
	s.expect(o.uid, "mechanical-index-above-limit", "", "", "MI 1.1 with lung in the beam")
}

// indexThermal keeps the Doppler output of a head scan high.
func indexThermal(s *study) {
	o := s.find("aca-peak-systolic-velocity")
	o.ti = 1.1 // TIC, which is 0.1 more, is 1.2
	s.expect(o.uid, "thermal-index-above-limit", "", "", "TIC 1.2 on the head")
}

// indexAbsurd writes the output of a lung clip as a percentage of the most there is.
func indexAbsurd(s *study) {
	o := s.byView("Lower anterior", bits2D)
	o.mi = 85
	s.expect(o.uid, "output-index-absurd", "", "", "MI 85, which is a percentage")
}
