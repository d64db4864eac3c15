package checks

import "leadline/analyse"

// ProtocolUnused is the finding protocol-unused: a protocol applied to no study.
var ProtocolUnused = analyse.Check{
	ID:       "protocol-unused",
	Title:    "a protocol applied to no study",
	Doc:      "A protocol that was asked for found no study that it applies to, so nothing was checked against it.",
	Advice:   "See under what the protocol says of when it applies (leadline protocols print).",
	Severity: analyse.Note,
}
