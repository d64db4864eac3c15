package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
)

// kind is what a file is to an archive.
type kind string

const (
	still  kind = "still"
	strip  kind = "strip" // M-mode or Doppler beside its picture
	clip   kind = "clip"
	report kind = "report"
)

var kinds = []kind{still, strip, clip, report}

// sourceFiles are the files whose headers are taken, below the folder of real
// files. Left out are: big endian and deflated ones, which no device of today
// writes; files without an identity (no-meta-length-test) or with items that
// pydicom does not read (GH364); a JPEG XL clip, which gdcm does not know; and two
// pictures of 120 lines, whose sizes are those of no ultrasound archive.
var sourceFiles = map[kind][]string{
	still: {
		"us/data_store__data__JPGLosslessP14SV1_1s_1f_8b.dcm",
		"us/data_store__data__US1_UNCR.dcm",
		"us/data_store__data__gdcm-US-ALOKA-16.dcm",
		"us/deid_data__data__ultrasounds__RGB_IMAGE.dcm",
		"us/data_store__data__OBXXXX1A.dcm",
		"us/examples__test-images__no-pixel-spacing.dcm",
	},
	strip: {
		"us/examples__I_000034.dcm",
		"us/examples__I_000038.dcm",
		"us/examples__I_000039.dcm",
	},
	clip: {
		"us/examples__I_000001.dcm",
		"us/examples__I_000012.dcm",
		"us/examples__I_000018.dcm",
		"us/examples__I_000031.dcm",
		"us/ljdata__ds__JPEGLosslessSV1__JPEGLosslessP14SV1_3s_2f_u_08_08.dcm",
		"us/src__pydicom__data__test_files__examples_ybr_color.dcm",
		"us/testImages__encapsulated__multi-frame__IM00001.fragmented_no_bot_jpeg_baseline.50.dcm",
	},
	report: {
		"sr/data__sr-example__sr.dcm",
		"sr/data__test_files__sr_document.dcm",
		"sr/datasets__sr.dcm",
		"sr/examples__data__structured_report.dcm",
		"sr/examples__rsna2018_dataset4__1.dcm",
		"sr/src__pydicom__data__test_files__reportsi.dcm",
		"sr/src__pydicom__data__test_files__test-SR.dcm",
		"sr/test__sample-sr.dcm",
	},
}

// source is one header to be written again and again.
type source struct {
	kind   kind
	header *header
	// native is the size of the decoded pixel data in bytes.
	native int64
	frames int
	// mmPerPixel is the scale of an invented picture, 0 of others.
	mmPerPixel float64
}

// readSources reads the headers below the folder of real files.
func readSources(folder string) (map[kind][]source, error) {
	all := map[kind][]source{}
	for _, k := range kinds {
		for _, name := range sourceFiles[k] {
			file, err := os.ReadFile(filepath.Join(folder, name))
			if err != nil {
				return nil, fmt.Errorf("reading the header of a real file: %w", err)
			}
			h, err := parse(file)
			if err != nil {
				return nil, fmt.Errorf("reading the header of %s: %w", name, err)
			}
			all[k] = append(all[k], describe(k, h))
		}
	}
	return all, nil
}

func describe(k kind, h *header) source {
	s := source{kind: k, header: h, frames: 1}
	if n, err := strconv.Atoi(h.get(tagNumberOfFrames)); err == nil && n > 1 {
		s.frames = n
	}
	s.native = int64(h.number(tagRows)) * int64(h.number(tagColumns)) * int64(h.number(tagSamplesPerPixel)) *
		int64(h.number(tagBitsAllocated)) / 8 * int64(s.frames)
	return s
}
