#!/usr/bin/env python3
"""Rebuilds measurements a second time, from headers that pydicom reads.

    rebuild.py [--tolerance T] [--placement MEASURE=PIXELS]... TABLES CALIPERS ROOT...

TABLES is the folder of `leadline audit ROOT... --identity full --calipers CALIPERS
--tables TABLES`. Nothing of Leadline's is used but the rows to be checked: numbers
and points come from the content trees of the reports, from the graphics of the
presentation states and from the caliper table, calibration from the headers of the
images, and uncertainty from derivatives by the complex step (Squire and Trapp 1998,
SIAM Review 40:110), which are exact to the last digits. T and PIXELS are what the
protocol of the audit gives: the tolerance of the calibration, 0.02 for 2 %, and the
placing errors; the protocol must apply to every study.

Checked are for every row of measurements.csv: that its number and its points stand
in its source, that quantity, value and U (k = 2) agree to 1e-9, and that the verdict
follows from them; and that every number of every report has one row. Prints each
difference, ends with 1 if there is any.
"""
import argparse
import cmath
import collections
import copy
import csv
import math
import os
import re
import sys
import warnings

import pydicom

warnings.simplefilter("ignore")

RELATIVE = 1e-9
# Half-width of half a pixel, rectangular (JCGM 100:2008 4.3.7).
U_PIXEL = 0.5 / math.sqrt(3)
STEP = 1e-30
CM, SECOND, CM_PER_S = 3, 4, 7  # PS3.3 C.8.5.5.1.15


# ---- geometry: functions of the coordinates in physical units, complex ----------

def mag(z):
    return z if z.real >= 0 else -z


def hypot(x, y):
    return cmath.sqrt(x * x + y * y)


def path(p, closed=False):
    p = [q for i, q in enumerate(p) if i == 0 or q != p[i - 1]]
    ends = list(zip(p, p[1:] + p[:1])) if closed else list(zip(p, p[1:]))
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in ends)


def polygon_area(p):
    return mag(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(p, p[1:] + p[:1]))) / 2


def semi_axes(p):
    a = [(p[1][i] - p[0][i]) / 2 for i in (0, 1)]
    b = [(p[3][i] - p[2][i]) / 2 for i in (0, 1)]
    return a, b


def ellipse_area(p):
    a, b = semi_axes(p)
    return math.pi * mag(a[0] * b[1] - a[1] * b[0])


def ramanujan(p, q):
    h = ((p - q) / (p + q)) ** 2
    return math.pi * (p + q) * (1 + 3 * h / (10 + cmath.sqrt(4 - 3 * h)))


def principal(a, b):
    """The semi-axes of the ellipse with conjugate semi-diameters a and b."""
    both = a[0] ** 2 + a[1] ** 2 + b[0] ** 2 + b[1] ** 2
    product = mag(a[0] * b[1] - a[1] * b[0])
    total = cmath.sqrt(both + 2 * product)
    apart = cmath.sqrt(both - 2 * product)
    return (total + apart) / 2, (total - apart) / 2


def angle(p):
    if len(p) == 3:
        u = (p[0][0] - p[1][0], p[0][1] - p[1][1])
        v = (p[2][0] - p[1][0], p[2][1] - p[1][1])
    else:
        u = (p[1][0] - p[0][0], p[1][1] - p[0][1])
        v = (p[3][0] - p[2][0], p[3][1] - p[2][1])
    cross, dot = mag(u[0] * v[1] - u[1] * v[0]), u[0] * v[0] + u[1] * v[1]
    if len(p) == 4:
        dot = mag(dot)
    turned = cmath.atan(cross / dot) if dot != 0 else complex(math.pi / 2)
    if turned.real < 0:
        turned += math.pi
    return turned * 180 / math.pi


