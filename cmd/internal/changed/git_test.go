package changed

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// In a hook git points to its own repository and index. The answer is that of the folder asked about all the same.
func TestInHook(t *testing.T) {
	r := newRepository(t, "a.yaml", "b.yaml", "doors/c.yaml")
	other := r.at("../other")
	other.write("a.yaml")
	other.Git("-c", "init.defaultBranch=main", "init", "-q")
	other.Commit()
	r.edit("b.yaml")
	want := map[string]bool{"a.yaml": false, "b.yaml": true, "doors/c.yaml": false}
	for _, env := range []map[string]string{
		{"GIT_INDEX_FILE": ".git/index", "GIT_PREFIX": "doors/"}, // pre-commit of this one, from its top folder
		{"GIT_DIR": ".git", "GIT_WORK_TREE": "."},
		{"GIT_DIR": other.Path(".git"), "GIT_WORK_TREE": other.Dir, "GIT_INDEX_FILE": other.Path(".git/index"), "GIT_COMMON_DIR": other.Path(".git"), "GIT_OBJECT_DIRECTORY": other.Path(".git/objects")},
		{"GIT_DIR": "nowhere", "GIT_INDEX_FILE": "nowhere", "GIT_OBJECT_DIRECTORY": "nowhere", "GIT_SHALLOW_FILE": "nowhere"},
	} {
		t.Run("", func(t *testing.T) {
			for name, value := range env {
				t.Setenv(name, value)
			}
			r.since("HEAD").has(t, want)
			s, err := Since(context.Background(), r.Path("doors"), "HEAD")
			r.Must(err)
			s.has(t, map[string]bool{"c.yaml": false, "../b.yaml": true})
		})
	}
}

// A real hook of git, with whatever this git sets for it, of all that is staged and of a part.
func TestInRealHook(t *testing.T) {
	r := newRepository(t, "a.yaml", "b.yaml", "c.yaml")
	r.Must(os.MkdirAll(r.Path(".git/hooks"), 0o755))
	r.Must(os.WriteFile(r.Path(".git/hooks/pre-commit"), []byte("#!/bin/sh\nenv >env\n"), 0o755))
	for _, commit := range [][]string{{"commit", "-qam", "all together"}, {"commit", "-qm", "part", "b.yaml"}} {
		r.Write("b.yaml", commit[2])
		r.Write("c.yaml", commit[2])
		r.Git(commit...)
		env, err := os.ReadFile(r.Path("env"))
		r.Must(err)
		if !strings.Contains(string(env), "GIT_INDEX_FILE=") {
			t.Fatalf("git sets no index for its hook:\n%s", env)
		}
		for line := range strings.Lines(string(env)) {
			if name, value, ok := strings.Cut(strings.TrimSpace(line), "="); ok && strings.HasPrefix(name, "GIT_") {
				t.Setenv(name, value)
			}
		}
		r.since("HEAD~1").has(t, map[string]bool{"a.yaml": false, "b.yaml": true, "c.yaml": true})
		for _, name := range elsewhere {
			os.Unsetenv(name)
		}
	}
}

