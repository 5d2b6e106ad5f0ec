package changed

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"sillwright/schema"
)

// git runs the program in a folder.
type git struct {
	ctx   context.Context
	dir   string
	index string // a copy to use in place of the index
}

// steady are settings that hold whatever a machine, a user or a repository has set: paths from the root, contents
// compared and not times alone, and no helper that is started and stays.
var steady = []string{
	"--no-pager", "-c", "diff.relative=false", "-c", "diff.autoRefreshIndex=true", "-c", "core.fsmonitor=false", "-c", "submodule.recurse=false",
}

// elsewhere are variables by which git is told of another repository, index or store than it would find from its
// folder. It sets them itself for a hook: of the repository that runs the hook, and with paths from its top folder.
var elsewhere = []string{
	"GIT_DIR", "GIT_WORK_TREE", "GIT_IMPLICIT_WORK_TREE", "GIT_COMMON_DIR", "GIT_INDEX_FILE", "GIT_PREFIX", "GIT_OBJECT_DIRECTORY",
	"GIT_ALTERNATE_OBJECT_DIRECTORIES", "GIT_NAMESPACE", "GIT_SHALLOW_FILE", "GIT_GRAFT_FILE", "GIT_INTERNAL_SUPER_PREFIX",
}

// environment is that of the run without what would lead elsewhere, with messages in English, and with nothing that would
// wait for a lock, ask somebody, or fetch what a partial clone has left out.
func environment() []string {
	env := slices.DeleteFunc(os.Environ(), func(pair string) bool {
		name, _, _ := strings.Cut(pair, "=")
		return slices.Contains(elsewhere, name)
	})
	return append(env, "LC_ALL=C", "LANGUAGE=", "GIT_OPTIONAL_LOCKS=0", "GIT_TERMINAL_PROMPT=0", "GIT_NO_LAZY_FETCH=1", "GIT_ALLOW_PROTOCOL=none")
}

// refused is what git itself has to say against a command.
type refused struct{ said string }

func (r refused) Error() string { return r.said }

func saidByGit(err error) bool {
	var r refused
	return errors.As(err, &r)
}

func (g git) run(args ...string) (string, error) {
	cmd := exec.CommandContext(g.ctx, "git", append(append([]string{"-C", g.dir}, steady...), args...)...)
	var out, said bytes.Buffer
	cmd.Env, cmd.Stdout, cmd.Stderr = environment(), &out, &said
	if g.index != "" {
		cmd.Env = append(cmd.Env, "GIT_INDEX_FILE="+g.index)
	}
	err := cmd.Run()
	var exit *exec.ExitError
	switch {
	case err == nil:
		return out.String(), nil
	case g.ctx.Err() != nil:
		return "", g.ctx.Err()
	case errors.Is(err, exec.ErrNotFound):
		return "", fmt.Errorf("the program git is not there, and is needed to compare with a revision: %w; do: install git, or leave the revision out", err)
	case errors.As(err, &exit):
		return "", refused{reason(args[0], said.String(), exit)}
	}
	return "", fmt.Errorf("git %s: %w", args[0], err)
}

// copyIndex makes the commands that follow work with a copy of the index, until it is dropped. To tell a file that was
// touched from one that was edited git diff notes in the index what it has read, without being asked; and the index
// is not ours. The copy has the time of the index, by which git knows which files were too fresh for it.
func (g *git) copyIndex() (drop func(), err error) {
	name, err := g.line("rev-parse", "--git-path", "index")
	if err != nil {
		return nil, err
	}
	if name = filepath.FromSlash(name); !filepath.IsAbs(name) {
		name = filepath.Join(g.dir, name)
	}
	index, err := os.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return func() {}, nil // nothing was ever added
	} else if err != nil {
		return nil, err
	}
	defer index.Close()
	info, err := index.Stat()
	if err != nil {
		return nil, err
	}
	folder, err := os.MkdirTemp("", "sillwright-index-")
	if err != nil {
		return nil, err
	}
	drop = func() { os.RemoveAll(folder) }
	g.index = filepath.Join(folder, "index")
	if err := copyTo(g.index, index, info.ModTime()); err != nil {
		drop()
		return nil, err
	}
	return drop, nil
}

func copyTo(name string, from io.Reader, modified time.Time) error {
	to, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(to, from)
	return errors.Join(err, to.Close(), os.Chtimes(name, modified, modified))
}

// line runs what answers with one line. A name may end with blanks, and even with a newline of its own.
func (g git) line(args ...string) (string, error) {
	out, err := g.run(args...)
	return strings.TrimSuffix(strings.TrimSuffix(out, "\n"), "\r"), err
}

// reason is what git gave as its reason, or else how it ended.
func reason(command, said string, exit *exec.ExitError) string {
	for line := range strings.Lines(said) {
		if why, ok := strings.CutPrefix(line, "fatal: "); ok {
			return "git says: " + schema.Printable(strings.TrimSpace(why))
		}
	}
	return fmt.Sprintf("git %s ended with %v", command, exit)
}