def widths(p):
    """The widths of twenty discs and the length; the first two points are the long axis.
    Each width is found by cutting every edge of the contour with the line across the
    axis, in the coordinates along and across it."""
    a, b, contour = p[0], p[1], p[2:]
    length = hypot(b[0] - a[0], b[1] - a[1])
    cos, sin = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    turned = [((x - a[0]) * cos + (y - a[1]) * sin, (y - a[1]) * cos - (x - a[0]) * sin) for x, y in contour]
    found = []
    for i in range(20):
        at = length * (2 * i + 1) / 40
        cuts = []
        for (x0, y0), (x1, y1) in zip(turned, turned[1:] + turned[:1]):
            if (x0.real < at.real) != (x1.real < at.real):
                cuts.append(y0 + (y1 - y0) * (at - x0) / (x1 - x0))
        found.append(mag(cuts[1] - cuts[0]))
    return found, length


def discs(p):
    """Round discs."""
    found, length = widths(p)
    return sum(math.pi * (width / 2) ** 2 * length / 20 for width in found) / 1000


def elliptic_discs(p, q):
    """Discs whose axes are the widths of two planes, as high as the longer axis gives."""
    (a, la), (b, lb) = widths(p), widths(q)
    length = la if la.real >= lb.real else lb
    return sum(math.pi * wa / 2 * wb / 2 * length / 20 for wa, wb in zip(a, b)) / 1000


def without_way_back(t, v, row):
    """The envelope of a closed outline, whose points lie on the zero line where they are
    within row (cm/s) of it: one piece off that line, the points of the line at both ends
    of it, and whatever of the line goes on from there in the direction of the piece. The
    rest leads back and is left out."""
    n = len(t)
    on = [abs(z.real) <= row for z in v]
    foot = next(i for i in range(n) if on[i] and not on[(i + 1) % n])
    ring = [(foot + k) % n for k in range(n)]
    up = next(k for k in range(1, n) if on[ring[k]])
    if not all(on[i] for i in ring[up:]):
        raise ValueError("the outline leaves the zero line twice")
    kept, rest = ring[:up + 1], ring[up + 1:]
    forward = 1 if t[kept[-1]].real > t[kept[0]].real else -1
    while rest and (t[rest[0]] - t[kept[-1]]).real * forward > 0:
        kept.append(rest.pop(0))
    while rest and (t[kept[0]] - t[rest[-1]]).real * forward > 0:
        kept.insert(0, rest.pop())
    return [t[i] for i in kept], [v[i] for i in kept]


def closed_trace(name, t, v, row):
    """The same quantity of a closed outline. What it encloses is the integral of its
    envelope but for the way back, which is within a row of zero."""
    ends, speeds = without_way_back(t, v, row)
    enclosed = abs(polygon_area(list(zip(t, v))).real)
    if abs(abs(trace("velocity-time-integral", ends, speeds).real) / 10 - enclosed) > row * abs((ends[-1] - ends[0]).real):
        raise ValueError("the outline encloses another area than its envelope")
    return trace(name, ends, speeds)


def trace(name, t, v):
    """A quantity of the envelope v (cm/s) over the times t (s)."""
    if t[-1].real < t[0].real:
        t, v = t[::-1], v[::-1]
    pieces = list(zip(t, t[1:], v, v[1:]))
    area = sum((v0 + v1) * (t1 - t0) / 2 for t0, t1, v0, v1 in pieces)
    if name == "velocity-time-integral":
        return 10 * area
    if name == "velocity":
        return max(v, key=lambda z: abs(z.real))
    if name == "mean-velocity":
        return area / (t[-1] - t[0])
    # The integral of the square of a straight line is exact by Simpson's rule.
    square = sum((v0 ** 2 + 4 * ((v0 + v1) / 2) ** 2 + v1 ** 2) / 6 * (t1 - t0) for t0, t1, v0, v1 in pieces)
    return 4 * square / 100 ** 2 / (t[-1] - t[0])


def moved(f, points, point=None, axis=0, by=0.0):
    """f of the pixel points, of which all that equal one are moved together along an
    axis: points with the same coordinates are one."""
    step = [0j, 0j]
    step[axis] = complex(0, by)
    return f([(complex(x) + step[0], complex(y) + step[1]) if (x, y) == point else (complex(x), complex(y)) for x, y in points])


def value_and_u(f, points, u_pixel=U_PIXEL):
    """f of the pixel points, and its expanded uncertainty."""
    variance = sum((moved(f, points, p, axis, STEP).imag / STEP * u_pixel) ** 2 for p in set(points) for axis in (0, 1))
    return moved(f, points).real, 2 * math.sqrt(variance)


