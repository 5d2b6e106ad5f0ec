package tools

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Repository is one of git, made for a test.
type Repository struct {
	testing.TB
	Dir string
}

// NewRepository makes an empty one in the folder house of a folder of its own, without links in its path. No setting of the
// machine reaches it, nor does the repository whose hook may run the tests.
func NewRepository(t *testing.T) Repository {
	t.Helper()
	git := Need(t, "git")
	for name, value := range map[string]string{
		"GIT_CONFIG_GLOBAL": os.DevNull, "GIT_CONFIG_NOSYSTEM": "1", "GIT_AUTHOR_NAME": "A Tester", "GIT_AUTHOR_EMAIL": "tester@example.org",
		"GIT_COMMITTER_NAME": "A Tester", "GIT_COMMITTER_EMAIL": "tester@example.org",
	} {
		t.Setenv(name, value)
	}
	local, err := exec.Command(git, "rev-parse", "--local-env-vars").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range strings.Fields(string(local)) {
		t.Setenv(name, "") // so that it is put back
		os.Unsetenv(name)
	}
	real, err := filepath.EvalSymlinks(t.TempDir())
	r := Repository{t, filepath.Join(real, "house")}
	r.Must(err)
	r.Must(os.Mkdir(r.Dir, 0o755))
	r.Git("-c", "init.defaultBranch=main", "init", "-q")
	r.Git("config", "commit.gpgsign", "false")
	return r
}

// Must ends the test on an error.
func (r Repository) Must(err error) {
	r.Helper()
	if err != nil {
		r.Fatal(err)
	}
}

// Path is where a file of the repository lies.
func (r Repository) Path(name string) string { return filepath.Join(r.Dir, filepath.FromSlash(name)) }

// Write writes a file, and the folders it needs.
func (r Repository) Write(name, text string) {
	r.Helper()
	r.Must(os.MkdirAll(filepath.Dir(r.Path(name)), 0o755))
	r.Must(os.WriteFile(r.Path(name), []byte(text), 0o644))
}

// Git runs a command of git, which must go well, and gives what it says.
func (r Repository) Git(args ...string) string {
	r.Helper()
	cmd := exec.Command("git", args...)
	cmd.Dir = r.Dir
	out, err := cmd.CombinedOutput()
	if err != nil {
		r.Fatalf("git %q: %v\n%s", args, err, out)
	}
	return strings.TrimSpace(string(out))
}

// Commit commits all as it lies there, or that nothing has changed, past any hook.
func (r Repository) Commit() {
	r.Helper()
	r.Git("add", "--all")
	r.Git("commit", "-q", "--allow-empty", "--no-verify", "-m", "as it is")
}
