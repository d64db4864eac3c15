"""What pydicom and dcmdump read in a file: {path: Element}, for elements.py.

A path is tags and item numbers from 1, as in 00186011[1].00186012.
"""
import collections
import math
import re
import subprocess
import sys
import warnings

import pydicom
import pydicom.charset
import pydicom.config
from pydicom.errors import InvalidDicomError

warnings.simplefilter("ignore")
sys.setrecursionlimit(2000)

# value is a list of numbers or of strings by kind; raw is the bytes where a toolkit
# has no reading of them. items counts those of a sequence.
Element = collections.namedtuple("Element", "vr kind value items", defaults=(0,))

NUMBERS = {"US", "SS", "UL", "SL", "FL", "FD", "UV", "SV", "DS", "IS", "AT"}
# Sequences are compared to this depth: Leadline's own limit is 64 levels, and below
# it the hostile files only go on for ever.
DEPTH = 66
# VRs in which a backslash is a character (PS3.5 6.2).
WHOLE = {"ST", "LT", "UT", "UR"}


def number_list(values):
    """Numbers, or None where one of them is none: a list with a hole would shift
    its places, so Leadline reads such an element as unreadable."""
    out = []
    for v in values:
        if isinstance(v, str):
            v = v.strip(" \0")
        try:
            v = float(v)
        except (TypeError, ValueError, OverflowError):
            return None
        if not math.isfinite(v):
            return None
        out.append(v)
    return out


def trimmed(vr, values):
    """Text without its padding: trailing blanks, and leading ones except in text
    that is one whole (PS3.5 6.2). No value and an empty one are the same."""
    if vr in WHOLE:
        out = [v.rstrip(" \0") for v in values]
    else:
        out = [v.strip(" \0\t\r\n") for v in values]
    return [] if out == [""] else out


class Pydicom:
    """The reading of pydicom."""

    name = "pydicom"

    def __init__(self, wanted):
        self.wanted, self.bare = wanted, set()

    def prepare(self, paths, bare):
        """bare says that files without preamble are to be read too."""
        if bare:
            self.bare.update(paths)

    def read(self, path):
        """The reading, and False: it never ends before the file does. None: no reading."""
        try:
            try:
                data = pydicom.dcmread(path, stop_before_pixels=True)
            except InvalidDicomError:
                if path not in self.bare:
                    return None, False
                data = pydicom.dcmread(path, stop_before_pixels=True, force=True)
            out = {}
            self.walk(data.file_meta, "", out)
            self.walk(data, "", out)
            return out, False
        except Exception:  # whatever a broken file makes of it
            return None, False

    def walk(self, data, prefix, out):
        if prefix.count("[") > DEPTH:
            return
        for tag in sorted(data.keys()):
            name = "%08X" % tag
            if name not in self.wanted:
                continue
            path = prefix + name
            try:
                e = data[tag]
            except Exception:  # the element stays raw
                raw = data.get_item(tag)
                out[path] = Element(raw.VR or self.wanted[name], "raw", raw.value or b"")
                continue
            if e.VR == "SQ":
                items = e.value or []
                out[path] = Element("SQ", "items", [], len(items))
                for i, item in enumerate(items, 1):
                    self.walk(item, "%s[%d]." % (path, i), out)
            else:
                out[path] = self.leaf(e, data)

    def leaf(self, e, data):
        value = e.value
        if isinstance(value, bytes):
            return Element(e.VR, "raw", value)
        if value is None or value == "" or value == b"":
            values = []
        elif isinstance(value, (list, tuple, pydicom.multival.MultiValue)):
            values = list(value)
        else:
            values = [value]
        if e.VR in NUMBERS:
            return Element(e.VR, "numbers", number_list(values))
        return Element(e.VR, "text", trimmed(e.VR, [str(v) for v in values]))


# Files for one process of dcmdump, which reads its dictionary anew each time.
BATCH = 60
FILE = re.compile(r"^# dcmdump \(\d+/\d+\): (.*)\n", re.MULTILINE)
DATA_SET = "\n# Dicom-Data-Set\n"
SPECIFIC_CHARACTER_SET = "(0008,0005)"
QUOTED = re.compile(rb"&(#\d+|amp|lt|gt|quot|apos);")
NAMED = {b"amp": b"&", b"lt": b"<", b"gt": b">", b"quot": b'"', b"apos": b"'"}


def unquoted(text):
    """The bytes that dcmdump +Qn writes as markup: numbers are bytes."""
    return QUOTED.sub(lambda m: bytes([int(m[1][1:])]) if m[1][:1] == b"#" else NAMED[m[1]], text.encode("ascii", "replace"))