# ---- the time between two frames -----------------------------------------------

def interval(image, frames):
    """The seconds from one frame to another, and by what each thing that is not known
    moves them: where within each frame its moment lies (a rectangle as wide as the
    frame lasts), and the rounding of a rate to whole frames a second."""
    first, last = sorted(frames)
    pointer = image.get("FrameIncrementPointer") or []
    pointer = [int(t) for t in (pointer if isinstance(pointer, (list, pydicom.multival.MultiValue)) else [pointer])]
    vector = [float(s) for s in image.get("FrameTimeVector") or []]
    if len(vector) != int(image.NumberOfFrames) or min(vector[1:], default=-1) < 0 or sum(vector[1:]) <= 0:
        vector = []
    constant, rate = float(image.get("FrameTime") or 0), float(image.get("CineRate") or 0)
    if vector and not (0x00181063 in pointer and 0x00181065 not in pointer and constant > 0):
        seconds = sum(vector[first:last]) / 1000
        lasts = [vector[min(n, len(vector) - 1)] / 1000 for n in (first, last)]
        off = 0.0
    elif constant > 0:
        seconds, lasts, off = constant / 1000 * (last - first), [constant / 1000] * 2, 0.0
    else:
        seconds, lasts, off = (last - first) / rate, [1 / rate] * 2, (last - first) / rate * 0.5 / math.sqrt(3) / rate
    return seconds, {("frame", first): -lasts[0] / math.sqrt(12), ("frame", last): lasts[1] / math.sqrt(12), ("period",): off}


# ---- calibration from a header -------------------------------------------------

class Scale:
    """One calibration: units and steps of both axes, and the zero of y."""

    def __init__(self, number, ux, uy, dx, dy, zero=None):
        self.number, self.ux, self.uy, self.dx, self.dy, self.zero = number, ux, uy, dx, dy, zero

    def step(self, unit, delta):
        return delta * 10 if unit == CM else delta  # lengths in mm

    def scaled(self, p):
        return [(x * self.step(self.ux, self.dx), y * self.step(self.uy, self.dy)) for x, y in p]


def number(item, keyword):
    v = item.get(keyword)
    return None if v is None or v == "" else float(v)


def scales_of(image, points):
    """The calibrations of the regions that hold all points, else Pixel Spacing."""
    found = []
    for i, r in enumerate(image.get("SequenceOfUltrasoundRegions") or [], 1):
        x0, y0, x1, y1 = (number(r, "RegionLocation" + k) for k in ("MinX0", "MinY0", "MaxX1", "MaxY1"))
        if None in (x0, y0, x1, y1):
            continue
        if not all(x0 <= x <= x1 + 1 and y0 <= y <= y1 + 1 for x, y in points):
            continue
        dx, dy = number(r, "PhysicalDeltaX"), number(r, "PhysicalDeltaY")
        zero = None
        if number(r, "ReferencePixelY0") is not None and dy:
            zero = (y0 + number(r, "ReferencePixelY0") + 0.5, number(r, "ReferencePixelPhysicalValueY") or 0.0)
        found.append(Scale(i, r.get("PhysicalUnitsXDirection"), r.get("PhysicalUnitsYDirection"), dx or 0.0, dy or 0.0, zero))
    spacing = image.get("PixelSpacing")
    if not found and spacing:
        found.append(Scale(0, CM, CM, float(spacing[1]) / 10, float(spacing[0]) / 10))
    return found


def lengths(s):
    return s.ux == CM and s.uy == CM and s.dx and s.dy


