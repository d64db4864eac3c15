#!/usr/bin/env python3
"""Derives indices a second time, from the tables of an audit.

    indices.py [--tolerance T] [--placement MEASURE=PIXELS]... TABLES ROOT...

TABLES is the folder of `leadline audit ROOT... --identity full --tables TABLES`, T and
PIXELS are what the protocol of that audit gives: the tolerance of the calibration,
0.02 for 2 %, and the placing errors. Of Leadline's only the points in measurements.csv,
which rebuild.py holds against their sources, the weights of studies.csv and the devices
of regions.csv are used. The formulas are written
from their sources (shared/reference/check-values.md and measurements.md), lengths in
cm, velocities in m/s, unlike inside the program.

Every number that is not known exactly (each coordinate of each distinct point of an
image, each frame of a clip, each scale, each rounding) is moved once by the complex step
(Squire and Trapp 1998, SIAM Review 40:110), and the whole index is computed again, from
the pixels on: a point that two calipers share moves both. Points are the same where both
coordinates are equal on the same image and frame.

Checked for every row of indices.csv: that the inputs it names are measurements of the
measures of its formula; that of these the rebuilt ones were taken before reported
ones; that value and U (k = 2) agree to 1e-9; that a row without a value lacks an input
or has a formula that refuses; and that no index is missing whose inputs are all
there. Prints each difference, ends with 1 if there is any.
"""
import argparse
import cmath
import collections
import csv
import math
import os
import re
import sys

import rebuild

RELATIVE = 1e-9
STEP = 1e-30


class Refused(Exception):
    pass


def positive(*values):
    if any(v.real <= 0 for v in values):
        raise Refused("not above 0")


def size(z):
    return z if z.real >= 0 else -z


# ---- formulas: lengths in cm, areas in cm2, times in s, velocities in cm/s, mL ----

def share(a, b):
    positive(a)
    return 100 * (a - b) / a


def shortening(d, s):
    shrinks(d, s)
    return 100 * (d - s) / d


def quotient(a, b):
    positive(b)
    return a / b


def teichholz(d):
    positive(d)
    return 7.0 / (2.4 + d) * d ** 3


def shrinks(d, s):
    positive(d)
    if s.real < 0 or s.real > d.real:
        raise Refused("systole larger than diastole")


def by_teichholz(d, s, ratio):
    shrinks(d, s)
    big, small = teichholz(d), (7.0 / (2.4 + s) * s ** 3)
    return 100 * (big - small) / big if ratio else big - small


def cube(d, s):
    shrinks(d, s)
    return 100 * (d ** 3 - s ** 3) / d ** 3


def by_volumes(d, s):
    positive(d)
    if s.real > d.real:
        raise Refused("systole larger than diastole")
    return 100 * (d - s) / d


def emptied(d, s):
    if s.real > d.real:
        raise Refused("systole larger than diastole")
    return d - s


def shell(s, d, p):
    positive(s, d, p)
    return (s + d + p) ** 3 - d ** 3


def penn(s, d, p):
    if (1.04 * shell(s, d, p)).real < 20:
        raise Refused("negative in newborns")
    return 1.04 * shell(s, d, p) - 14


def vcf(d, s, et):
    positive(et)
    shrinks(d, s)
    return (d - s) / d / et


def vcf_corrected(d, s, et, rr):
    positive(et, rr)
    shrinks(d, s)
    return (d - s) / d * cmath.sqrt(rr) / et


def flow(d, vti):
    positive(d)
    if vti == 0:
        raise Refused("no flow")
    return math.pi * d * d / 4 * size(vti)


def minute(d, vti, hr, kg=1):
    positive(hr)
    return flow(d, vti) * hr / kg


def by_mean_velocity(d, v, kg=1):
    positive(d)
    if v == 0:
        raise Refused("no flow")
    return math.pi * d * d / 4 * size(v) * 60 / kg


def cava_share(high, low, vti, d, out):
    return 100 * flow((high + low) / 2, vti) / flow(d, out)


def retrograde(reverse, forward):
    if forward == 0 or abs(reverse.real) > abs(forward.real):
        raise Refused("no forward flow, or less than back")
    return 100 * size(reverse) / size(forward)


