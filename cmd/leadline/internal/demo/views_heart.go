package demo

import "leadline/ingest"

// The heart as seen from each window, and what is measured there.

func longAxisScene(a anatomy) scene {
	s := a.scale
	return scene{base: 0.2, shapes: []shape{
		tissue(ellipse(0, 2.6*s, 2.2*s, 1.9*s, 0.1, 0.02), 0.5),
		chamber(ellipse(-0.1*s, 1.15*s, 1.3*s, 0.33*s, -0.1, 0.25), 25),
		chamber(ellipse(-0.75*s, 2.55*s, 1.25*s, a.lvDiastole/2, 0.12, 0.3), 40),
		chamber(ellipse(1.05*s, 3.2*s, 0.75*s, a.atrium/2, 0.1, -0.1), 30),
		vessel(tube(0.4*s, 2.2*s, 2.2*s, 1.75*s, a.aorta/2), -55),
		tissue(band(4.6*s, 9), 0.28),
	}}
}

func longAxisClip(l lens, a anatomy) *picture {
	l.caption = "PLAX"
	p := picture2D(l, longAxisScene(a), nil)
	s := a.scale
	p.line2D("aortic-root-diameter", 1, 1.25*s, 1.99*s-a.aorta/2, 1.25*s+0.1*s, 1.99*s+a.aorta/2)
	p.line2D("lv-outflow-diameter", systoleFrame(l), 0.42*s, 2.2*s-a.outflow/2, 0.48*s, 2.2*s+a.outflow/2)
	half := a.atrium / 2 * 1.1
	p.line2D("left-atrium-diameter", systoleFrame(l), 1.05*s, 3.2*s-half, 1.05*s, 3.2*s+half)
	return p
}

// systoleFrame is the frame in which the ventricles are smallest.
func systoleFrame(l lens) int { return 1 + int(0.4*float64(l.frames)+0.5) }

func ventricleMMode(l lens, a anatomy) *picture {
	l.caption = "PLAX M"
	front := 1.3 * a.scale
	back := front + a.septum
	wall := back + a.lvDiastole
	excess := a.lvDiastole - a.lvSystole
	septum, posterior := moving(back, back+0.35*excess), moving(wall, wall-0.65*excess)
	w := walls{top: 0.4, layers: []layer{
		{moving(0.5*a.scale, 0.55*a.scale), 0.55},
		{moving(0.75*a.scale, 0.82*a.scale), 0.05},
		{moving(front, front-0.02), 0.5},
		{septum, 0.05},
		{posterior, 0.5},
		{moving(wall+a.posteriorWall, wall+a.posteriorWall-0.25*excess), 0.3},
	}}
	p := pictureMMode(l, longAxisScene(a), -0.6, w, 2)
	diastole, systole := l.moment(0, 1), l.moment(0.4, 1)
	p.lineStrip("interventricular-septum-diastole", diastole, front, diastole, back)
	p.lineStrip("lv-internal-diameter-diastole", diastole, back, diastole, wall)
	p.lineStrip("lv-posterior-wall-diastole", diastole, wall, diastole, wall+a.posteriorWall)
	p.lineStrip("lv-internal-diameter-systole", systole, septum(0.4), systole, posterior(0.4))
	p.lineStrip("r-r-interval", l.moment(0, 2), wall, l.moment(0, 1), wall)
	return p
}

func fourChamberScene(a anatomy, fifth bool) scene {
	s := a.scale
	shapes := []shape{
		tissue(ellipse(0, 3.3*s, 1.95*s, 2.5*s, 0, 0.02), 0.45),
		chamber(fourChamberCavity(a).shape(), 45),
		chamber(ellipse(-0.7*s, 2.55*s, 0.58*s, 1.1*s, 0.12, 0.22), 40),
		chamber(ellipse(0.65*s, 4.55*s, 0.62*s, 0.55*s, 0, -0.12), 30),
		chamber(ellipse(-0.72*s, 4.5*s, 0.62*s, 0.58*s, 0, -0.12), 30),
	}
	if fifth {
		shapes = append(shapes, vessel(tube(0.25*s, 3.5*s, -0.1*s, 4.7*s, a.outflow/2), -60))
	}
	return scene{base: 0.18, shapes: append(shapes, tissue(band(6*s, 12), 0.25))}
}

