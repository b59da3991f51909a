package doc_test

import (
	"fmt"
	"strings"

	"clayline/domain/doc"
)

// A class that was pulled on paper, from its sheet to its standing.
func ExampleScore() {
	const paper = `round,entry,result,note
1,41,void,stopped before the restart line
1,41,281.36,
1,7,FP,
1,23,FP 301.2,
1,19,DQ,crossed the side line
P1,7,312.44,
P1,23,305.1,
`
	rules, _ := doc.ReadyMadeRuleSet(doc.DefaultRuleSet)
	sheet, err := doc.ReadSheet(strings.NewReader(paper), "class.csv", rules)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range doc.Score(sheet).Standing {
		if p.Place == nil {
			fmt.Print("no place: ")
		} else {
			fmt.Printf("%d: ", *p.Place)
		}
		fmt.Println(p.Entry, p.Rounds)
	}
	// Output:
	// 1: 7 [{1 FP } {P1 312.44 }]
	// 2: 23 [{1 FP 301.2 } {P1 305.1 }]
	// 3: 41 [{1 281.36 }]
	// no place: 19 [{1 DQ crossed the side line}]
}

// A sheet that cannot be understood says where, and what was expected.
func ExampleReadSheet() {
	rules, _ := doc.ReadyMadeRuleSet("floating-ft")
	_, err := doc.ReadSheet(strings.NewReader("round,entry,result\n1,41,FP\n"), "class.csv", rules)
	fmt.Println(err)
	// Output: class.csv:2:6: column result: FP without a figure says nothing here, because the distance counts past the line; expected otherwise: give the figure, such as FP 312.44
}

// A rule set is read once and checked whole.
func ExampleParseRuleSet() {
	rules, err := doc.ParseRuleSet([]byte(`{"name": "our-60m", "unit": "m", "line": 60, "cap": true, "rounds": 1}`))
	fmt.Println(rules.Line, rules.Rounds, err)
	_, err = doc.ParseRuleSet([]byte(`{"name": "our-60m", "unit": "m", "line": 60, "cap": true, "rounds": 1, "restart": 60}`))
	fmt.Println(err)
	// Output:
	// 60 m 1 <nil>
	// 60 m lies at or beyond the full-pull line 60 m (restart against line); move it before the full-pull line
}
