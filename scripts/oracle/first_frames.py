"""Writes the first frame of DICOM files as pydicom, numpy and dcmtk unpack it.

Usage: first_frames.py DIR < list of paths. For each path one line of JSON is printed:
path, rows, columns, samples, and the file in DIR that holds the stored samples, cut to
their highest 8 bits, pixel after pixel; or why there is none. Palettes are looked up,
MONOCHROME1 is turned. JPEG is unpacked by dcmdjpeg without colour conversion.
"""

import json
import os
import subprocess
import sys
import warnings

import numpy as np
import pydicom
from pydicom.pixel_data_handlers.util import apply_color_lut

warnings.simplefilter("ignore")
JPEG_BASELINE = "1.2.840.10008.1.2.4.50"


def frame(path, scratch):
    ds = pydicom.dcmread(path, force=True)
    syntax = str(getattr(ds.file_meta, "TransferSyntaxUID", ""))
    if syntax == JPEG_BASELINE:
        plain = os.path.join(scratch, "plain.dcm")
        subprocess.run(["dcmdjpeg", "+cn", path, plain], check=True, capture_output=True)
        ds = pydicom.dcmread(plain)
        ds.PhotometricInterpretation = "RGB" if ds.SamplesPerPixel == 3 else ds.PhotometricInterpretation
    pixels = ds.pixel_array
    if int(ds.get("NumberOfFrames") or 1) > 1:
        pixels = pixels[0]
    bits = ds.BitsStored
    if ds.PhotometricInterpretation == "PALETTE COLOR":
        pixels = apply_color_lut(pixels, ds)
        bits = 8 * pixels.dtype.itemsize
    pixels = pixels.astype(np.int64)
    pixels = pixels >> (bits - 8) if bits >= 8 else pixels << (8 - bits)
    if ds.PhotometricInterpretation == "MONOCHROME1":
        pixels = 255 - pixels
    return pixels.astype(np.uint8)


def main():
    out = sys.argv[1]
    for n, line in enumerate(sys.stdin):
        path = line.rstrip("\n")
        row = {"path": path}
        try:
            pixels = frame(path, out)
            row["file"] = os.path.join(out, f"{n}.raw")
            row["rows"], row["columns"] = pixels.shape[:2]
            row["samples"] = 1 if pixels.ndim == 2 else pixels.shape[2]
            pixels.tofile(row["file"])
        except Exception as error:  # the toolkits raise whatever they like
            row["none"] = type(error).__name__
        print(json.dumps(row))


main()
