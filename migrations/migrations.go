// Package migrations holds the database's schema as embedded files, one a step, applied in order of their
// numbers. They run as the owner of the database; the program itself works as the role clayline_app, which can
// insert and update what it must and can neither change nor shorten the journal.
//
// The first file is the house: tables in the order event, class, round, setting, hook, journal, each with the
// constraints that state its rules. A constraint is named after the rule, because its name is what a refusal is
// made from. A file that a database may have had is not changed any more, but for its comments; a further step
// is a further file.
package migrations

import "embed"

// Files are the migrations, named 00001_noun.sql and so on. Each has a part that goes back, for trying out.
//
//go:embed *.sql
var Files embed.FS
