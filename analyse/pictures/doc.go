// Package pictures looks at the first frame of images, where that is asked for: it
// hands the picture and what its header says of it to the search for a ruler, and holds
// the ruler against the header. It opens nothing itself.
package pictures