func fourChamberClip(l lens, a anatomy) *picture {
	l.caption = "A4C"
	p := picture2D(l, fourChamberScene(a, false), nil)
	s := a.scale
	p.line2D("rv-basal-diameter", 1, -1.2*s, 3.2*s, -0.2*s, 3.2*s)
	p.traceVolumes("four-chamber", l, fourChamberCavity(a))
	return p
}

func annulusMMode(l lens, a anatomy) *picture {
	l.caption = "A4C M"
	deep := 3.9 * a.scale
	w := walls{top: 0.3, layers: []layer{
		{moving(0.6, 0.62), 0.12},
		{moving(deep, deep-a.tapse), 0.35},
		{moving(deep+0.35, deep+0.35-a.tapse*0.8), 0.08},
	}}
	p := pictureMMode(l, fourChamberScene(a, false), -1, w, 2)
	t := l.moment(0.2, 1)
	p.lineStrip("tapse", t, deep-a.tapse, t, deep)
	return p
}

func outflowStrip(l lens, a anatomy) *picture {
	l.caption = "A5C PW"
	env := ejection(a.outflowPeak, 0.05, 0.5, 0.35)
	p := pictureSpectral(l, fourChamberScene(a, true), doppler{
		env: env, low: -120, high: 40, step: 20, seconds: 2, dataType: dataPW,
		gateX: 0.15, gateY: 3.7 * a.scale, frequencyKHz: 5000,
	})
	at := 0.05 + 0.45*0.35
	p.pointStrip("lv-outflow-peak-velocity", l.moment(at, 1), env(at))
	p.lineStrip("lv-ejection-time", l.moment(0.05, 1), 0, l.moment(0.5, 1), 0)
	return p
}

func mitralStrip(l lens, a anatomy) *picture {
	l.caption = "A4C PW"
	env := filling(a.mitralE, a.mitralA)
	p := pictureSpectral(l, fourChamberScene(a, false), doppler{
		env: env, low: -40, high: 100, step: 20, seconds: 2, dataType: dataPW,
		gateX: 0.6, gateY: 3.6 * a.scale, frequencyKHz: 5000,
	})
	p.pointStrip("mitral-e", l.moment(0.585, 1), a.mitralE)
	p.pointStrip("mitral-a", l.moment(0.835, 1), a.mitralA)
	return p
}

func tricuspidStrip(l lens, a anatomy) *picture {
	l.caption = "A4C CW"
	p := pictureSpectral(l, fourChamberScene(a, false), doppler{
		env: ejection(a.tricuspidLeak, 0.02, 0.5, 0.5), low: -320, high: 80, step: 80, seconds: 2,
		dataType: dataCW, gateX: -0.7, gateY: 3.6 * a.scale, frequencyKHz: 4000,
	})
	p.pointStrip("tricuspid-regurgitation-peak-velocity", l.moment(0.26, 1), -a.tricuspidLeak)
	return p
}

func baseScene(a anatomy) scene {
	s := a.scale
	return scene{base: 0.2, shapes: []shape{
		tissue(ellipse(0, 2.7*s, 2*s, 2*s, 0, 0.02), 0.45),
		vessel(ellipse(-0.1*s, 2.6*s, a.aorta/2, a.aorta/2, 0, 0.03), -20),
		chamber(ellipse(-0.3*s, 3.8*s, 0.95*s, 0.6*s, 0, -0.1), 25),
		vessel(joined(tube(-1.2*s, 2.2*s, 0.5*s, 1.6*s, 0.32*s), tube(0.5*s, 1.6*s, 1.1*s, 3.3*s, 0.3*s)), -55),
	}}
}

func baseStrip(l lens, a anatomy) *picture {
	l.caption = "PSAX PW"
	env := ejection(a.pulmonaryPeak, 0.05, 0.52, 0.4)
	p := pictureSpectral(l, baseScene(a), doppler{
		env: env, low: -120, high: 40, step: 20, seconds: 2, dataType: dataPW,
		gateX: 0.7, gateY: 2.1 * a.scale, frequencyKHz: 5000,
	})
	peak := 0.05 + 0.47*0.4
	p.pointStrip("pulmonary-valve-peak-velocity", l.moment(peak, 1), env(peak))
	p.lineStrip("pulmonary-acceleration-time", l.moment(0.05, 1), 0, l.moment(peak, 1), 0)
	p.lineStrip("rv-ejection-time", l.moment(0.05, 1), 0, l.moment(0.52, 1), 0)
	return p
}