def cava_flow(high, low, vti, hr, kg):
    positive(hr)
    return flow((high + low) / 2, vti) * hr / kg


def gradient(v):
    return 4 * (v / 100) ** 2


def net(v2, v1):
    if abs(v1.real) > abs(v2.real):
        raise Refused("faster before the valve")
    return gradient(v2) - gradient(v1)


def by_time(paat, rap):
    p = 82.6 - 0.58 * (paat * 1000) + rap
    if p.real < 0:
        raise Refused("beyond the line")
    return p


def tei(ict, irt, et):
    positive(et)
    return (ict + irt) / et


def closure(tco, et):
    positive(et)
    if tco.real < et.real:
        raise Refused("shorter than ejection")
    return (tco - et) / et


def e_to_a(e, a):
    if (e * a).real <= 0:
        raise Refused("two signs")
    return e / a


def e_to_e(e, prime):
    if prime == 0:
        raise Refused("no speed")
    return size(e) / size(prime)


def increase(a, b):
    positive(b)
    return 100 * (a / b - 1)


def cava(formula):
    """The formula, refused where the smallest diameter is above the largest."""
    def ordered(a, b):
        if b.real > a.real:
            raise Refused("smallest larger than largest")
        return formula(a, b)
    return ordered


def variation(a, b):
    positive(a + b)
    return 100 * (a - b) / ((a + b) / 2)


def horns(a, b, bpd):
    positive(bpd)
    return (a + b) / (2 * bpd)


def beats(n, t):
    if n.real < 1 or n.real != int(n.real):
        raise Refused("no whole number")
    positive(t)
    return 60 / (t / n)


def scores(*grades):
    if any(g.real not in (0, 1, 2, 3) for g in grades):
        raise Refused("no grade")
    return sum(grades)


def ellipsoid(a, b, c):
    positive(a, b, c)
    return math.pi / 6 * a * b * c


def volume(k, a, length):
    positive(a, length)
    return k(a, length)


def systole_up(psv, *others):
    if psv == 0:
        raise Refused("no systole")
    sign = 1 if psv.real > 0 else -1
    return [sign * v for v in (psv,) + others]


def ri(psv, edv):
    psv, edv = systole_up(psv, edv)
    return 1 - edv / psv


def sd(psv, edv):
    psv, edv = systole_up(psv, edv)
    positive(edv)
    return psv / edv


def pi(psv, edv, mean):
    psv, edv, mean = systole_up(psv, edv, mean)
    positive(mean)
    return (psv - edv) / mean


