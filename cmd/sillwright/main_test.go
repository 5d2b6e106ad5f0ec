package main

import (
	"bytes"
	"context"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"sillwright/cmd/internal/cli"
	"sillwright/schema"
)

var update = flag.Bool("update", false, "rewrite the expected outputs of scripts and examples")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"sillwright": main})
}

// One behaviour a file: testdata/script.
func TestScripts(t *testing.T) {
	scripts := "*"
	if testing.Short() {
		scripts = "lint_*" // the others check one door after the other: the race detector learns nothing from them
	}
	files, err := filepath.Glob("testdata/script/" + scripts + ".txtar")
	if err != nil || len(files) < 10 {
		t.Fatal(files, err)
	}
	testscript.Run(t, testscript.Params{
		Files: files, RequireExplicitExec: true, RequireUniqueNames: true, UpdateScripts: *update,
		Setup: func(e *testscript.Env) error {
			root, err := filepath.Abs("../..")
			if err != nil {
				return err
			}
			e.Setenv("ROOT", root)
			e.Setenv("NO_COLOR", "1")
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"hostile": writeHostile, "fifo": makeFifo},
	})
}

// writeHostile writes a file too big or too odd to keep in the repository:
// hostile brackets-json|brackets-yaml|utf16|zip|alias-bomb|long-line|big FILE.
func writeHostile(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: hostile KIND FILE")
	}
	var src []byte
	switch args[0] {
	case "brackets-json", "brackets-yaml":
		src = bytes.Repeat([]byte("["), 2<<20)
	case "utf16":
		src = []byte{0xff, 0xfe}
		for _, r := range "format: sillwright/door/1\n" {
			src = append(src, byte(r), 0)
		}
	case "zip":
		src = append([]byte("PK\x03\x04"), make([]byte, 400)...)
	case "alias-bomb":
		src = aliasBomb()
	case "big":
		src = bytes.Repeat([]byte("# a note, again\n"), schema.MaxFileBytes/16+1)
	case "long-line":
		src = append(bytes.Repeat([]byte("["), schema.MaxDocumentBytes+1), "\n{\"format\": \"sillwright/door/1\", \"mark\": \"D-02\", \"rulebooks\": [\"us-ada-2010\"]}\n"...)
	default:
		ts.Fatalf("no hostile file of kind %s", args[0])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), src, 0o644))
}

func aliasBomb() []byte {
	var b strings.Builder
	b.WriteString("a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n")
	for _, pair := range []string{"01", "12", "23", "34", "45", "56", "67", "78", "89"} {
		old, own := pair[:1], pair[1:]
		b.WriteString("a" + own + ": &a" + own + " [" + strings.TrimSuffix(strings.Repeat("*a"+old+", ", 10), ", ") + "]\n")
	}
	return []byte(b.String())
}

// ownSeals changes no seal that is known, so every example is checked with it.
const ownSeals = "examples/own-seals.yaml"

// alone leaves out, of a short run, a test of doors that are checked one after the other: the race detector learns nothing from it.
func alone(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("one door after the other")
	}
}

// Every example has its output committed, begins with its verdict in its name, and its
// JSON keeps to the published schema.
func TestExamples(t *testing.T) {
	alone(t)
	t.Setenv("NO_COLOR", "1")
	t.Chdir("../..")
	files := exampleDoors(t)
	if len(files) < 8 {
		t.Fatalf("only %d example doors", len(files))
	}
	result, err := schema.Named("result")
	if err != nil {
		t.Fatal(err)
	}
	input, err := schema.Named("input")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		name := filepath.Base(file)
		t.Run(name, func(t *testing.T) {
			text := run(t, "check", "--seals", ownSeals, file)
			golden := filepath.Join("cmd/sillwright/testdata/examples", strings.TrimSuffix(name, filepath.Ext(name))+".txt")
			if *update {
				if err := os.WriteFile(golden, []byte(text.out), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if text.out != string(want) {
				t.Errorf("output differs from %s (go test ./cmd/sillwright -update rewrites it):\n%s", golden, text.out)
			}
			verdict, _, _ := strings.Cut(name, "-")
			if wantCode := map[string]int{"complies": 0, "fails": 1, "unproven": 1}[verdict]; text.code != wantCode {
				t.Errorf("exit %d for an example named %s", text.code, verdict)
			}
			keeps(t, result, run(t, "check", "--seals", ownSeals, file, "--format", "json").out)
			keeps(t, result, run(t, "check", "--seals", ownSeals, file, "--format", "json", "--rank", "leakage").out)
			keeps(t, input, run(t, "check", "--seals", ownSeals, file, "--print-input").out)
		})
	}
}

// keeps holds one JSON object against its published schema.
func keeps(t *testing.T, s *schema.Schema, object string) {
	t.Helper()
	docs, problems := schema.Read("object.json", []byte(object))
	if len(problems) > 0 || len(docs) != 1 {
		t.Fatalf("no single object: %v", problems)
	}
	for _, p := range schema.Validate(docs[0], s) {
		t.Errorf("breaks its schema: %v", p)
	}
}

// What could not be judged is an object of its own in JSON, and keeps to its schema.
func TestProblemKeepsToItsSchema(t *testing.T) {
	spec := filepath.Join(t.TempDir(), "door.yaml")
	if err := os.WriteFile(spec, []byte("format: sillwright/door/1\nmark: D-01\nrulebooks: [us-ada-2010]\ndoor: {height: 5 kg}\ntreshold: {}\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	problem, err := schema.Named("problem")
	if err != nil {
		t.Fatal(err)
	}
	machine := run(t, "check", spec, "--format", "json")
	docs, problems := schema.Read("problems.ndjson", []byte(machine.out))
	if machine.code != 2 || len(docs) != 2 || len(problems) > 0 {
		t.Fatalf("exit %d, %d objects, %v", machine.code, len(docs), problems)
	}
	for _, doc := range docs {
		for _, p := range schema.Validate(doc, problem) {
			t.Errorf("%v", p)
		}
	}
}

func exampleDoors(t *testing.T) []string {
	t.Helper()
	var out []string
	for _, pattern := range []string{"complies-*", "fails-*", "unproven-*"} {
		for _, folder := range []string{"examples", "examples/project"} {
			found, err := filepath.Glob(filepath.Join(folder, pattern))
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, found...)
		}
	}
	return out
}

type ran struct {
	code     int
	out, err string
}

func run(t *testing.T, args ...string) ran {
	t.Helper()
	var out, errOut bytes.Buffer
	code := cli.Run(context.Background(), args, strings.NewReader(""), &out, &errOut)
	return ran{code, out.String(), errOut.String()}
}