# Each quantity: which scales serve, and the function of the pixel points.
def quantity(name, geometry, s, cycles=1):
    """The function for a quantity in one scale, None where it does not serve. A rate is
    of so many cycles."""
    if name in ("distance", "length", "perimeter", "area", "angle"):
        if not lengths(s):
            return None
        if geometry == "circle":
            return circle(name, s)
        f = {
            ("distance", "line"): path, ("length", "polyline"): path,
            ("perimeter", "polygon"): lambda p: path(p, True),
            ("perimeter", "ellipse"): lambda p: ramanujan(*principal(*semi_axes(p))),
            ("area", "polygon"): polygon_area, ("area", "ellipse"): ellipse_area,
            ("angle", "polyline"): angle,
        }.get((name, geometry))
        return f and (lambda p: f(s.scaled(p)))
    if name == "volume":
        return (lambda p: discs(s.scaled(p))) if lengths(s) and geometry == "discs" else None
    if geometry in ("polyline", "polygon"):
        if s.ux != SECOND or s.uy != CM_PER_S or not s.dx or not s.dy or s.zero is None:
            return None
        def traced(p):
            t, v = [x * s.dx for x, _ in p], [s.zero[1] + (y - s.zero[0]) * s.dy for _, y in p]
            return closed_trace(name, t, v, abs(s.dy)) if geometry == "polygon" else trace(name, t, v)
        return traced
    if name == "duration":
        return (lambda p: mag(p[1][0] - p[0][0]) * abs(s.dx)) if s.ux == SECOND and s.dx else None
    if name == "rate":
        return (lambda p: cycles * 60 / (mag(p[1][0] - p[0][0]) * abs(s.dx))) if s.ux == SECOND and s.dx else None
    if name == "depth-difference":
        return (lambda p: mag(p[1][1] - p[0][1]) * abs(s.dy) * 10) if s.ux == SECOND and s.uy == CM and s.dy else None
    if name == "velocity-difference":
        return (lambda p: mag(p[1][1] - p[0][1]) * abs(s.dy)) if s.uy == CM_PER_S and s.dy else None
    if name in ("velocity", "depth"):
        unit, k = (CM_PER_S, 1) if name == "velocity" else (CM, 10)
        if s.uy != unit or not s.dy or s.zero is None:
            return None
        return lambda p: k * (s.zero[1] + (p[0][1] - s.zero[0]) * s.dy)
    if name in ("slope", "acceleration"):
        unit = CM if name == "slope" else CM_PER_S
        if s.ux != SECOND or s.uy != unit or not s.dx or not s.dy:
            return None
        return lambda p: (p[1][1] - p[0][1]) * s.dy / ((p[1][0] - p[0][0]) * s.dx)
    return None


def cycles_of(row):
    """How many cycles the note of a rate takes its line as."""
    said = re.search(r"taken as (\d+) cycles", row["note"])
    return int(said[1]) if said else 1


def circle(name, s):
    """A circle drawn in pixels is an ellipse in the body."""
    def radius(p):
        return hypot(p[1][0] - p[0][0], p[1][1] - p[0][1])
    dx, dy = abs(s.dx) * 10, abs(s.dy) * 10
    if name == "area":
        return lambda p: math.pi * radius(p) ** 2 * dx * dy
    if name == "perimeter":
        return lambda p: ramanujan(radius(p) * dx, radius(p) * dy)
    if name == "distance" and dx == dy:
        return lambda p: 2 * radius(p) * dx
    return None


def with_tolerance(u, row, s, points, tolerance):
    """U with the error of the scale of length, time and velocity, each of which moves
    all axes of its unit; by central differences, good to some 1e-11."""
    variance, h = (u / 2) ** 2, 1e-5
    for unit in {s.ux, s.uy}:
        moved = []
        for k in (1 + h, 1 - h):
            c = copy.copy(s)
            c.dx, c.dy = (c.dx * k if c.ux == unit else c.dx), (c.dy * k if c.uy == unit else c.dy)
            moved.append(value_and_u(quantity(row["quantity"], row["geometry"], c, cycles_of(row)), points)[0])
        variance += ((moved[0] - moved[1]) / (2 * h) * tolerance / math.sqrt(3)) ** 2
    return 2 * math.sqrt(variance)


# ---- what the sources say ------------------------------------------------------

def pairs(values):
    v = [float(x) for x in values]
    return list(zip(v[0::2], v[1::2]))


Graphic = collections.namedtuple("Graphic", "kind images points")
Number = collections.namedtuple("Number", "code text")


