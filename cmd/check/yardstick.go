package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
)

// measured are the kinds of file whose length is looked at. Documents are not among them: a long one is only long.
func measured() []string { return []string{".go", ".templ", ".js", ".css", ".sql"} }

// printYardstick measures the checkout and prints the numbers beside those we want, then the places to look at. It
// fails only when the tree cannot be read: a number that is off is a question to ask and no fault to mend at any price.
// The clock is looked for in the program alone, since tools may time what they do.
func printYardstick(root string, out io.Writer) error {
	files, err := readTree(root, measured()...)
	if err != nil {
		return err
	}
	tree, err := measure(files)
	if err != nil {
		return err
	}
	domain, err := measure(under(files, "domain"))
	if err != nil {
		return err
	}
	program, err := measure(slices.Concat(without(files, "cmd"), under(files, "cmd/clayline")))
	if err != nil {
		return err
	}
	printNumbers(out, tree, domain)
	fmt.Fprintf(out, "%-36s %s\n", "longest function (100)", spot(tree.longest()))
	fmt.Fprintf(out, "%-36s %s\n", "longest hand-written file (600)", spot(longestFile(files)))
	printPlaces(out, "time.Now in the program (1)", program.clocks)
	printPlaces(out, "init functions (0)", tree.inits)
	printPlaces(out, "packages without a comment (0)", tree.undocumented())
	printPlaces(out, "exported names without a comment (0)", tree.bare)
	return nil
}

// printNumbers prints what is measured over the tree and the domain alike. The domain has goals of its own, since it is
// what people come to read the rules in.
func printNumbers(out io.Writer, tree, domain *tally) {
	fmt.Fprintf(out, "%-36s %10s %10s   %s\n", "", "tree", "domain", "wanted")
	row := func(name, format string, a, b any, wanted string) {
		line := fmt.Sprintf("%-36s %10s %10s   %s", name, fmt.Sprintf(format, a), fmt.Sprintf(format, b), wanted)
		fmt.Fprintln(out, strings.TrimRight(line, " "))
	}
	row("comment lines / lines", "%.1f %%", tree.share(), domain.share(), "18-25 %, domain 25-30 %")
	row("mean lines of a function", "%.1f", tree.meanLength(), domain.meanLength(), "18 at most")
	row("functions", "%d", len(tree.functions), len(domain.functions), "")
	row("lines of the program, not blank", "%d", tree.lines, domain.lines, "")
	row("test lines / lines", "%.2f", tree.tests(), domain.tests(), "1 at least, domain 1.5")
}

// printPlaces prints how many places there are and lists them.
func printPlaces(out io.Writer, name string, places []string) {
	fmt.Fprintf(out, "%-36s %d\n", name, len(places))
	for _, p := range places {
		fmt.Fprintf(out, "    %s\n", p)
	}
}

// spot writes a place with its size. It reads "49 cmd/clayline/invented.go inventedClasses".
func spot(p place) string { return fmt.Sprintf("%d %s", p.size, p.where) }

// longestFile returns the longest file written by hand, with all its lines, as an editor counts them.
func longestFile(files []file) place {
	var places []place
	for _, f := range files {
		if !f.isGenerated() && !strings.Contains(f.path, ".min.") {
			places = append(places, place{size: strings.Count(string(f.text), "\n"), where: f.path})
		}
	}
	return largest(places)
}

// under returns the files in the folder and below it. The path ends in a slash when it is compared, so that cmd/clay
// does not take in cmd/clayload.
func under(files []file, folder string) []file {
	return slices.DeleteFunc(slices.Clone(files), func(f file) bool { return !strings.HasPrefix(f.path, folder+"/") })
}

// without returns the files that are not in the folder or below it.
func without(files []file, folder string) []file {
	return slices.DeleteFunc(slices.Clone(files), func(f file) bool { return strings.HasPrefix(f.path, folder+"/") })
}