DD, DS = "lv-internal-diameter-diastole", "lv-internal-diameter-systole"
WALLS = ["interventricular-septum-diastole", DD, "lv-posterior-wall-diastole"]
CAVA = ["inferior-vena-cava-max", "inferior-vena-cava-min"]
# An input is a measure; "a|b" where b stands in; (f, measure) where an index of one
# measure stands in; KG the weight; a number an assumption.
KG, HR = object(), ("heart-rate", lambda rr: 60 / rr, "r-r-interval")
FORMULAS = {
    "fractional-shortening": (shortening, [DD, DS]),
    "teichholz-end-diastolic-volume": (teichholz, [DD]),
    "teichholz-end-systolic-volume": (teichholz, [DS]),
    "teichholz-stroke-volume": (lambda d, s: by_teichholz(d, s, False), [DD, DS]),
    "teichholz-ejection-fraction": (lambda d, s: by_teichholz(d, s, True), [DD, DS]),
    "cube-ejection-fraction": (cube, [DD, DS]),
    "ejection-fraction-by-volumes": (by_volumes, ["lv-end-diastolic-volume", "lv-end-systolic-volume"]),
    "ejection-fraction-biplane": (by_volumes, ["lv-biplane-volume-diastole", "lv-biplane-volume-systole"]),
    "ejection-fraction-four-chamber": (by_volumes, ["lv-four-chamber-volume-diastole", "lv-four-chamber-volume-systole"]),
    "rv-fractional-area-change": (by_volumes, ["rv-area-diastole", "rv-area-systole"]),
    "stroke-volume-biplane": (emptied, ["lv-biplane-volume-diastole", "lv-biplane-volume-systole"]),
    "stroke-volume-biplane-per-kg": (lambda d, s, kg: emptied(d, s) / kg, ["lv-biplane-volume-diastole", "lv-biplane-volume-systole", KG]),
    "mean-vcf": (vcf, [DD, DS, "lv-ejection-time"]),
    "mean-vcf-corrected": (vcf_corrected, [DD, DS, "lv-ejection-time", "r-r-interval"]),
    "lv-mass": (lambda s, d, p: 0.8 * 1.04 * shell(s, d, p) + 0.6, WALLS),
    "lv-mass-uncorrected": (lambda s, d, p: 1.04 * shell(s, d, p), WALLS),
    "lv-mass-density-1-05": (lambda s, d, p: 1.05 * shell(s, d, p), WALLS),
    "lv-mass-penn": (penn, WALLS),
    "lv-mass-per-kg": (lambda s, d, p, kg: (0.8 * 1.04 * shell(s, d, p) + 0.6) / kg, WALLS + [KG]),
    "relative-wall-thickness": (lambda p, d: 2 * quotient(p, d), [WALLS[2], DD]),
    "eccentricity-index": (quotient, ["lv-diameter-along-septum-systole", "lv-diameter-across-septum-systole"]),
    "left-atrium-to-aortic-root": (quotient, ["left-atrium-diameter", "aortic-root-diameter"]),
    "lv-to-aortic-root": (quotient, [DD, "aortic-root-diameter"]),
    "heart-rate": (lambda rr: quotient(60 + 0j, rr), ["r-r-interval"]),
    "heart-rate-of-beats": (beats, ["beat-count", "beats-interval"]),
    "superior-vena-cava-flow-per-kg": (cava_flow, ["superior-vena-cava-max", "superior-vena-cava-min", "superior-vena-cava-vti", HR, KG]),
    "acceleration-to-ejection-time": (quotient, ["pulmonary-acceleration-time", "rv-ejection-time"]),
    "pulmonary-pressure-by-acceleration-time": (by_time, ["pulmonary-acceleration-time", 5.0]),
    "pressure-half-time": (lambda t: 0.29 * t, ["deceleration-time"]),
    "tricuspid-regurgitation-gradient": (gradient, ["tricuspid-regurgitation-peak-velocity"]),
    "rv-systolic-pressure": (lambda v, rap: gradient(v) + rap, ["tricuspid-regurgitation-peak-velocity", 5.0]),
    "lv-outflow-gradient": (gradient, ["lv-outflow-peak-velocity"]),
    "aortic-valve-gradient": (gradient, ["aortic-valve-peak-velocity"]),
    "aortic-valve-net-gradient": (net, ["aortic-valve-peak-velocity", "lv-outflow-peak-velocity"]),
    "pulmonary-valve-gradient": (gradient, ["pulmonary-valve-peak-velocity"]),
    "aortic-isthmus-gradient": (gradient, ["aortic-isthmus-peak-velocity"]),
    "foramen-ovale-gradient": (gradient, ["foramen-ovale-velocity"]),
    "tricuspid-e-to-a": (e_to_a, ["tricuspid-e", "tricuspid-a"]),
    "lv-output-by-mean-velocity": (by_mean_velocity, ["lv-outflow-diameter", "lv-outflow-time-averaged-mean-velocity"]),
    "lv-output-by-mean-velocity-per-kg": (by_mean_velocity, ["lv-outflow-diameter", "lv-outflow-time-averaged-mean-velocity", KG]),
    "superior-vena-cava-to-lv-output": (cava_share, ["superior-vena-cava-max", "superior-vena-cava-min", "superior-vena-cava-vti", "lv-outflow-diameter", "lv-outflow-vti"]),
    "descending-aorta-retrograde-fraction": (retrograde, ["descending-aorta-reverse-vti", "descending-aorta-forward-vti"]),
    "mitral-e-to-a": (e_to_a, ["mitral-e", "mitral-a"]),
    "mitral-e-to-e-prime-lateral": (e_to_e, ["mitral-e", "mitral-lateral-e-prime"]),
    "mitral-e-to-e-prime-septal": (e_to_e, ["mitral-e", "mitral-septal-e-prime"]),
    "duct-gradient": (gradient, ["duct-peak-systolic-velocity"]),
    "duct-end-diastolic-gradient": (gradient, ["duct-end-diastolic-velocity"]),
    "duct-diameter-per-kg": (lambda d, kg: 10 * d / kg, ["duct-diameter", KG]),
    "duct-to-left-pulmonary-artery": (quotient, ["duct-diameter", "left-pulmonary-artery-diameter"]),
    "vena-cava-collapsibility": (cava(share), CAVA),
    "vena-cava-distensibility": (cava(increase), CAVA),
    "vena-cava-variation": (cava(variation), CAVA),
    "vena-cava-to-aorta": (quotient, [CAVA[0], "abdominal-aorta-diameter"]),
    "frontal-occipital-horn-ratio": (horns, ["frontal-horn-span", "occipital-horn-span", "biparietal-diameter"]),
    "frontal-temporal-horn-ratio": (horns, ["frontal-horn-span", "temporal-horn-span", "biparietal-diameter"]),
    "frontal-horn-to-biparietal": (quotient, ["frontal-horn-span", "biparietal-diameter"]),
    "diaphragm-thickening-fraction": (increase, ["diaphragm-thickness-inspiration", "diaphragm-thickness-expiration"]),
}
for side, valve in (("lv", "mitral"), ("rv", "tricuspid")):
    out, et = [side + "-outflow-diameter", side + "-outflow-vti"], side + "-ejection-time"
    FORMULAS[side + "-stroke-volume"] = (flow, out)
    FORMULAS[side + "-stroke-volume-per-kg"] = (lambda d, v, kg: flow(d, v) / kg, out + [KG])
    FORMULAS[side + "-output"] = (minute, out + [HR])
    FORMULAS[side + "-output-per-kg"] = (minute, out + [HR, KG])
    FORMULAS[side + "-performance-index"] = (tei, [side + "-isovolumic-contraction-time", side + "-isovolumic-relaxation-time", et])
    FORMULAS[side + "-performance-index-by-closure"] = (closure, [valve + "-closure-to-opening-time", et])
    FORMULAS[side + "-pre-ejection-to-ejection"] = (quotient, [side + "-pre-ejection-period", et])