// What cannot be compared is said with what was found, what is allowed and what to do.
func TestRefusals(t *testing.T) {
	r := newRepository(t, "a.yaml")
	r.edit("a.yaml")
	r.Commit()
	r.Must(os.Mkdir(r.Path("../plain"), 0o755))
	r.Git("clone", "-q", "--depth", "1", "file://"+r.Dir, "../shallow")
	r.Git("clone", "-q", "--bare", r.Dir, "../bare")
	const allowed = "; allowed: a commit, a branch or a tag, as main, HEAD~1 or a hash; do: "
	for _, c := range []struct{ dir, rev, want string }{
		{"", "", "an empty revision" + allowed + "look for a variable that is not set"},
		{"", "--output=x", `revision "--output=x", which begins with a dash` + allowed + "give the revision first, options after it"},
		{"", "-", `revision "-", which begins with a dash` + allowed + "give the revision first, options after it"},
		{"", "main..HEAD", `revision "main..HEAD", which is a range` + allowed + "for what a branch has changed, give the commit where it began: git merge-base origin/main HEAD"},
		{"", "HEAD...", `revision "HEAD...", which is a range` + allowed + "for what a branch has changed, give the commit where it began: git merge-base origin/main HEAD"},
		{"", "nope", `revision "nope", which HERE does not have` + allowed + "look for a slip, or fetch it first"},
		{"", "a.yaml", `revision "a.yaml", which HERE does not have` + allowed + "look for a slip, or fetch it first"},
		{"", "HEAD:a.yaml", `revision "HEAD:a.yaml", which is no commit with files that HERE has` + allowed + "give a commit; in a partial clone fetch it whole"},
		{"", "x\n::error::", `revision "x\n::error::", which HERE does not have` + allowed + "look for a slip, or fetch it first"},
		{"../shallow", "HEAD~1", `revision "HEAD~1", which HERE does not have` + allowed + "this clone is shallow and ends before its first commit: fetch more, with git fetch --unshallow, or in a pipeline with fetch-depth: 0 or GIT_DEPTH: 0"},
		{"../plain", "HEAD", "no git working tree at HERE: git says: not a git repository (or any of the parent directories): .git; allowed: a folder of one; do: run it inside of the clone, or leave the revision out"},
		{"../bare", "HEAD", "no git working tree at HERE: git says: this operation must be run in a work tree; allowed: a folder of one; do: run it inside of the clone, or leave the revision out"},
		{".git", "HEAD", "no git working tree at HERE: git says: this operation must be run in a work tree; allowed: a folder of one; do: run it inside of the clone, or leave the revision out"},
		{"nowhere", "HEAD", "HERE is no folder; allowed: a folder of a git working tree"},
	} {
		dir := r.Path(c.dir)
		t.Setenv("GIT_CEILING_DIRECTORIES", filepath.Dir(r.Dir))
		s, err := Since(context.Background(), dir, c.rev)
		if want := strings.ReplaceAll(c.want, "HERE", dir); s != nil || err == nil || err.Error() != want {
			t.Errorf("%q: %v\nwant %s", c.rev, err, want)
		}
	}
}

func TestNoGit(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	_, err := Since(context.Background(), t.TempDir(), "HEAD")
	if err == nil || !strings.HasPrefix(err.Error(), "the program git is not there, and is needed to compare with a revision: ") || !strings.HasSuffix(err.Error(), "; do: install git, or leave the revision out") {
		t.Errorf("%v", err)
	}
}

func TestEndedRun(t *testing.T) {
	r := newRepository(t, "a.yaml")
	ctx, end := context.WithCancel(context.Background())
	end()
	if _, err := Since(ctx, r.Dir, "HEAD"); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}

// What a partial clone has left out is not fetched: the answer is a refusal.
func TestNothingIsFetched(t *testing.T) {
	r := newRepository(t, "a.yaml", "deep/a.yaml")
	r.edit("a.yaml", "deep/a.yaml")
	r.Commit()
	r.Git("config", "uploadpack.allowFilter", "true")
	r.Git("clone", "-q", "--filter=tree:0", "file://"+r.Dir, "../partial")
	partial := r.at("../partial")
	partial.since("HEAD").has(t, map[string]bool{"a.yaml": false})
	packs := func() int {
		found, err := filepath.Glob(partial.Path(".git/objects/pack/*.pack"))
		r.Must(err)
		return len(found)
	}
	before := packs()
	_, err := Since(context.Background(), partial.Dir, "HEAD~1")
	if err == nil || !strings.HasPrefix(err.Error(), `revision "HEAD~1", which is no commit with files that `) || packs() != before {
		t.Errorf("fetched %d packs: %v", packs()-before, err)
	}
	partial.Git("diff", "--name-only", "HEAD~1") // git by itself fetches
	if packs() == before {
		t.Error("nothing was left out of the clone, and the test shows nothing")
	}
}
