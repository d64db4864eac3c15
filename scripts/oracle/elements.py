#!/usr/bin/env python3
"""Compares every wanted element of every file with what pydicom and dcmdump read.

    elements.py DUMP WANTED EXPLAINED

DUMP holds one file per line as ingest/dcm/oracle_test.go writes it, WANTED the
elements that Leadline reads. The same elements must be there, in sequences too, with
the same VR, the same values and the same number of items. What differs must be
explained by a row of EXPLAINED: archive, file and path are patterns (* and ?), toolkit
is pydicom, dcmdump or both, kind is what the comparison calls the difference, reading
says whose reading is right, why says why. A row that explains nothing is an error too.

EXPLAINED is written for pydicom 2.3.1 and dcmtk 3.6.7; another version may read otherwise.
Prints each difference without an explanation, ends with 1 if there is any, and with a
count of what was compared.
"""
import csv
import fnmatch
import json
import math
import resource
import sys

import toolkits

# A file that swamps a toolkit must not swamp the machine.
MEMORY = 3 << 30

# dcmdump prints 17 digits of which the last is not rounded rightly (seen in 3.6.7),
# and 32-bit floats with too few: it prints 7 to 9 significant digits.
RELATIVE = {"FD": 1e-15, "FL": 1e-7}


class Explained:
    """The differences that are explained, and which rows were needed."""

    COLUMNS = ["archive", "file", "path", "toolkit", "kind", "reading", "why"]

    def __init__(self, path):
        with open(path, newline="", encoding="utf-8") as f:
            reader = csv.DictReader(f)
            self.rows = list(reader)
            if reader.fieldnames != self.COLUMNS:
                sys.exit("%s: the columns are not %s" % (path, ",".join(self.COLUMNS)))
        self.needed = [0] * len(self.rows)

    def covers(self, file, path, toolkit, kind):
        found = False
        for i, row in enumerate(self.rows):
            if (row["archive"] == file["archive"] and fnmatch.fnmatchcase(file["name"], row["file"])
                    and fnmatch.fnmatchcase(path, row["path"].replace("[", "[[]"))
                    and row["toolkit"] in (toolkit, "both") and row["kind"] == kind):
                self.needed[i] += 1
                found = True
        return found

    def idle(self, archives):
        return [r for r, n in zip(self.rows, self.needed) if n == 0 and r["archive"] in archives]


def same_numbers(vr, ours, theirs, toolkit):
    if ours is None or theirs is None:
        return not ours and not theirs
    if len(ours) != len(theirs):
        return False
    relative = RELATIVE.get(vr, 0) if toolkit == "dcmdump" else 0
    return all(a == b or math.isclose(a, b, rel_tol=relative, abs_tol=0) for a, b in zip(ours, theirs))


def same_value(ours, theirs, toolkit):
    """Tells whether a value is the one a toolkit read."""
    if theirs.kind == "raw":
        padding = b" \0"
        return theirs.value is None or bytes.fromhex(ours["raw"]).rstrip(padding) == theirs.value.rstrip(padding)
    if theirs.kind == "numbers":
        return same_numbers(theirs.vr, ours["numbers"], theirs.value, toolkit)
    text = ours["text"] or []
    return toolkits.trimmed(theirs.vr, text) == theirs.value


def differences(file, theirs, partly, toolkit):
    """Yields (path, kind, what) for all that a toolkit reads otherwise. Where it stops
    partly through the file, what only Leadline reads is no difference of its own."""
    ours = {e["path"]: e for e in file["elements"]}
    if theirs is None:
        if not file["error"]:
            yield "-", "no reading", "%s cannot read the file" % toolkit
        return
    if file["error"]:
        if not partly:
            yield "-", "cut", "only Leadline stops: %s" % file["error"]
    elif partly:
        yield "-", "cut", "only %s stops" % toolkit
    for path in sorted(ours.keys() | theirs.keys()):
        a, b = ours.get(path), theirs.get(path)
        if a is None:
            yield path, "missing", "only %s reads it (%s)" % (toolkit, b.vr)
        elif b is None and partly:
            continue
        elif b is None:
            yield path, "extra", "only Leadline reads it (%s)" % a["vr"]
        elif a["vr"] != b.vr:
            yield path, "vr", "VR %s, by %s %s" % (a["vr"], toolkit, b.vr)
        elif b.kind == "items" and a["items"] != b.items:
            yield path, "items", "%d items, by %s %d" % (a["items"], toolkit, b.items)
        elif b.kind != "items" and not same_value(a, b, toolkit):
            yield path, "value", "%r, by %s %r" % (a["text"] or a["numbers"] or a["raw"], toolkit, b.value)


def main(dump, wanted_path, explained_path):
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    with open(wanted_path, encoding="ascii") as f:
        wanted = {line.split()[0]: line.split()[1] for line in f}
    explained = Explained(explained_path)
    readers = [toolkits.Pydicom(wanted), toolkits.Dcmdump(wanted)]
    with open(dump, encoding="utf-8") as f:
        files = [json.loads(line) for line in f]
    for reader in readers:
        for bare in (False, True):
            reader.prepare([file["path"] for file in files if file["not_dicom"] != bare], bare)
    known, unknown = 0, []
    compared = {r.name: 0 for r in readers}
    read = {r.name: 0 for r in readers}
    for file in files:
        file["elements"] = file["elements"] or []
        for reader in readers:
            theirs, partly = reader.read(file["path"])
            if theirs is not None:
                read[reader.name] += 1
                compared[reader.name] += len({e["path"] for e in file["elements"]} | theirs.keys())
            for path, kind, what in differences(file, theirs, partly, reader.name):
                if explained.covers(file, path, reader.name, kind):
                    known += 1
                else:
                    unknown.append("%s/%s: %s %s: %s" % (file["archive"], file["name"], path, kind, what))
    for d in unknown:
        print("DIFFERENCE " + d)
    for row in explained.idle({file["archive"] for file in files}):
        unknown.append(row)
        print("DIFFERENCE a row explains nothing: %s" % row)
    print("files %d; read by pydicom %d, elements compared %d; read by dcmdump %d, elements compared %d; differences explained %d by %d rows, not explained %d"
          % (len(files), read["pydicom"], compared["pydicom"], read["dcmdump"], compared["dcmdump"], known, len(explained.rows), len(unknown)))
    return 1 if unknown or min(compared.values()) == 0 else 0


if __name__ == "__main__":
    if len(sys.argv) != 4:
        sys.exit(__doc__)
    sys.exit(main(*sys.argv[1:]))