for phase in ("diastole", "systole"):
    four, two, axis = ("lv-%s-%s" % (w, phase) for w in ("four-chamber-area", "two-chamber-area", "long-axis"))
    FORMULAS["lv-volume-area-length-" + phase] = (lambda a, n: volume(lambda a, n: 8 * a * a / (3 * math.pi * n), a, n), [four, axis])
    FORMULAS["lv-volume-bullet-" + phase] = (lambda a, n: volume(lambda a, n: 5 * a * n / 6, a, n), ["lv-short-axis-area-" + phase, axis])
    FORMULAS["lv-volume-biplane-area-length-" + phase] = (lambda a, b, n: volume(lambda ab, n: 0.85 * ab / n, a * b, n), [four, two, axis])
for name in ("tapse", "mapse", "duct-diameter", "ventricular-index", "anterior-horn-width", "thalamo-occipital-distance", "diaphragm-excursion"):
    FORMULAS[name + "-mean"] = (lambda x: 10 * x, [name])
for name in ("kidney", "bladder"):
    FORMULAS["volume-" + name] = (ellipsoid, [name + "-" + p for p in ("length", "width", "depth")])
for name in ("aca", "mca", "pca", "basilar", "internal-carotid", "sma", "celiac", "renal", "umbilical-artery", "abdominal-aorta", "descending-aorta"):
    p, e, m = (name + "-" + w for w in ("peak-systolic-velocity", "end-diastolic-velocity", "time-averaged-velocity"))
    FORMULAS["resistive-index-" + name] = (ri, [p, e])
    FORMULAS["systolic-diastolic-ratio-" + name] = (sd, [p, e])
    FORMULAS["pulsatility-index-" + name] = (pi, [p, e, m + "|" + name + "-time-averaged-mean-velocity"])
lpa = "left-pulmonary-artery-"
FORMULAS["pulsatility-index-left-pulmonary-artery"] = (pi, [lpa + "peak-systolic-velocity", lpa + "end-diastolic-velocity",
                                                           lpa + "time-averaged-velocity|" + lpa + "time-averaged-mean-velocity"])