def read_report(data):
    """All graphics and all numbers of a content tree, wherever they hang."""
    graphics, numbers = [], []

    def resolve(root, ids):
        node = root
        for i in ids[1:]:
            node = node.ContentSequence[i - 1]
        return node

    def images_below(item):
        found = []
        for child in item.get("ContentSequence") or []:
            if "ReferencedContentItemIdentifier" in child:
                child = resolve(data, child.ReferencedContentItemIdentifier)
            for ref in child.get("ReferencedSOPSequence") or []:
                found.append(ref.ReferencedSOPInstanceUID)
        return found

    def walk(item):
        kind = item.get("ValueType")
        if kind == "SCOORD" and "GraphicData" in item:
            graphics.append(Graphic(item.GraphicType, tuple(images_below(item)), pairs(item.GraphicData)))
        # Numbers that describe an image (rows, spacing; PS3.16 TID 1602) are no measurements.
        if kind == "NUM" and item.get("RelationshipType") != "HAS ACQ CONTEXT":
            concept = item.ConceptNameCodeSequence[0]
            measured = item.get("MeasuredValueSequence") or []
            text = str(measured[0].NumericValue.original_string).strip() if measured else ""
            numbers.append(Number(concept.CodeValue, text))
        for child in item.get("ContentSequence") or []:
            walk(child)

    walk(data)
    return graphics, numbers


def read_state(data):
    """The graphics of a presentation state in pixels of the image."""
    whole = [r.ReferencedSOPInstanceUID for s in data.get("ReferencedSeriesSequence") or [] for r in s.ReferencedImageSequence]
    area = (data.get("DisplayedAreaSelectionSequence") or [None])[0]
    graphics = []
    for note in data.get("GraphicAnnotationSequence") or []:
        images = [r.ReferencedSOPInstanceUID for r in note.get("ReferencedImageSequence") or []] or whole
        for g in note.get("GraphicObjectSequence") or []:
            points = pairs(g.GraphicData)
            if g.GraphicAnnotationUnits == "DISPLAY":
                # Fractions of the displayed area, whose corners are pixels from 1 (PS3.3 C.10.4, C.10.5).
                left, top = area.DisplayedAreaTopLeftHandCorner
                right, bottom = area.DisplayedAreaBottomRightHandCorner
                points = [(left - 1 + x * (right - left + 1), top - 1 + y * (bottom - top + 1)) for x, y in points]
            graphics.append(Graphic(g.GraphicType, tuple(images), points))
    return graphics


def points_of(text):
    return [tuple(float(c) for c in p.split(",")) for p in text.replace(";", " ").split()]


def drawn_of(row):
    """The points of a row, or the two frames of an interval as one pair."""
    if row["geometry"] == "frames":
        return [tuple(float(f) for f in row["frame"].replace(";", " ").split())]
    return points_of(row["points"])


def open_ring(geometry, points):
    """The points of a caliper: a vertex of an outline written twice is one."""
    first = {"polygon": 0, "discs": 2}.get(geometry)
    return points[:-1] if first is not None and points[first] == points[-1] else points


def read_table(path_):
    with open(path_, newline="", encoding="utf-8") as f:
        return [Graphic(r["geometry"], (r.get("sop_uid"),), drawn_of(r)) for r in csv.DictReader(f)]


def close(p, q):
    return len(p) == len(q) and all(abs(a - b) <= 1e-9 * max(1, abs(a)) for m, n in zip(p, q) for a, b in zip(m, n))


# ---- the comparison ------------------------------------------------------------

# Factors into the unit of the rebuilt value, by unit as written.
FACTORS = {"mm": {"mm": 1, "cm": 10, "m": 1000}, "mm2": {"mm2": 1, "cm2": 100}, "s": {"s": 1, "ms": 1e-3},
           "cm/s": {"cm/s": 1, "m/s": 100, "mm/s": 0.1}, "deg": {"deg": 1}, "cm/s2": {"cm/s2": 1, "m/s2": 100},
           "mL": {"mL": 1, "cm3": 1}, "mm[Hg]": {"mm[Hg]": 1}}


def last_place(text):
    mantissa, _, exponent = text.lower().partition("e")
    _, _, fraction = mantissa.partition(".")
    return 10.0 ** (int(exponent or 0) - len(fraction))


