// Package migrations holds the database's schema as embedded files, one a step, applied in order of their numbers.
// They run as the owner of the database; the program itself works as the role clayline_app, which can insert and
// update what it must and can neither change nor shorten the journal.
package migrations

import "embed"

// Files are the migrations, named 00001_noun.sql and so on.
//
//go:embed *.sql
var Files embed.FS