FORMULAS["systolic-diastolic-ratio-duct"] = (sd, ["duct-peak-systolic-velocity", "duct-end-diastolic-velocity"])
ZONES = {6: ["upper-anterior", "lower-anterior", "lateral"], 8: ["upper-anterior", "lower-anterior", "upper-lateral", "lower-lateral"],
         10: ["upper-anterior", "lower-anterior", "lateral", "upper-posterior", "lower-posterior"],
         12: ["%s-%s" % (h, z) for z in ("anterior", "lateral", "posterior") for h in ("upper", "lower")]}
for count, names in ZONES.items():
    FORMULAS["lung-score-%d-zones" % count] = (scores, ["lung-score-" + z for z in names] * 2)

# Units as written, with the factor into the units of the formulas.
UNITS = {"mm": ("cm", 0.1), "cm": ("cm", 1), "m": ("cm", 100), "mm2": ("cm2", 0.01), "cm2": ("cm2", 1), "s": ("s", 1), "ms": ("s", 1e-3),
         "cm/s": ("cm/s", 1), "m/s": ("cm/s", 100), "mm/s": ("cm/s", 0.1), "mL": ("mL", 1), "ml": ("mL", 1), "cm3": ("mL", 1),
         "/min": ("/min", 1), "{H.B.}/min": ("/min", 1), "bpm": ("/min", 1), "1": ("1", 1), "": ("1", 1)}


def last_place(text):
    mantissa, _, exponent = text.lower().partition("e")
    return 10.0 ** (int(exponent or 0) - len(mantissa.partition(".")[2]))


# Powers of length, time and velocity in a quantity.
POWERS = {"distance": (1, 0, 0), "length": (1, 0, 0), "perimeter": (1, 0, 0), "depth": (1, 0, 0), "depth-difference": (1, 0, 0),
          "rate": (0, -1, 0), "area": (2, 0, 0), "volume": (3, 0, 0), "duration": (0, 1, 0), "slope": (1, -1, 0), "velocity": (0, 0, 1),
          "velocity-difference": (0, 0, 1), "mean-velocity": (0, 0, 1), "acceleration": (0, -1, 1),
          "velocity-time-integral": (0, 1, 1), "mean-gradient": (0, 0, 2), "angle": (0, 0, 0)}


class Row:
    """A measurement as a function of what is not known of it. Each error has a key; at
    the complex step along one it moves by as much as a standard uncertainty of it."""

    def __init__(self, row, images, devices, tolerance, placement):
        self.row, self.rebuilt = row, bool(row["rebuilt"] and row["verdict"] != "suspect")
        unit = row["rebuilt_unit"] if self.rebuilt else row["reported_unit"]
        self.usable = unit in UNITS and bool(self.rebuilt or row["reported"])
        if not self.usable:
            return
        if not self.rebuilt:
            self.k = UNITS[row["reported_unit"]][1]
            self.value = float(row["reported"])
            self.errors = {("rounding", row["study_uid"], row["measurement"]): last_place(row["reported"]) / 2 / math.sqrt(3)}
            return
        self.k = UNITS[row["rebuilt_unit"]][1]
        if row["geometry"] == "frames":
            frames = [int(f) for f in row["frame"].split()]
            self.value, parts = rebuild.interval(images[row["sop_uid"]], frames)
            self.errors = {(row["sop_uid"],) + key: p for key, p in parts.items()}
            return
        if row["geometry"] == "biplane-discs":
            self.two_planes(images, tolerance, placement, devices)
            return
        points = rebuild.open_ring(row["geometry"], rebuild.points_of(row["points"]))
        image = images[row["sop_uid"]]
        scale = next(s for s in rebuild.scales_of(image, points) if s.number == int(row["region"] or 0))
        self.f, self.points = rebuild.quantity(row["quantity"], row["geometry"], scale, rebuild.cycles_of(row)), points
        self.u = placement.get(row["measure"], rebuild.U_PIXEL)
        self.place = (row["sop_uid"], "" if row["frame"] == "1" else row["frame"])
        self.value = rebuild.moved(self.f, points).real
        # Coordinates are moved in the caliper itself, see at.
        self.errors = {self.place + (p, axis): None for p in points for axis in (0, 1)}
        for scale, power in zip("LTV", POWERS[row["quantity"]]):
            if tolerance and power:
                self.errors[(devices.get(row["sop_uid"], row["sop_uid"]), scale)] = power * self.value * tolerance / math.sqrt(3)

    def two_planes(self, images, tolerance, placement, devices):
        """A volume of the contours of two images, each of whose points is moved on its own
        image."""
        row, self.planes, self.errors = self.row, [], {}
        for prefix, measure in zip(("", "second_"), rebuild.plane_measures(row)):
            points = rebuild.open_ring("discs", rebuild.points_of(row[prefix + "points"]))
            uid, frame = row[prefix + "sop_uid"], row[prefix + "frame"]
            scale = next(s for s in rebuild.scales_of(images[uid], points) if s.number == int(row[prefix + "region"] or 0))
            place = (uid, "" if frame == "1" else frame)
            self.planes.append((place, points, scale, placement.get(measure, rebuild.U_PIXEL)))
            self.errors.update({place + (p, axis): None for p in points for axis in (0, 1)})
        self.value = self.both(None).real
        if tolerance:
            self.errors[(devices.get(row["sop_uid"], row["sop_uid"]), "L")] = 3 * self.value * tolerance / math.sqrt(3)

    def both(self, error):
        placed = []
        for place, points, scale, u in self.planes:
            here = error is not None and error[:2] == place
            point, axis = error[2:] if here else (None, 0)
            placed.append(rebuild.moved(scale.scaled, points, point, axis, u * STEP))
        return rebuild.elliptic_discs(*placed)

    def at(self, error):
        """The value in the units of the formulas, moved along an error."""
        by = self.errors.get(error, 0.0)
        if by is None and self.row["geometry"] == "biplane-discs":
            return self.both(error) * self.k
        if by is None:
            return rebuild.moved(self.f, self.points, error[2], error[3], self.u * STEP) * self.k
        return complex(self.value, by * STEP) * self.k


