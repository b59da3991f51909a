package doc

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"clayline/domain"
)

// cells reads a CSV file by the names of its columns; class sheets and entries files are read with it. Whatever it
// refuses is a [SheetError] with the place in the file.
type cells struct {
	file        string
	what, whole string   // what the file is, and what belongs in one: "sheet", "one class on a sheet"
	known       []string // the columns it may have
	needed      int      // how many of them, from the first, it must have
	left        *io.LimitedReader
	csv         *csv.Reader
	columns     map[string]int // name to index
	warnings    []string
}

// maxSheetBytes bounds a file: a class of a thousand entries over several rounds is a tenth of it.
const maxSheetBytes = 4 << 20

// each reads the whole file, line by line, and stops at the first that cannot be understood.
func (p *cells) each(r io.Reader, line func(record []string) error) error {
	err := p.open(r)
	for err == nil {
		var record []string
		if record, err = p.next(); err == nil {
			err = p.shown(record)
		}
		if err == nil {
			err = line(record)
		}
	}
	if errors.Is(err, io.EOF) {
		return nil
	}
	return err
}

// open reads the header, and with it finds out how the file is written: with or without a byte order mark,
// which spreadsheets put in front of UTF-8, and with which separator.
func (p *cells) open(r io.Reader) error {
	p.left = &io.LimitedReader{R: r, N: maxSheetBytes + 1}
	buffered := bufio.NewReader(p.left)
	if bom, err := buffered.Peek(3); err == nil && string(bom) == "\ufeff" {
		_, _ = buffered.Discard(3)
	}
	p.csv = csv.NewReader(buffered)
	head, _ := buffered.Peek(buffered.Size())
	if first, _, _ := strings.Cut(string(head), "\n"); strings.Contains(first, ";") && !strings.Contains(first, ",") {
		p.csv.Comma = ';'
	}
	header, err := p.csv.Read()
	if errors.Is(err, io.EOF) {
		return &SheetError{File: p.file, Line: 1, Message: "the " + p.what + " is empty", Expected: "a header with " + strings.Join(p.known, ", ")}
	}
	if err != nil {
		return p.csvError(err)
	}
	return p.header(header)
}

// header finds the columns by their names, in any case. A column that is not known is ignored with a warning,
// since files have columns of their own; one that stands twice is refused, since it cannot be told which is
// meant.
func (p *cells) header(header []string) error {
	line, _ := p.csv.FieldPos(0)
	p.columns = make(map[string]int, len(header))
	for i, cell := range header {
		name := strings.ToLower(strings.TrimSpace(cell))
		if !slices.Contains(p.known, name) {
			p.warn("column %q is not known and is ignored", strings.TrimSpace(cell))
			continue
		}
		if _, twice := p.columns[name]; twice {
			_, column := p.csv.FieldPos(i)
			return &SheetError{File: p.file, Line: line, Column: column, Message: "column " + name + " stands twice in the header", Expected: "it once"}
		}
		p.columns[name] = i
	}
	for _, name := range p.known[:p.needed] {
		if _, ok := p.columns[name]; !ok {
			return &SheetError{File: p.file, Line: line, Message: "the header has no column " + name,
				Expected: "the columns " + strings.Join(p.known[:p.needed], ", ") + ", and " + strings.Join(p.known[p.needed:], ", ") + " if you have them"}
		}
	}
	return nil
}

// next reads the next line that is not empty; io.EOF after the last. A line of empty cells is passed over, as
// spreadsheets leave them at the end.
func (p *cells) next() ([]string, error) {
	for {
		record, err := p.csv.Read()
		switch {
		case p.left.N <= 0:
			return nil, &SheetError{File: p.file, Line: 1, Message: "the " + p.what + " is longer than 4 MB", Expected: p.whole}
		case errors.Is(err, io.EOF):
			return nil, err
		case err != nil:
			return nil, p.csvError(err)
		case slices.ContainsFunc(record, func(cell string) bool { return strings.TrimSpace(cell) != "" }):
			return record, nil
		}
	}
}

// shown refuses a cell of a known column that holds what cannot be seen; see [domain.Shown].
func (p *cells) shown(record []string) error {
	for _, column := range p.known {
		if !domain.Shown(p.cell(record, column)) {
			return p.fail(column, "the cell holds a character that cannot be seen", "plain text in one line")
		}
	}
	return nil
}

// cell returns the cell of a column in one line without stray spaces, "" where the file has no such column.
// Inner runs of spaces become one, so that "DQ  out" and "DQ out" are the same.
func (p *cells) cell(record []string, column string) string {
	if i, ok := p.columns[column]; ok {
		return strings.Join(strings.Fields(record[i]), " ")
	}
	return ""
}

// fail refuses a cell of the line that is being read.
func (p *cells) fail(column, message, expected string) error {
	line, byteOf := p.csv.FieldPos(p.columns[column])
	return &SheetError{File: p.file, Line: line, Column: byteOf, Field: column, Message: message, Expected: expected}
}

// warn adds a sentence that changes nothing.
func (p *cells) warn(format string, args ...any) {
	p.warnings = append(p.warnings, fmt.Sprintf(format, args...))
}

// csvError says where the file is not CSV. A quote that opens and never closes is told at the line where it
// opens: where the reader gave up says nothing.
func (p *cells) csvError(err error) error {
	parse, ok := errors.AsType[*csv.ParseError](err)
	if !ok {
		return fmt.Errorf("%s cannot be read: %w", p.file, err)
	}
	expected := "cells separated by commas, with quotes around a cell that has a comma or a quote in it"
	if errors.Is(parse.Err, csv.ErrFieldCount) {
		return &SheetError{File: p.file, Line: parse.Line, Message: "the line has more or fewer cells than the header", Expected: "as many cells as the header"}
	}
	if parse.StartLine != parse.Line {
		return &SheetError{File: p.file, Line: parse.StartLine, Expected: expected,
			Message: fmt.Sprintf("a quote opens on this line and is not closed before line %d", parse.Line)}
	}
	return &SheetError{File: p.file, Line: parse.Line, Column: parse.Column, Message: parse.Err.Error(), Expected: expected}
}
