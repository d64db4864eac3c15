// Package cache keeps records of files from one run to the next: for every file a
// key (path, size, modification time, inode) and some bytes that mean something to
// the caller. A file that still has its key need not be opened.
//
// A cache is one plain file: a line that names the format and the program, records,
// each with its length and checksum, and an end. It is read once from front to
// end, which proves it whole and says where each record lies; only that stays in
// memory. What is new goes to a writer as it comes, and what is kept of the old
// follows when the run ends, so that a new cache is whole or not there: naming the
// file is the caller's.
//
// A cache that is damaged in any way, or was written by another program, holds
// nothing. It does not guard against a forger: who can write the cache can write
// the archive's numbers.
package cache
