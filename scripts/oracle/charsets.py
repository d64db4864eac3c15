#!/usr/bin/env python3
"""Compares decoded text with pydicom and with Python's own codecs.

    charsets.py DECODED

DECODED holds one text per line, as ingest/dcm/charset_oracle_test.go writes it: the
terms of Specific Character Set, the bytes, the text that Leadline reads, and whether
it found every byte to mean something. Where the codec knows a character, Leadline must
read that one; where it knows none, Leadline may only differ as EXTENDED says. Prints
each difference and ends with 1 if there is any.
"""
import collections
import json
import sys
import warnings

import pydicom.charset

warnings.simplefilter("ignore")

# Python's codecs, by the number of the term, and how a text of that set is handed to
# them: the text without its escapes, two-byte sets in the form that the codec knows.
ISO_8859 = {"100": 1, "101": 2, "109": 3, "110": 4, "144": 5, "127": 6, "126": 7, "138": 8, "148": 9}
ESCAPES = {"87": b"\x1b$B", "159": b"\x1b$(D", "149": b"\x1b$)C", "58": b"\x1b$)A"}

# Characters for which the tables in use differ, by set and bytes. Go's tables are those
# of the WHATWG Encoding Standard, which maps some signs of the Japanese sets to their
# full-width forms and two of the Chinese ones otherwise; they look alike.
ALIKE = {
    "87": {"\u301c": "\uff5e", "\u2016": "\u2225", "\u2212": "\uff0d", "\u00a2": "\uffe0", "\u00a3": "\uffe1", "\u00ac": "\uffe2"},
    "159": {"~": "\uff5e"},
    "58": {"\u30fb": "\u00b7", "\u2015": "\u2014"},
}

# Sets of which Leadline's tables know more characters than the codec: those of makers
# (row 13 and the last rows of JIS X 0208), those that the Korean code was extended by,
# those of GBK in GB 2312, and single additions (no-break space in the Thai set).
EXTENDED = {"87", "149", "58", "166", "GBK", "GB18030"}


def number(terms):
    return terms[-1].rsplit(" ", 1)[-1]


def by_codec(terms, data):
    """The text by Python's codec, None where it knows none."""
    n = number(terms)
    try:
        if n in ISO_8859:
            return strip(data).decode("iso8859_%d" % ISO_8859[n])
        if n == "166":
            return strip(data).decode("tis_620")
        if n == "13":
            if data[-1] > 0xDF:
                return None
            return strip(data).decode("shift_jis")
        if n in ("GBK", "GB18030"):
            return data.decode(n.lower())
        if n == "192":
            return data.decode("utf-8")
        pair = data[len(ESCAPES[n]):][:2]
        high = bytes(b | 0x80 for b in pair)
        return {"87": high.decode, "159": (b"\x8f" + high).decode, "149": high.decode, "58": high.decode}[n](
            {"87": "euc_jp", "159": "euc_jp", "149": "euc_kr", "58": "gb2312"}[n])
    except UnicodeDecodeError:
        return None


def private(text):
    """Tells a cell for which a table has a place and no character: private use."""
    return any("\ue000" <= c <= "\uf8ff" for c in text)


def strip(data):
    """A text of a single-byte set without its one escape."""
    at = data.find(b"\x1b")
    return data if at < 0 else data[:at] + data[at + 3:]


def by_pydicom(terms, data):
    """The text by pydicom, None where it knows none: it writes replacements then."""
    try:
        text = pydicom.charset.decode_bytes(data, pydicom.charset.convert_encodings(list(terms)), set())
    except Exception:
        return None
    return None if "\ufffd" in text or "\x1b" in text or "\\" in text and b"\\" not in data else text


def same(n, ours, theirs, used):
    if ours == theirs:
        return True
    used.add((n, theirs))
    return ALIKE.get(n, {}).get(theirs) == ours


def main(path):
    differences, counts, used = [], collections.Counter(), set()
    by_set, extended, pydicom_agrees = collections.Counter(), collections.Counter(), collections.Counter()
    with open(path, encoding="utf-8") as f:
        for line in f:
            c = json.loads(line)
            data, n = bytes.fromhex(c["bytes"]), number(c["terms"])
            counts["texts"] += 1
            want = by_codec(c["terms"], data)
            if want is None or n != "192" and private(want):
                if c["ok"] and n not in EXTENDED:
                    differences.append("%s %s: %r, and the codec knows none" % (c["terms"], c["bytes"], c["text"]))
                extended[n] += c["ok"]
                continue
            by_set[n] += 1
            if not c["ok"] or not same(n, c["text"], want, used):
                differences.append("%s %s: %r (%s), by the codec %r" % (c["terms"], c["bytes"], c["text"], c["ok"], want))
            theirs = by_pydicom(c["terms"], data)
            if theirs is None:
                counts["without pydicom"] += 1
            elif same(n, c["text"], theirs, used):
                pydicom_agrees[n] += 1
            else:
                differences.append("%s %s: %r, by pydicom %r" % (c["terms"], c["bytes"], c["text"], theirs))
    for n, signs in ALIKE.items():
        differences += ["%s %r: listed as alike and not needed" % (n, s) for s in signs if (n, s) not in used]
    for n in EXTENDED:
        if not extended[n]:
            differences.append("%s: listed as extended and not needed" % n)
    for d in differences:
        print("DIFFERENCE " + d)
    print("characters compared by set: %s; with pydicom too: %s; known to Leadline alone: %s"
          % (dict(by_set), dict(pydicom_agrees), {k: v for k, v in extended.items() if v}))
    print("texts %d, compared %d, with pydicom too %d, differences %d"
          % (counts["texts"], sum(by_set.values()), sum(pydicom_agrees.values()), len(differences)))
    return 1 if differences or not by_set or not pydicom_agrees else 0


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1]))
