"""Lists numbers and graphics of structured reports as pydicom reads them, for
TestOracle. One line each: file, path, NUM, value as written, unit; or file, path,
SCOORD, type, coordinates. Tab separated; never a name or a text."""
import sys

import pydicom


def walk(name, item, path):
    kind = getattr(item, "ValueType", "")
    if kind == "NUM":
        values = item.get("MeasuredValueSequence") or []
        value = unit = ""
        if len(values) == 1:
            value = getattr(values[0].NumericValue, "original_string", None) or str(values[0].NumericValue)
            unit = values[0].MeasurementUnitsCodeSequence[0].CodeValue
        print(name, path, "NUM", value, unit, sep="\t")
    if kind == "SCOORD":
        print(name, path, "SCOORD", item.GraphicType, " ".join("%.9g" % v for v in item.GraphicData), sep="\t")
    for i, child in enumerate(item.get("ContentSequence") or []):
        walk(name, child, "%s.%d" % (path, i + 1))


for file in sys.argv[1:]:
    walk(file, pydicom.dcmread(file, force=True), "1")
