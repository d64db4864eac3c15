package indices

import "leadline/analyse/physical"

func output(v ventricle) Definition {
	return Definition{
		ID: v.id + "-output", Title: v.title + " output",
		Formula: "π/4 · d² · |VTI| · HR", Unit: physical.MLPerMin,
		Inputs: append(v.outflow(), beatRate), Reference: flowReference, Caution: flowCaution, Compute: minuteFlow,
	}
}

func outputPerKg(v ventricle) Definition {
	return Definition{
		ID: v.id + "-output-per-kg", Title: v.title + " output per kilogram",
		Formula: "π/4 · d² · |VTI| · HR / weight", Unit: physical.MLPerMinPerKg,
		Inputs: append(v.outflow(), beatRate, bodyWeight), Reference: flowReference, Caution: weightCaution, Compute: perKg(minuteFlow),
	}
}

var minuteFlow = times(flow, "the heart rate is not above 0")
