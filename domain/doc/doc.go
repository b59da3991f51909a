// Package doc reads and writes the documents that people keep and exchange: rule sets, class sheets, scored
// standings, jobs for the sled, programmes and the journal's payloads. It is the only place in the domain that knows how
// they are written down.
//
// # A sheet and its standing
//
// A class that was pulled on paper is CSV, one line a hook:
//
//	round,entry,result,puller,note
//	1,41,281.36,M. Farrow,
//	1,7,FP,E. Tarrant,
//	1,23,rehook,J. Weir,sled fault
//	1,23,FP,J. Weir,
//	P1,7,312.44,,
//	P1,23,305.1,,
//
// [ReadSheet] reads it under a rule set, and [Score] ranks it: 7, 23, 41. The names of rows are given once or
// on each line; the re-hook of 23 does not count, and stands on the sheet so that the paper is told whole.
//
// # How documents are read
//
// What a document does not say is not guessed. A sheet with a word that is not known is refused with its line
// and column, a rule set with the name of its field; nothing is ranked by half. What is odd but clear, such as
// a column nobody asked for, is read with a warning.
//
// Figures keep the digits that they came with, in both directions: what was read as 281.360 is written as
// 281.360.
package doc
