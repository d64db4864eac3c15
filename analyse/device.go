package analyse

import (
	"strings"

	"leadline/ingest"
)

// DeviceName names a device in one line: maker, model and serial number, as far
// as the file gives them; empty where it gives none.
func DeviceName(d *ingest.Device) string {
	var words []string
	for _, w := range []string{d.Manufacturer, d.Model, d.Serial} {
		if w != "" {
			words = append(words, w)
		}
	}
	return strings.Join(words, " ")
}
