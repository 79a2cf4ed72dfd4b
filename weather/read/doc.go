// Package read turns weather files into the hourly series of package weather,
// one file of code for each format.
//
// Every reader takes an io.Reader, streams, reports each row it could not use by
// line and reason in a [Report], and returns an error only where nothing useful
// can be made of the file. Everything comes out in the units of package weather;
// wind is brought to 2 m where the height of the instrument is known.
//
// This room is larger than 2 500 lines because the tables that stations and
// loggers write have no standard: finding out their layout, clock and units is
// most of it, and the files with a format of their own share its hours and report.
//
// Out of scope: fetching files, joining stations, closing gaps. Start at [Table];
// a file that can be read in two ways asks by an [*Ambiguous] error.
package read
