package audit

import (
	"leadline/analyse"
	"leadline/analyse/completeness"
	"leadline/ingest/protocol"
)

// uncertaintyOf is the rule of the first protocol that applies to the study and has
// one; none where no protocol has. A protocol may be chosen by the measures of the
// study, so these must have been collected before.
func uncertaintyOf(s *analyse.Study, protocols []*protocol.Protocol) analyse.UncertaintyRule {
	for _, p := range protocols {
		u := &p.Uncertainty
		if len(u.Placement) == 0 && u.ScaleTolerancePercent.Value == 0 {
			continue
		}
		if _, ok := completeness.Applies(s, p); !ok {
			continue
		}
		rule := analyse.UncertaintyRule{Protocol: p.Name, PlacementPX: map[string]float64{}, ScaleTolerance: u.ScaleTolerancePercent.Value / 100}
		for _, placement := range u.Placement {
			rule.PlacementPX[placement.Measure.ID] = placement.Pixels
		}
		return rule
	}
	return analyse.UncertaintyRule{}
}