def mean(rows):
    """The mean of the rows as a function of an error, each caliper once."""
    seen = set()
    for r in rows:
        row = r.row
        caliper = (row["sop_uid"], row["geometry"], row["quantity"], row["points"], "" if row["frame"] == "1" else row["frame"])
        if r.rebuilt and caliper in seen:
            raise ValueError("one caliper twice")
        seen.add(caliper)
    return lambda error: sum(r.at(error) for r in rows) / len(rows)


def inputs(needs, named, weight):
    """The inputs of a formula as functions of an error, and all errors."""
    list_, errors = [], set()
    for need in needs:
        if need is KG:
            u = last_place(weight) / 2 / math.sqrt(3)
            errors.add(KG)
            list_.append(lambda error, u=u: complex(float(weight), u * STEP if error is KG else 0))
        elif isinstance(need, float):
            list_.append(lambda error, need=need: complex(need))
        else:
            stand_in = isinstance(need, tuple)
            names = [need[0], need[2]] if stand_in else need.split("|")
            name = next((n for n in names if named.get(n)), None)
            if name is None:
                raise KeyError(names[0])
            rows = named[name]
            if len(needs) > len(set(map(str, needs))):  # both sides of one measure, in order
                rows = [rows.pop(0)]
            m = mean(rows)
            if name == "beat-count" or name.startswith("lung-score"):
                m = lambda error, m=m: m(None)  # counted, not measured
            else:
                errors.update(*(r.errors for r in rows))
            if stand_in and name == need[2]:
                m = lambda error, m=m, f=need[1]: f(m(error))
            list_.append(m)
    return list_, errors


def evaluate(f, needs, named, weight):
    """Value and U of an index from the measurements that its row names, in order."""
    functions, errors = inputs(needs, named, weight)
    value = f(*[x(None) for x in functions]).real
    variance = sum((f(*[x(e) for x in functions]).imag / STEP) ** 2 for e in errors)
    return value, 2 * math.sqrt(variance)


