package ingest

import (
	"path"
	"strings"
	"unicode/utf8"
)

// inside joins the path of a container and of a member: export.zip!/a/b.dcm.
const inside = "!/"

// maxName is the longest member's name that is shown, in bytes.
const maxName = 1024

// memberPath is the path that a member is shown under: below its container, whatever
// its name says.
func memberPath(container, name string) string {
	name = strings.TrimPrefix(path.Clean("/"+name), "/")
	if name == "" {
		name = "(no name)"
	}
	if len(name) > maxName {
		cut := maxName
		for cut > 0 && !utf8.RuneStart(name[cut]) {
			cut--
		}
		name = name[:cut] + "…"
	}
	return container + inside + name
}

// IsContainerRoot tells that a folder of a member's path is the container itself
// (export.zip!), above which lies nothing of it.
func IsContainerRoot(folder string) bool {
	return strings.HasSuffix(folder, strings.TrimSuffix(inside, "/"))
}
