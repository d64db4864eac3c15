package indices

import "leadline/analyse/physical"

func strokeVolume(v ventricle) Definition {
	return Definition{
		ID: v.id + "-stroke-volume", Title: v.title + " stroke volume from outflow Doppler",
		Formula: "π/4 · d² · |VTI|", Unit: physical.ML,
		Inputs: v.outflow(), Reference: flowReference, Caution: flowCaution, Compute: flow,
	}
}

func strokeVolumePerKg(v ventricle) Definition {
	return Definition{
		ID: v.id + "-stroke-volume-per-kg", Title: v.title + " stroke volume per kilogram",
		Formula: "π/4 · d² · |VTI| / weight", Unit: physical.MLPerKg,
		Inputs: append(v.outflow(), bodyWeight), Reference: flowReference, Caution: weightCaution, Compute: perKg(flow),
	}
}
