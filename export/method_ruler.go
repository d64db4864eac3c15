package export

// rulerMethod says how rulers are read, for every workbook that may hold them.
func rulerMethod() []string {
	return []string{
		"The first frame of each ultrasound picture is searched for a column of small marks that stand alike at equal distances, at the sides of the 2D picture, six at least, over 60 % of its height. The distance of two marks is the slope of the straight line through their rows against their numbers; its standard uncertainty is that of a row (the scatter, at least 0.5 ÷ √3 pixel) ÷ √Σ(n − n̄)² (JCGM 100:2008, H.3). Marks drawn with whole pixels between them can be wrong by more than that.",
		"What a distance stands for is not taken from the header's scale. It follows from the larger marks and the stated depth (0018,5050); every fifth mark larger is taken for 1 cm and 5 cm (common practice: so drawn in all five real pictures of five makers that have it). Where it is not certain no scale is given.",
		"Ruler ÷ header = pixels to a centimetre of depth by the ruler ÷ by Physical Delta Y of the tallest 2D region, else by Pixel Spacing down the rows. Where the header has no scale, the ruler's is an estimate that is shown and used nowhere.",
	}
}
