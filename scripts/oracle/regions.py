#!/usr/bin/env python3
"""Compares Leadline's regions with what pydicom and dcmdump read.

    regions.py TABLES ROOT...

TABLES is the folder of `leadline audit ROOT... --identity full --tables TABLES`
(with less, paths that name a patient are withheld and cannot be opened here).
Every file that Leadline calls an image is read again by both toolkits, and for
every region of it bounds, units and deltas must be equal: integers exactly, deltas
as the same 64-bit number by pydicom, and to what dcmdump can print. Also every file in which a toolkit sees regions must be accounted
for: as an image, or as a copy of one. Prints each difference, ends with 1 if
there is any, and with a count of what was compared.
"""
import csv
import math
import os
import re
import struct
import subprocess
import sys
import warnings

import pydicom
import pydicom.config

warnings.simplefilter("ignore")

# Leadline's columns and the elements they come from (PS3.3 Table C.8-17).
FIELDS = [
    ("x0", "0018,6018"), ("y0", "0018,601a"), ("x1", "0018,601c"), ("y1", "0018,601e"),
    ("units_x", "0018,6024"), ("units_y", "0018,6026"),
    ("delta_x", "0018,602c"), ("delta_y", "0018,602e"),
]
TAGS = {t for _, t in FIELDS}

# dcmdump prints 17 digits of which the last is not rounded rightly (seen in 3.6.7:
# 0.08333333333333331 for 1/12, which it reads as the same bytes as everybody).
DCMDUMP_RELATIVE = 1e-15

# Physical units, PS3.3 C.8.5.5.1.15.
UNITS = ["none", "percent", "dB", "cm", "s", "Hz", "dB/s", "cm/s", "cm2", "cm2/s", "cm3", "cm3/s", "deg"]


def tag(text):
    group, element = text.split(",")
    return int(group, 16), int(element, 16)


def scalar(value):
    """The one value of an element, None where it has none."""
    if value is None or isinstance(value, (bytes, str)) and len(value) == 0:
        return None
    if isinstance(value, (list, pydicom.multival.MultiValue)):
        return value[0] if len(value) else None
    return value


def by_pydicom(path):
    """The regions of a file as pydicom reads them: a list of {tag: number}."""
    data = pydicom.dcmread(path, force=True, stop_before_pixels=True)
    regions = []
    for item in data.get((0x0018, 0x6011), pydicom.DataElement(0x00186011, "SQ", [])).value or []:
        region = {}
        for _, t in FIELDS:
            if tag(t) in item:
                region[t] = scalar(item[tag(t)].value)
        regions.append(region)
    return regions


NAME = re.compile(r"^# dcmdump \(\d+/\d+\): (.*)$")
LINE = re.compile(r"^(\s*)\(([0-9a-f]{4},[0-9a-f]{4})\) (\w\w) (.*?)\s*#")


def by_dcmdump(paths):
    """The regions of files as dcmdump prints them, by path. +E goes on where data
    are cut; a file that it cannot read has no entry."""
    run = subprocess.run(["dcmdump", "-q", "+E", "-M", "+L", "-Un", "+F", "+P", "0018,6011"] + paths,
                         stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, check=False)
    files, regions = {}, None
    for line in run.stdout.decode("utf-8", "surrogateescape").splitlines():
        name = NAME.match(line)
        if name:
            regions = files.setdefault(name[1], [])
            continue
        m = LINE.match(line)
        if not m:
            continue
        indent, t, vr, text = len(m[1]), m[2], m[3], m[4].strip()
        if indent == 2 and t == "fffe,e000":
            regions.append({})
        elif indent == 4 and t in TAGS:
            text = text.split("\\")[0]
            empty = text == "" or text.startswith("(no value")
            regions[-1][t] = None if empty else float(text) if vr == "FD" else int(text)
    return files


def same(column, ours, theirs, toolkit):
    """Tells whether a cell of regions.csv says what a toolkit read."""
    if theirs is None:
        return ours == ""
    if column.startswith("units"):
        word = UNITS[theirs] if theirs < len(UNITS) else "code %d" % theirs
        return ours == word
    if column.startswith("delta"):
        if not math.isfinite(theirs):
            return ours == ""
        if toolkit == "dcmdump":
            return ours != "" and math.isclose(float(ours), theirs, rel_tol=DCMDUMP_RELATIVE, abs_tol=0)
        return ours != "" and struct.pack("<d", float(ours) + 0.0) == struct.pack("<d", theirs + 0.0)
    return ours != "" and int(ours) == theirs


def compare(path, rows, toolkit, regions, say):
    if len(rows) != len(regions):
        say("%s: %d regions, by %s %d" % (path, len(rows), toolkit, len(regions)))
        return 0
    for i, (row, region) in enumerate(zip(rows, regions), 1):
        for column, t in FIELDS:
            if not same(column, row[column], region.get(t), toolkit):
                say("%s: region %d, %s: %r, by %s %r" % (path, i, column, row[column], toolkit, region.get(t)))
    return len(regions)


def rows_of(tables, name):
    with open(os.path.join(tables, name), newline="", encoding="utf-8") as f:
        return list(csv.DictReader(f))


def main(tables, roots):
    differences = []
    say = differences.append
    by_image = {}
    for row in rows_of(tables, "regions.csv"):
        by_image.setdefault(row["sop_uid"], []).append(row)
    files = rows_of(tables, "files.csv")
    listed = {f["path"]: f for f in files}
    if len(listed) != len(files):
        say("files.csv names a path twice")

    met = [os.path.join(folder, name) for root in roots for folder, _, names in os.walk(root, followlinks=True) for name in names]
    met += [root for root in roots if os.path.isfile(root)]
    if len(met) != len(files):
        say("%d files below the roots, %d rows in files.csv" % (len(met), len(files)))

    dumped = by_dcmdump(sorted(met))
    images, compared, disputed = 0, {"pydicom": 0, "dcmdump": 0}, 0
    for path in sorted(met):
        entry = listed.get(path)
        if entry is None:
            say("%s: not in files.csv" % path)
            continue
        readings = {"pydicom": None, "dcmdump": dumped.get(path)}
        try:
            readings["pydicom"] = by_pydicom(path)
        except Exception:  # a toolkit that cannot read a broken file has no say
            pass
        if entry["outcome"] == "image":
            images += 1
            for toolkit, regions in readings.items():
                if regions is None:
                    print("note: %s: %s cannot read it" % (path, toolkit))
                else:
                    compared[toolkit] += compare(path, by_image.get(entry["sop_uid"], []), toolkit, regions, say)
        elif entry["outcome"] not in ("duplicate", "conflict"):
            for toolkit, regions in readings.items():
                if regions:
                    disputed += 1
                    print("note: %s: %s sees %d regions, Leadline calls the file %s: %s"
                          % (path, toolkit, len(regions), entry["outcome"], entry["reason"]))

    for d in differences:
        print("DIFFERENCE " + d)
    print("files %d, images %d, regions compared with pydicom %d, with dcmdump %d, files only a toolkit reads %d, differences %d"
          % (len(files), images, compared["pydicom"], compared["dcmdump"], disputed, len(differences)))
    if min(compared.values()) == 0:
        print("DIFFERENCE nothing was compared")
        return 1
    return 1 if differences else 0


if __name__ == "__main__":
    if len(sys.argv) < 3:
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1], sys.argv[2:]))
