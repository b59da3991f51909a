package main

import (
	"encoding/hex"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui"
)

// walkBlock is a block of docs/api.md that a shell runs.
var walkBlock = regexp.MustCompile("(?ms)^```sh\n(.*?)^```")

// The walk of docs/api.md is run as it stands there, with curl, against a server that has nothing yet.
func TestTheWalkOfTheManualWorksAsItStands(t *testing.T) {
	t.Parallel()
	manual, err := os.ReadFile("../../docs/api.md")
	require.NoError(t, err)
	var script strings.Builder
	for _, block := range walkBlock.FindAllStringSubmatch(string(manual), -1) {
		script.WriteString(block[1])
	}
	s := emptySite(t)
	_, secret, err := s.desk.IssuePass(s.ctx, desk.Program(), "", uuid.New(), domain.Desk)
	require.NoError(t, err)
	shell := exec.CommandContext(t.Context(), "bash", "-euo", "pipefail", "-c", script.String()) // #nosec G204 -- our own manual
	shell.Env = append(os.Environ(), "CLAYLINE="+s.address, "LINK="+s.address+webui.EnterPath(secret))
	out, err := shell.CombinedOutput()
	require.NoError(t, err, string(out))
	require.Regexp(t, `"standing":\[\{"place":1,[^}]*"number":"40"`, string(out), "40 won the pull-off")
	require.Contains(t, string(out), "misread 9 as 4", "the correction is in the export")
	require.Contains(t, string(out), `"kind":"official"`, "the journal ends with the signature")
	lines, err := s.desk.Journal(s.ctx, desk.Program(), "quarry-lane-evening-pull", 0, 1000)
	require.NoError(t, err)
	require.Contains(t, string(out), "the chain holds to its end, "+hex.EncodeToString(lines[len(lines)-1].Hash))
	page, err := s.desk.ClassPage(s.ctx, desk.Ref{Event: "quarry-lane-evening-pull", Class: "9000-lb-farm"})
	require.NoError(t, err)
	require.Equal(t, "D. Ash", page.Class.Official.Name)
}
