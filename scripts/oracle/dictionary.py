#!/usr/bin/env python3
"""Compares the elements that Leadline reads with two copies of the data dictionary.

    dictionary.py WANTED

WANTED holds lines of tag, VR and name, as ingest/dcm/oracle_test.go writes them from
tags.go. VR and name of every one must be VR and keyword in pydicom's dictionary and
in dcmtk's dicom.dic, both made from PS3.6 chapters 6 and 7. Prints each difference and
ends with 1 if there is any.
"""
import glob
import re
import sys

from pydicom.datadict import dictionary_VR, keyword_for_tag

# A group that repeats, as overlays do, is written 6000-60FF; its first one is read.
LINE = re.compile(r"^\(([0-9A-Fa-f]{4})(?:-[0-9A-Fa-f]{4})?,([0-9A-Fa-f]{4})\)\s+(\w\w)\s+(\S+)")
# How dcmtk writes keywords: retired elements and old names are marked by a prefix.
PREFIX = re.compile(r"^(RETIRED|ACR_NEMA)_")


def dcmtk_dictionary():
    entries = {}
    for path in glob.glob("/usr/share/libdcmtk*/dicom.dic"):
        with open(path, encoding="ascii", errors="replace") as f:
            for line in f:
                m = LINE.match(line)
                if m:
                    entries[m[1].upper() + m[2].upper()] = (m[3].upper(), PREFIX.sub("", m[4]))
    return entries


def main(wanted):
    differences, elements, by_dcmtk = [], 0, 0
    dcmtk = dcmtk_dictionary()
    with open(wanted, encoding="ascii") as f:
        for line in f:
            tag, vr, name = line.split()
            elements += 1
            try:
                theirs = {"pydicom": (dictionary_VR(int(tag, 16)), keyword_for_tag(int(tag, 16)))}
            except KeyError:
                differences.append("%s %s: not in pydicom's dictionary" % (tag, name))
                continue
            if tag in dcmtk:
                theirs["dcmtk"] = dcmtk[tag]
                by_dcmtk += 1
            elif dcmtk:
                differences.append("%s %s: not in dcmtk's dictionary" % (tag, name))
            for toolkit, (their_vr, keyword) in theirs.items():
                if their_vr != vr:
                    differences.append("%s %s: VR %s, by %s %s" % (tag, name, vr, toolkit, their_vr))
                if keyword.removesuffix("Retired") != name.removesuffix("Retired"):
                    differences.append("%s: named %s, by %s %s" % (tag, name, toolkit, keyword))
    for d in sorted(differences):
        print("DIFFERENCE " + d)
    print("elements %d, in dcmtk's dictionary %d, differences %d" % (elements, by_dcmtk, len(differences)))
    return 1 if differences or elements == 0 else 0


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1]))