def check(index, row, rows, weight):
    """What is wrong with one row, '' where nothing is."""
    f, needs = FORMULAS[index]
    named = collections.defaultdict(list)
    for item in filter(None, row["inputs"].split("; ")):
        m = re.fullmatch(r"measurement (\d+) \(([a-z0-9-]+)\)", item)
        if m is None:
            continue
        r = rows[int(m[1])]
        if r.row["measure"] != m[2]:
            return "measurement %s is no %s" % m.groups()
        named[m[2]].append(r)
    for measure, used in named.items():
        if not all(r.usable for r in used) or len({r.rebuilt for r in used}) > 1:
            return "an input without a value, or rebuilt and reported mixed"
    try:
        value, u = evaluate(f, needs, named, weight)
    except Refused:
        return "" if row["value"] == "" else "value %s of a formula that refuses" % row["value"]
    except KeyError as e:
        return "" if row["value"] == "" else "value %s without %s" % (row["value"], e)
    except ValueError as e:
        return str(e)
    if row["value"] == "":
        return "no value (%s), here %r" % (row["note"], value)
    if not math.isclose(float(row["value"]), value, rel_tol=RELATIVE, abs_tol=1e-12):
        return "value %s, here %r" % (row["value"], value)
    # Where all errors cancel, as in a share of the same trace, doubles leave some dozens of a last digit of the value.
    if not math.isclose(float(row["uncertainty"]), u, rel_tol=RELATIVE, abs_tol=1e-14 * max(1, abs(value))):
        return "U %s, here %r" % (row["uncertainty"], u)
    return ""


def could(needs, measured):
    for need in needs:
        if need is KG or isinstance(need, float):
            continue
        names = [need[0], need[2]] if isinstance(need, tuple) else need.split("|")
        if not any(n in measured for n in names):
            return False
    return True


def table(folder, name):
    with open(os.path.join(folder, name + ".csv"), newline="", encoding="utf-8") as f:
        return list(csv.DictReader(f))


def main(folder, roots, tolerance=0.0, placement=()):
    studies = collections.defaultdict(dict)
    devices = {r["sop_uid"]: r["device"] for r in table(folder, "regions")}
    images = {}
    for data in rebuild.headers(roots):
        images.setdefault(data.SOPInstanceUID, data)
    for r in table(folder, "measurements"):
        studies[r["study_uid"]][int(r["measurement"])] = Row(r, images, devices, tolerance, dict(placement))
    weights = {r["study_uid"]: r["patient_weight_kg"] for r in table(folder, "studies")}
    differences, kinds, present = [], collections.Counter(), collections.defaultdict(set)
    compared = 0
    for row in table(folder, "indices"):
        index = re.sub("-(left|right)$", "", row["index"]) if row["index"] not in FORMULAS else row["index"]
        present[row["study_uid"]].add(index)
        kinds[index + ("" if row["value"] else " (absent)")] += 1
        if index not in FORMULAS:
            differences.append("index %s has no formula here" % row["index"])
            continue
        compared += row["value"] != ""
        weight = weights[row["study_uid"]]
        wrong = check(index, row, studies[row["study_uid"]], weight)
        # A weight that cannot be a newborn's in kilograms is none.
        if wrong and KG in FORMULAS[index][1] and row["value"] == "" and not 0.2 <= float(weight or 0) <= 30:
            wrong = ""
        if wrong:
            differences.append("%s of study %s: %s" % (row["index"], row["study_uid"], wrong))
    for uid, rows in studies.items():
        measured = {r.row["measure"] for r in rows.values() if r.row["measure"]}
        for index, (_, needs) in FORMULAS.items():
            if index not in present[uid] and not index.startswith("lung-score") and could(needs, measured):
                differences.append("%s of study %s: no row, though all was measured" % (index, uid))
    for d in differences:
        print("DIFFERENCE " + d)
    for kind, n in sorted(kinds.items()):
        print("%s: %d" % (kind, n))
    print("indices %d, compared %d, differences %d" % (sum(kinds.values()), compared, len(differences)))
    if compared == 0:
        print("DIFFERENCE nothing was compared")
        return 1
    return 1 if differences else 0


if __name__ == "__main__":
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--tolerance", type=float, default=0.0)
    options.add_argument("--placement", action="append", default=[], metavar="MEASURE=PIXELS")
    options.add_argument("tables")
    options.add_argument("roots", nargs="+")
    given = options.parse_args()
    placing = [(m, float(px)) for m, px in (p.split("=") for p in given.placement)]
    sys.exit(main(given.tables, given.roots, given.tolerance, placing))
