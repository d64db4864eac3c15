package checks

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/analyse/ruler"
)

// PictureNotDecoded is the finding picture-not-decoded: pictures whose ruler could not be looked for.
var PictureNotDecoded = analyse.Check{
	ID:    "picture-not-decoded",
	Title: "pictures whose ruler could not be looked for",
	Doc: "With `--pixels`. Uncompressed and palette pictures, RLE and JPEG baseline (PS3.5 A.4) are unpacked, first frame only; others are" +
		" not, nor damaged ones and members of compressed tar archives. Counted once for the archive, by the reason.",
	Advice:   "rulers.csv says which; for these the scale of the header stands alone.",
	Severity: analyse.Note,
}

// NotDecoded counts the pictures of an archive that were not unpacked, by reason, the
// most frequent first; it is empty where all were.
func NotDecoded(studies []*analyse.Study) string {
	looked, count := 0, map[string]int{}
	for _, s := range studies {
		for _, img := range s.Images {
			if img.Ruler == nil {
				continue
			}
			looked++
			if img.Ruler.Status == ruler.NotDecoded {
				count[img.Ruler.Note]++
			}
		}
	}
	var reasons []string
	missed := 0
	for reason, n := range count {
		missed += n
		reasons = append(reasons, reason)
	}
	if missed == 0 {
		return ""
	}
	slices.SortFunc(reasons, func(a, b string) int { return cmp.Or(count[b]-count[a], cmp.Compare(a, b)) })
	words := make([]string, 0, shownReasons)
	for _, reason := range reasons[:min(len(reasons), shownReasons)] {
		words = append(words, fmt.Sprintf("%s (%d)", reason, count[reason]))
	}
	if more := len(reasons) - len(words); more > 0 {
		words = append(words, "and for "+analyse.Counted(more, "more reason", "more reasons"))
	}
	return fmt.Sprintf("%d of %s not unpacked: %s", missed, analyse.Counted(looked, "picture", "pictures"), strings.Join(words, ", "))
}

// shownReasons bounds what one finding lists.
const shownReasons = 8
