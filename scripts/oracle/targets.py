#!/usr/bin/env python3
"""Judges scans of the test object of the demo a second time, from the files.

    targets.py TABLES ROOT

TABLES is the folder of `leadline calibration ROOT --phantom ROOT/test-object.yaml
--tables TABLES`, ROOT what `leadline demo ROOT --test-object` wrote. Of Leadline's,
nothing but its tables is read.

Checked for every row of targets.csv with a target: error_mm, measured_mm,
corrected_mm, between_sd_mm and within_sd_mm, to 1e-9 mm; for every row of charts.csv:
value, centre and limits. U and verdicts are not, for want of Student's quantiles in
the standard library. Prints each difference, ends with 1 if there is any.
"""
import collections
import csv
import glob
import math
import os
import re
import statistics
import sys

import pydicom

NEAR = 1e-9
ASSUMED = 1540


def numbers(data, found):
    for item in data.get("ContentSequence", []):
        if item.ValueType == "NUM":
            found.append(item)
        numbers(item, found)
    return found


def length(item, images):
    """Length in mm: from the caliper where there is one, else as reported."""
    if "ContentSequence" not in item:
        return float(item.MeasuredValueSequence[0].NumericValue)
    graphic = item.ContentSequence[0]
    image = images[graphic.ContentSequence[0].ReferencedSOPSequence[0].ReferencedSOPInstanceUID]
    region = image.SequenceOfUltrasoundRegions[0]
    x0, y0, x1, y1 = graphic.GraphicData
    return 10 * math.hypot((x1 - x0) * region.PhysicalDeltaX, (y1 - y0) * region.PhysicalDeltaY)


def read(root):
    """Tests by serial number and target: day to the lengths with their factor."""
    text = open(os.path.join(root, "test-object.yaml"), encoding="utf-8").read()
    degrees = {day: float(t) for day, t in re.findall(r"^    (\d{4}-\d\d-\d\d): ([\d.]+)$", text, re.M)}
    speed, at, per = (float(re.search(rf"^  {key}: ([\d.]+)$", text, re.M)[1]) for key in ("speed", "at-degrees", "per-degree"))
    targets = {t[0]: (t[1], float(t[2])) for t in re.findall(r"\{id: ([a-z0-9-]+), .*direction: (\w+), distance: ([\d.]+)", text)}
    images, reports = {}, []
    for path in glob.glob(os.path.join(root, "scans", "**", "*.dcm"), recursive=True):
        data = pydicom.dcmread(path, stop_before_pixels=True)
        if data.Modality == "US":
            images[data.SOPInstanceUID] = data
        else:
            reports.append(data)
    tests = collections.defaultdict(dict)
    for report in reports:
        day = f"{report.StudyDate[:4]}-{report.StudyDate[4:6]}-{report.StudyDate[6:]}"
        for item in numbers(report, []):
            target = item.ConceptNameCodeSequence[0].CodeValue
            factor = (speed + per * (degrees[day] - at)) / ASSUMED if targets[target][0] == "axial" else 1
            tests[report.DeviceSerialNumber, target].setdefault(day, []).append((length(item, images), factor))
    return tests, targets, re.search(r"to: (\d{4}-\d\d-\d\d)", text)[1]


def expected(tests, true):
    """The figures of a row over some tests."""
    measured = [statistics.mean(v for v, _ in values) for values in tests]
    corrected = [statistics.mean(v * f for v, f in values) for values in tests]
    return {
        "measured_mm": statistics.mean(measured), "corrected_mm": statistics.mean(corrected),
        "error_mm": statistics.mean(corrected) - true,
        "between_sd_mm": statistics.stdev(corrected) if len(tests) > 1 else None,
    }


def within(tests):
    squares = sum((len(t) - 1) * statistics.variance([v * f for v, f in t]) for t in tests)
    return math.sqrt(squares / sum(len(t) - 1 for t in tests))


def chart(tests, true, last):
    """Values and limits of both charts by day."""
    days = sorted(tests)
    errors = [expected([tests[d]], true)["error_mm"] for d in days]
    base = [e for d, e in zip(days, errors) if d <= last]
    centre = statistics.mean(base)
    sigma = statistics.mean(abs(b - a) for a, b in zip(base, base[1:])) / 1.128
    out, z = {}, centre
    for day, error in zip(days, errors):
        z = 0.3 * error + 0.7 * z
        half = 3 * sigma * math.sqrt(0.3 / 1.7)
        out["individuals", day] = (error, centre, centre - 3 * sigma, centre + 3 * sigma)
        out["ewma", day] = (z, centre, centre - half, centre + half)
    return out


def main(tables, root):
    tests, targets, last = read(root)
    wrong = held = 0

    def hold(what, got, want):
        nonlocal wrong, held
        held += 1
        if (got == "") != (want is None) or (got != "" and not abs(float(got) - want) <= NEAR):
            wrong += 1
            print(f"{what}: {got or 'nothing'}, Python finds {want}")

    for row in csv.DictReader(open(os.path.join(tables, "targets.csv"), encoding="utf-8")):
        if not row["target"]:
            continue
        series = tests[row["device"].split()[-1], row["target"]]
        taken = list(series.values()) if row["scope"] == "all" else [series[max(series)]]
        want = expected(taken, targets[row["target"]][1])
        want["within_sd_mm"] = within(series.values())
        for column, value in want.items():
            hold(f"{row['device']} {row['target']} {row['scope']} {column}", row[column], value)
    charts = {key: chart(series, targets[key[1]][1], last) for key, series in tests.items()}
    for row in csv.DictReader(open(os.path.join(tables, "charts.csv"), encoding="utf-8")):
        want = charts[row["device"].split()[-1], row["subject"]].pop((row["chart"], row["point"]))
        for column, value in zip(("value", "centre", "lower", "upper"), want):
            hold(f"{row['device']} {row['subject']} {row['chart']} {row['point']} {column}", row[column], value)
    missing = sum(len(points) for points in charts.values())
    print(f"{held} figures held, {wrong} differ, {missing} points of charts missing")
    return 1 if wrong or missing or held < 1000 else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