func subcostalClip(l lens, a anatomy) *picture {
	l.caption = "SUBCOSTAL"
	s := a.scale
	p := picture2D(l, scene{base: 0.38, shapes: []shape{
		tissue(ellipse(0.3*s, 3.4*s, 2*s, 1.7*s, 0.3, 0.02), 0.5),
		chamber(ellipse(-0.75*s, 3.3*s, 0.75*s, 0.6*s, 0.2, -0.1), 30),
		chamber(ellipse(0.75*s, 3.9*s, 0.7*s, 0.55*s, 0.2, -0.1), 30),
		vessel(tube(-0.12*s, 3.68*s, 0.12*s, 3.72*s, a.foramen/2), 35),
		vessel(tube(-1.9*s, 2.2*s, -1.1*s, 3*s, a.cava/2), 20),
	}}, nil)
	p.line2D("foramen-ovale-diameter", 1, 0, 3.7*s-a.foramen/2, 0, 3.7*s+a.foramen/2)
	p.mark("right-atrium-area", 0, ingest.GeometryPolygon, 1,
		-1.4*s, 3.2*s, -0.9*s, 2.75*s, -0.2*s, 3.1*s, -0.1*s, 3.6*s, -0.6*s, 3.9*s, -1.2*s, 3.7*s)
	return p
}

func ductScene(a anatomy) scene {
	s := a.scale
	return scene{base: 0.24, shapes: []shape{
		tissue(ellipse(0, 2.4*s, 1.9*s, 1.8*s, 0, 0.02), 0.42),
		vessel(tube(-1*s, 1.2*s, -0.1*s, 2.3*s, 0.34*s), -45),
		vessel(tube(-0.1*s, 2.4*s, 0.5*s, 3.2*s, a.duct/2), 70),
		vessel(tube(0.5*s, 2.2*s, 0.75*s, 5*s, 0.3*s), -40),
	}}
}

func ductClip(l lens, a anatomy, colour bool) *picture {
	l.caption = "DUCTAL"
	var box *[4]float64
	if colour {
		box = &[4]float64{-0.8 * a.scale, 1.4 * a.scale, 1.2 * a.scale, 4 * a.scale}
	}
	p := picture2D(l, ductScene(a), box)
	s := a.scale
	nx, ny := 0.8*a.duct/2, -0.6*a.duct/2
	p.line2D("duct-diameter", 1, 0.2*s-nx, 2.8*s-ny, 0.2*s+nx, 2.8*s+ny)
	return p
}

func ductStrip(l lens, a anatomy) *picture {
	l.caption = "DUCTAL PW"
	p := pictureSpectral(l, ductScene(a), doppler{
		env: arterial(a.ductPeak, a.ductEnd), low: -60, high: 200, step: 40, seconds: 2, dataType: dataPW,
		gateX: 0.25, gateY: 2.8 * a.scale, frequencyKHz: 5000, colour: &[4]float64{-0.7, 1.5 * a.scale, 1.1, 3.8 * a.scale},
	})
	p.pointStrip("duct-peak-systolic-velocity", l.moment(arterialPeakAt, 1), a.ductPeak)
	p.pointStrip("duct-end-diastolic-velocity", l.moment(0.98, 1), a.ductEnd)
	return p
}

func archClip(l lens, a anatomy) *picture {
	l.caption = "ARCH"
	s := a.scale
	p := picture2D(l, scene{base: 0.26, shapes: []shape{
		vessel(joined(
			arc(0, 3.2*s, 1.05*s, a.aorta/2*0.8, 3.4*s),
			tube(-1.05*s, 3.2*s, -0.85*s, 4.9*s, a.aorta/2*0.8),
			tube(1.05*s, 3.2*s, 1.15*s, 6.5*s, a.aorta/2*0.8),
			tube(-0.3*s, 2.2*s, -0.45*s, 1*s, 0.14*s),
			tube(0.3*s, 2.2*s, 0.35*s, 0.9*s, 0.13*s),
		), -50),
		vessel(ellipse(0.05*s, 3.5*s, 0.42*s, 0.35*s, 0, 0.05), 20),
	}}, nil)
	p.line2D("aortic-isthmus-diameter", 1, 1.05*s-a.aorta/2*0.8, 3.3*s, 1.05*s+a.aorta/2*0.8, 3.3*s)
	return p
}