def verdict(row, value, u, positive_up):
    """The verdict that follows from a rebuilt value, '' where none can be told."""
    if row["reported"] == "":
        return "rebuilt-only"
    factor = FACTORS[row["rebuilt_unit"]].get(row["reported_unit"])
    if factor is None:
        return ""
    reported = float(row["reported"]) * factor
    if row["quantity"] == "velocity" and positive_up:
        reported, value = abs(reported), abs(value)
    return "agrees" if abs(reported - value) <= 0.5 * last_place(row["reported"]) * factor + u else "differs"


def drawn(graphics, image, geometry, points):
    """The points as the source has them, None where it has not. The long axis and the
    contour of discs are two graphics in a report and one row of a table."""
    def as_one(wanted):
        return next((g.points for g in graphics if image in g.images and close(g.points, wanted)), None)
    if geometry == "discs" and as_one(points) is None:
        axis = as_one(points[:2])
        contour = as_one(points[2:]) or as_one(points[2:] + points[2:3])
        return axis and contour and axis + contour
    return as_one(points)


def plane_measures(row):
    """The measures that the placing errors of both planes are given for: their own where
    the volume was made from two measurements, else that of the volume."""
    if "from the contours of measurements" not in row["note"]:
        return [row["measure"]] * 2
    return [row["measure"].replace("biplane", plane) for plane in ("four-chamber", "two-chamber")]


def check_biplane(row, graphics, images, tolerance, placement):
    """The same for a volume of two planes, each in the calibration of its own image."""
    parts = []
    for prefix in ("", "second_"):
        points = drawn(graphics, row[prefix + "sop_uid"], "discs", points_of(row[prefix + "points"]))
        if points is None:
            return "a plane stands in no graphic of its source"
        points = open_ring("discs", points)
        scales = [s for s in scales_of(images[row[prefix + "sop_uid"]], points) if lengths(s)]
        if not scales or all(s.number != int(row[prefix + "region"] or 0) for s in scales):
            return "no calibration of the header serves, or another one"
        parts.append((points, scales[0]))
    (p, sp), (q, sq) = parts
    # Points of two images are never one, so each plane is moved beside the other.
    by = [placement.get(m, U_PIXEL) for m in plane_measures(row)]
    value, u = value_and_u(lambda z: elliptic_discs(sp.scaled(z), sq.scaled(q)), p, by[0])
    _, v = value_and_u(lambda z: elliptic_discs(sp.scaled(p), sq.scaled(z)), q, by[1])
    u = math.hypot(u, v)
    if tolerance:  # both scales off alike: a volume is a length to the third power
        u = 2 * math.sqrt((u / 2) ** 2 + (3 * value * tolerance / math.sqrt(3)) ** 2)
    if not math.isclose(float(row["rebuilt"]), value, rel_tol=RELATIVE):
        return "rebuilt %s, here %r" % (row["rebuilt"], value)
    if not math.isclose(float(row["uncertainty"]), u, rel_tol=RELATIVE):
        return "U %s, here %r" % (row["uncertainty"], u)
    wanted = verdict(row, value, u, False)
    return "" if row["verdict"] in (wanted, "suspect") else "verdict %s, here %s" % (row["verdict"], wanted)


def check(row, sources, images, table, tolerance, placement):
    """What is wrong with a row that was rebuilt, '' where nothing is."""
    points = drawn_of(row)
    graphics = table if row["source"] == "table" else sources[row["source_uid"]]
    if row["geometry"] == "biplane-discs":
        return check_biplane(row, graphics, images, tolerance, placement)
    points = drawn(graphics, row["sop_uid"], row["geometry"], points)
    if points is None:
        return "its points stand in no graphic of its source"
    points = open_ring(row["geometry"], points)
    image = images[row["sop_uid"]]
    results = []
    if row["geometry"] == "frames":
        seconds, parts = interval(image, [int(f) for f in points[0]])
        return compared(row, [(None, seconds, 2 * math.sqrt(sum(p * p for p in parts.values())))])
    for s in scales_of(image, points):
        f = quantity(row["quantity"], row["geometry"], s, cycles_of(row))
        if f:
            value, u = value_and_u(f, points, placement.get(row["measure"], U_PIXEL))
            results.append((s, value, with_tolerance(u, row, s, points, tolerance) if tolerance else u))
    if not results:
        return "no calibration of the header serves"
    if str(results[0][0].number) != (row["region"] or "0") and all(r[0].number != int(row["region"] or 0) for r in results):
        return "region %s, here %s" % (row["region"], [r[0].number for r in results])
    return compared(row, results)


