// Package pixels reads the first frame of a picture, where an audit is asked to look
// at pictures. It is a guarded reader of its own: no length is believed before it is
// held against the bytes that are there, and no room is made before what the header
// promises is known to be within limits.
//
// Unpacked are, with 8 or 16 bits allocated to a sample: uncompressed grey, RGB and YBR_FULL pictures
// (YBR_FULL_422 too), palette colour, RLE and JPEG baseline. Every other form is a
// *NotDecodedError, which names it; a picture that contradicts itself is one too.
package pixels
