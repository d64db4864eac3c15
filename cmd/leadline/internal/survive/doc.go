// Package survive holds the program, as it is run, to what it must survive: files
// made to end or swamp a reader, and folders in which every kind of thing lies. It
// has tests only, and is a package of its own because the peak memory that the
// system reports of a child counts that of the parent it was started from, which
// therefore must stay small.
package survive
