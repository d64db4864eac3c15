package rebuild

import (
	"leadline/analyse"
	"leadline/ingest/dcm"
	"leadline/ingest/report"
	"leadline/ingest/terms"
)

// saidModes are the codes that say a mode: the values of Image Mode (PS3.16 CID 12224),
// and concepts whose meaning ends in 2D or MM (CID 12300).
var saidModes = map[dcm.Code]analyse.Mode{
	{Value: "399064001", Scheme: "SCT"}: analyse.Mode2D,
	{Value: "399009009", Scheme: "SCT"}: analyse.Mode2D, // B mode
	{Value: "399155008", Scheme: "SCT"}: analyse.ModeMMode,

	{Value: "80007-8", Scheme: "LN"}: analyse.Mode2D, {Value: "80008-6", Scheme: "LN"}: analyse.ModeMMode, // LVIDd
	{Value: "80011-0", Scheme: "LN"}: analyse.Mode2D, {Value: "80012-8", Scheme: "LN"}: analyse.ModeMMode, // LVIDs
	{Value: "79969-2", Scheme: "LN"}: analyse.Mode2D, {Value: "79968-4", Scheme: "LN"}: analyse.ModeMMode, // IVSd
	{Value: "79971-8", Scheme: "LN"}: analyse.Mode2D, {Value: "79970-0", Scheme: "LN"}: analyse.ModeMMode, // IVSs
	{Value: "79975-9", Scheme: "LN"}: analyse.Mode2D, {Value: "79977-5", Scheme: "LN"}: analyse.ModeMMode, // left atrium
}

// modeSaid is what the concept of a number or its modifiers say of the mode. A caliper
// tells it better.
func modeSaid(n *report.Numeric) analyse.Mode {
	for _, m := range n.Modifiers {
		if mode := modeOfCode(m.Value); mode != analyse.ModeUntold {
			return mode
		}
	}
	return modeOfCode(n.Concept)
}

func modeOfCode(c dcm.Code) analyse.Mode {
	c = terms.Current(c)
	return saidModes[dcm.Code{Value: c.Value, Scheme: c.Scheme}]
}