LINE = re.compile(r"^( *)\(([0-9a-f]{4}),([0-9a-f]{4})\) (\S\S) (.*) #\s*\S+, *(\d+) \S*")


class Dcmdump:
    """The reading of dcmdump, from its text."""

    name = "dcmdump"

    def __init__(self, wanted):
        self.wanted = wanted
        self.whole, self.decoded, self.damaged = {}, {}, {}

    def prepare(self, paths, bare):
        """Dumps many files with few processes. Without +U8 the bytes are as they stand,
        with it text is decoded, and Specific Character Set says UTF-8."""
        flags = [] if bare else ["+fo"]
        self.whole.update(self.dump(paths, flags))
        declared = [p for p in paths if SPECIFIC_CHARACTER_SET in self.whole.get(p, "")]
        self.decoded.update(self.dump(declared, flags + ["+U8"]))
        self.damaged.update(self.dump([p for p in paths if p not in self.whole], flags + ["+E"]))

    @classmethod
    def dump(cls, paths, flags):
        """dcmdump's text by path; none for a file that it finds damaged (it goes on with
        +E) or that ends it."""
        texts, left = {}, list(paths)
        while left:
            chunk, left = left[:BATCH], left[BATCH:]
            run = subprocess.run(
                ["dcmdump", "-q", "-M", "+L", "-Un", "+Qn", "+uc", "+F"] + flags + chunk,
                stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, check=False, timeout=600)
            sections = FILE.split(run.stdout.decode("ascii", "replace"))[1:]
            met = dict(zip(sections[::2], sections[1::2]))
            texts.update((p, text) for p, text in met.items() if DATA_SET in text)
            if run.returncode < 0:
                if not met:
                    raise RuntimeError("dcmdump ended before the first file")
                texts.pop(sections[-2], None)
                left = [p for p in chunk if p not in met] + left
        return texts

    def read(self, path):
        """The reading, and whether it ends before the file does. None: no reading."""
        if path not in self.whole:
            out = self.parse(self.damaged.get(path, ""), False)
            return (out, True) if out else (None, False)
        out = self.parse(self.whole[path], False)
        for at, e in self.parse(self.decoded.get(path, ""), True).items():
            if e.kind == "text" and not at.endswith("00080005"):
                out[at] = e
        return out, False

    def parse(self, text, decoded):
        out, stack = {}, []  # stack: of [path, items, wanted] of the open sequences
        for line in text.split("\n"):
            m = LINE.match(line)
            if not m:
                continue
            level = len(m[1]) // 2
            if level > 2 * DEPTH:
                continue
            name, vr, value = (m[2] + m[3]).upper(), m[4], m[5].strip()
            if name == "7FE00010" and level == 0:
                break
            if name == "FFFEE000":
                del stack[(level + 1) // 2:]
                if stack:
                    stack[-1][1] += 1
                    if stack[-1][2] and not stack[-1][3]:
                        path = stack[-1][0]
                        out[path] = out[path]._replace(items=stack[-1][1])
                continue
            if name[:4] == "FFFE":
                continue
            del stack[level // 2:]
            wanted = name in self.wanted and all(s[2] for s in stack)
            path = ("%s[%d]." % (stack[-1][0], stack[-1][1]) if stack else "") + name
            double = path in out
            if vr == "SQ":
                stack.append([path, 0, wanted and not double, double])
            if wanted and not double:
                out[path] = self.leaf(vr, value, decoded)
        return out

    def leaf(self, vr, text, decoded):
        if vr == "SQ":
            return Element(vr, "items", [])
        if text.startswith("(no value"):
            text = ""
        elif text.startswith("(not loaded"):
            return Element(vr, "raw", None)
        if vr in ("OB", "UN", "OW", "??"):
            return Element(vr, "raw", self.hexadecimal(vr, text))
        if vr in NUMBERS:
            text = unquoted(text[1:-1] if text.startswith("[") else text).decode("latin-1")
            values = text.split("\\") if text else []
            if vr == "AT":
                values = [int(v.strip("()").replace(",", ""), 16) for v in values]
            return Element(vr, "numbers", number_list(values))
        data = unquoted(text[1:-1] if text.startswith("[") else text)
        if decoded:
            data = data.decode("utf-8", "replace")
            return Element(vr, "text", trimmed(vr, [data] if vr in WHOLE else data.split("\\")))
        return Element(vr, "raw", data)

    @staticmethod
    def hexadecimal(vr, text):
        if not text:
            return b""
        try:
            parts = [int(p, 16) for p in text.split("\\")]
        except ValueError:
            return None
        return b"".join(p.to_bytes(2 if vr == "OW" else 1, "little") for p in parts)
