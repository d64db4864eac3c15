#!/usr/bin/env python3
"""Holds the codes of the catalogue of measures against pydicom's dictionaries.

usage: codes.py CODES.csv LEGACY.csv

CODES.csv lists scheme, value, meaning and where the meaning was read; rows read in
the dictionary must say what it says. LEGACY.csv pairs old SNOMED codes with new
ones and must agree with pydicom's pairs. Meanings are compared without case and
without the SNOMED tag in brackets at the end.
"""

import csv
import re
import sys

from pydicom.sr import _concepts_dict, _snomed_dict


def plain(meaning):
    return re.sub(r"\s*\((body structure|qualifier value|finding|disorder|property)\)", "", meaning).strip().lower()


def meanings():
    """All meanings that the dictionary has for a code: editions differ."""
    found = {}
    for scheme, keywords in _concepts_dict.concepts.items():
        for codes in keywords.values():
            for value, (meaning, _) in codes.items():
                found.setdefault((scheme, value), set()).add(plain(meaning))
    return found


def main(codes, legacy):
    known, faults, held = meanings(), [], 0
    for row in csv.DictReader(open(codes, encoding="utf-8")):
        if row["read_in"] != "dictionary":
            continue
        held += 1
        got = known.get((row["scheme"], row["value"]), set())
        if plain(row["meaning"]) not in got:
            faults.append(f"{row['scheme']} {row['value']}: {row['meaning']!r}, the dictionary has {sorted(got)}")
    pairs = 0
    for old, new, _ in list(csv.reader(open(legacy, encoding="utf-8")))[1:]:
        want = _snomed_dict.mapping["SRT"].get(old)
        if want is None:
            continue
        pairs += 1
        if want != new:
            faults.append(f"SRT {old}: {new}, the dictionary has {want}")
    if held < 100 or pairs < 20:
        faults.append(f"only {held} codes and {pairs} pairs held: too few to test with")
    print("\n".join(faults))
    print(f"{held} codes and {pairs} pairs of old and new codes held against pydicom")
    sys.exit(1 if faults else 0)


main(*sys.argv[1:])
