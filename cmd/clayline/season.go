package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"clayline/domain"
	"clayline/domain/doc"
)

// season scores a season file. The files it names lie beside it: their names are paths from its folder. A rule set is a
// ready-made one or a file, as in the call.
func (c scoreCommand) season(s streams) error {
	if c.Sheet != "" || c.Entries != "" || c.Ended != "pulled" {
		return &callError{errors.New("a season names its sheets and entries files itself; give --season alone")}
	}
	document, err := os.ReadFile(c.Season)
	if err != nil {
		return &callError{openError("season file", c.Season, err)}
	}
	folder := filepath.Dir(c.Season)
	season, err := doc.ReadSeason(document, c.Season, doc.SeasonFiles{
		Rules: func(name string) (domain.RuleSet, error) {
			if strings.HasSuffix(name, ".json") {
				name = filepath.Join(folder, filepath.FromSlash(name))
			}
			return readRules(name)
		},
		Open: func(name string) (io.ReadCloser, error) {
			file, err := os.Open(filepath.Join(folder, filepath.FromSlash(name)))
			if err != nil {
				return nil, openError("file", name, err)
			}
			return file, nil
		},
	})
	if err != nil {
		return err
	}
	for _, warning := range season.Warnings {
		fmt.Fprintln(s.err, "clayline: warning:", warning)
	}
	scored, err := doc.ScoreSeason(season)
	if err != nil {
		return fmt.Errorf("%s: %w", c.Season, err)
	}
	return writeAs(s.out, c.Format, scored)
}

// scoredDocument is what the score command can print: a standing or a season.
type scoredDocument interface {
	WriteText(w io.Writer) error
	WriteJSON(w io.Writer) error
	WriteCSV(w io.Writer) error
}

// writeAs writes in the format of the call.
func writeAs(out io.Writer, format string, what scoredDocument) error {
	switch format {
	case "json":
		return what.WriteJSON(out)
	case "csv":
		return what.WriteCSV(out)
	default:
		return what.WriteText(out)
	}
}
