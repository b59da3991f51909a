package postgres_test

import (
	"os"
	"testing"

	"clayline/postgres/pgtest"
)

func TestMain(m *testing.M) { os.Exit(pgtest.Main(m)) }
