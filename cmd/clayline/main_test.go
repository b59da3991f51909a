package main

import (
	"os"
	"testing"

	"clayline/postgres/pgtest"
)

// asProgram makes the test program be the program itself, so that a test can start it, and kill it.
const asProgram = "CLAYLINE_TEST_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
	}
	os.Exit(pgtest.Main(m))
}
