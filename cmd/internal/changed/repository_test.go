package changed

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"sillwright/cmd/internal/tools"
)

// repository is a real one, in a folder of the test.
type repository struct {
	*testing.T
	dir string
}

// newRepository makes one with a first commit of these files, each holding its own name. No setting of the machine
// reaches it.
func newRepository(t *testing.T, files ...string) repository {
	t.Helper()
	tools.Need(t, "git")
	for name, value := range map[string]string{
		"GIT_CONFIG_GLOBAL": os.DevNull, "GIT_CONFIG_NOSYSTEM": "1", "GIT_AUTHOR_NAME": "A Tester", "GIT_AUTHOR_EMAIL": "tester@example.org",
		"GIT_COMMITTER_NAME": "A Tester", "GIT_COMMITTER_EMAIL": "tester@example.org",
	} {
		t.Setenv(name, value)
	}
	for _, name := range elsewhere { // of a hook that runs the tests
		t.Setenv(name, "")
		os.Unsetenv(name)
	}
	real, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	r := repository{t, filepath.Join(real, "house")}
	r.write(files...)
	r.must(os.MkdirAll(r.dir, 0o755))
	r.git("-c", "init.defaultBranch=main", "init", "-q")
	r.git("config", "commit.gpgsign", "false")
	r.commit()
	return r
}

func (r repository) must(err error) {
	r.Helper()
	if err != nil {
		r.Fatal(err)
	}
}

func (r repository) path(name string) string { return filepath.Join(r.dir, name) }

// write writes files that hold their own name.
func (r repository) write(files ...string) {
	r.Helper()
	for _, name := range files {
		r.must(os.MkdirAll(filepath.Dir(r.path(name)), 0o755))
		r.must(os.WriteFile(r.path(name), []byte(name+"\n"), 0o644))
	}
}

// edit writes something else into files.
func (r repository) edit(files ...string) {
	r.Helper()
	for _, name := range files {
		r.must(os.WriteFile(r.path(name), []byte("edited\n"), 0o644))
	}
}

func (r repository) git(args ...string) string {
	r.Helper()
	cmd := exec.Command("git", args...)
	cmd.Dir = r.dir
	out, err := cmd.CombinedOutput()
	if err != nil {
		r.Fatalf("git %q: %v\n%s", args, err, out)
	}
	return strings.TrimSpace(string(out))
}

func (r repository) commit() {
	r.Helper()
	r.git("add", "--all")
	r.git("commit", "-q", "--allow-empty", "-m", "as it is")
}

// since asks from the top folder.
func (r repository) since(rev string) *Set {
	r.Helper()
	s, err := Since(context.Background(), r.dir, rev)
	if err != nil {
		r.Fatal(err)
	}
	return s
}

// has holds what a set says against what is so, file by file, by the path from its folder and the absolute one.
func (s *Set) has(t *testing.T, want map[string]bool) {
	t.Helper()
	for file, changed := range want {
		if got := s.Has(filepath.FromSlash(file)); got != changed {
			t.Errorf("%q: changed %v, want %v", file, got, changed)
		}
		if abs := filepath.Join(s.dir, filepath.FromSlash(file)); s.Has(abs) != changed {
			t.Errorf("%q: changed %v, want %v", abs, !changed, changed)
		}
	}
}