def compared(row, results):
    for s, value, u in results:
        where = "region %d" % s.number if s else "the frames"
        if not math.isclose(float(row["rebuilt"]), value, rel_tol=RELATIVE, abs_tol=1e-12):
            return "rebuilt %s, by %s here %r" % (row["rebuilt"], where, value)
        if not math.isclose(float(row["uncertainty"]), u, rel_tol=RELATIVE, abs_tol=0):
            return "U %s, by %s here %r" % (row["uncertainty"], where, u)
    s, value, u = results[0]
    wanted = verdict(row, value, u, s is not None and s.dy > 0)
    if row["verdict"] not in (wanted, "suspect"):
        return "verdict %s, here %s" % (row["verdict"], wanted)
    return ""


def read(path_):
    try:
        data = pydicom.dcmread(path_, force=True, stop_before_pixels=True)
        return data if "SOPInstanceUID" in data else None
    except Exception:
        return None


def headers(roots):
    """The headers of all files, in the order of their paths."""
    for path_ in sorted(os.path.join(d, n) for root in roots for d, _, names in os.walk(root) for n in names):
        data = read(path_)
        if data is not None:
            yield data


def main(tables, calipers, roots, tolerance=0.0, placement=()):
    images, sources, numbers = {}, {}, collections.Counter()
    for data in headers(roots):
        if data.SOPInstanceUID in images or data.SOPInstanceUID in sources:
            continue
        if data.get("Modality") == "PR":
            sources[data.SOPInstanceUID] = read_state(data)
        elif data.get("ValueType") == "CONTAINER":
            sources[data.SOPInstanceUID], found = read_report(data)
            numbers.update((data.SOPInstanceUID, n.code, n.text) for n in found)
        elif "Rows" in data:
            images[data.SOPInstanceUID] = data
    table = read_table(calipers)

    differences, rebuilt, kinds = [], 0, collections.Counter()
    with open(os.path.join(tables, "measurements.csv"), newline="", encoding="utf-8") as f:
        rows = list(csv.DictReader(f))
    for row in rows:
        name = "measurement %s of study %s" % (row["measurement"], row["study_uid"])
        if row["source"] == "report":
            numbers[(row["source_uid"], row["code"], row["reported"])] -= 1
        if row["rebuilt"] == "":
            continue
        rebuilt += 1
        kinds[row["source"] + " " + row["quantity"]] += 1
        wrong = check(row, sources, images, table, tolerance, dict(placement))
        if wrong:
            differences.append("%s: %s" % (name, wrong))
    # Where neither unit nor measure decides, one number stands in two rows.
    for (uid, code, text), n in numbers.items():
        if n > 0:
            differences.append("report %s: number %s = %r has %d rows too few" % (uid, code, text, n))
        if n < 0 and text != "":
            differences.append("report %s: number %s = %r has %d rows too many" % (uid, code, text, -n))
    for d in differences:
        print("DIFFERENCE " + d)
    for kind, n in sorted(kinds.items()):
        print("%s: %d" % (kind, n))
    print("measurements %d, rebuilt and compared %d, differences %d" % (len(rows), rebuilt, len(differences)))
    if rebuilt == 0:
        print("DIFFERENCE nothing was compared")
        return 1
    return 1 if differences else 0


if __name__ == "__main__":
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--tolerance", type=float, default=0.0)
    options.add_argument("--placement", action="append", default=[], metavar="MEASURE=PIXELS")
    options.add_argument("tables")
    options.add_argument("calipers")
    options.add_argument("roots", nargs="+")
    given = options.parse_args()
    placing = [(m, float(px)) for m, px in (p.split("=") for p in given.placement)]
    sys.exit(main(given.tables, given.calipers, given.roots, given.tolerance, placing))
