#!/usr/bin/env python3
"""Reads what Leadline's ingest reads, with pydicom in two processes.

    peer.py FOLDER

Of every file: who, when and which device, the regions with all their elements, and
of reports the whole tree of content. Pixel data are not read. Prints what was found.
"""
import os
import sys
import warnings
from multiprocessing import Pool

import pydicom

PROCESSES = 2
# Files handed to a process at once: enough that handing over costs nothing.
CHUNK = 50

HEADER = [
    "SOPClassUID", "SOPInstanceUID", "StudyInstanceUID", "SeriesInstanceUID", "Modality",
    "PatientName", "PatientID", "StudyDate", "StudyTime", "ContentDate", "ContentTime",
    "Manufacturer", "ManufacturerModelName", "DeviceSerialNumber",
    "Rows", "Columns", "NumberOfFrames", "FrameTime", "FrameTimeVector", "CineRate", "PixelSpacing",
]

# pydicom skips what is not asked for, which is quicker than reading all.
WANTED = HEADER + ["SpecificCharacterSet", "SequenceOfUltrasoundRegions", "ContentSequence"]


def plain(data_set):
    """The elements of a data set as plain values, sequences within included."""
    return {
        int(e.tag): [plain(item) for item in e.value] if e.VR == "SQ" else e.value
        for e in data_set
    }


def read(path):
    """One file: its header values, regions and report tree."""
    data = pydicom.dcmread(path, stop_before_pixels=True, specific_tags=WANTED)
    header = {name: data.get(name) for name in HEADER}
    regions = [plain(item) for item in data.get("SequenceOfUltrasoundRegions", [])]
    content = [plain(item) for item in data.get("ContentSequence", [])]
    return header["SOPInstanceUID"], len(regions), bool(content)


def main(folder):
    warnings.simplefilter("ignore")
    paths = [os.path.join(d, name) for d, _, names in os.walk(folder) for name in names]
    files = regions = reports = 0
    with Pool(PROCESSES) as pool:
        for _, n, is_report in pool.imap_unordered(read, paths, chunksize=CHUNK):
            files += 1
            regions += n
            reports += is_report
    print("files=%d regions=%d reports=%d" % (files, regions, reports))


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main(sys.argv[1])
