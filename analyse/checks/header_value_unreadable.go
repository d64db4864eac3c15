package checks

import (
	"strings"

	"leadline/analyse"
)

// HeaderValueUnreadable is the finding header-value-unreadable: a header value is not as the standard wants it.
var HeaderValueUnreadable = analyse.Check{
	ID:    "header-value-unreadable",
	Title: "a header value is not as the standard wants it",
	Doc: "An element that is read holds something else than its value representation allows (PS3.5 6.2); the " +
		"value counts as absent.",
	Advice:   "The message names the elements; ask the maker where a value that matters is lost.",
	Severity: analyse.Note,
	OfDevice: true,
	Run:      eachImage(headerValueUnreadable),
}

func headerValueUnreadable(img *analyse.Image) string {
	var tags []string
	for _, p := range img.Problems {
		tags = append(tags, p.Tag.String()+" (expected "+p.Expected+")")
	}
	return strings.Join(tags, "; ")
}
