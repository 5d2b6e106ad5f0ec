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
	other := repository{t, r.path("../other")}
	other.write("a.yaml")
	other.git("-c", "init.defaultBranch=main", "init", "-q")
	other.commit()
	r.edit("b.yaml")
	want := map[string]bool{"a.yaml": false, "b.yaml": true, "doors/c.yaml": false}
	for _, env := range []map[string]string{
		{"GIT_INDEX_FILE": ".git/index", "GIT_PREFIX": "doors/"}, // pre-commit of this one, from its top folder
		{"GIT_DIR": ".git", "GIT_WORK_TREE": "."},
		{"GIT_DIR": other.path(".git"), "GIT_WORK_TREE": other.dir, "GIT_INDEX_FILE": other.path(".git/index"), "GIT_COMMON_DIR": other.path(".git"), "GIT_OBJECT_DIRECTORY": other.path(".git/objects")},
		{"GIT_DIR": "nowhere", "GIT_INDEX_FILE": "nowhere", "GIT_OBJECT_DIRECTORY": "nowhere", "GIT_SHALLOW_FILE": "nowhere"},
	} {
		t.Run("", func(t *testing.T) {
			for name, value := range env {
				t.Setenv(name, value)
			}
			r.since("HEAD").has(t, want)
			s, err := Since(context.Background(), r.path("doors"), "HEAD")
			r.must(err)
			s.has(t, map[string]bool{"c.yaml": false, "../b.yaml": true})
		})
	}
}

// A real hook of git, with whatever this git sets for it, of all that is staged and of a part.
func TestInRealHook(t *testing.T) {
	r := newRepository(t, "a.yaml", "b.yaml", "c.yaml")
	r.must(os.MkdirAll(r.path(".git/hooks"), 0o755))
	r.must(os.WriteFile(r.path(".git/hooks/pre-commit"), []byte("#!/bin/sh\nenv >env\n"), 0o755))
	for _, commit := range [][]string{{"commit", "-qam", "all together"}, {"commit", "-qm", "part", "b.yaml"}} {
		r.must(os.WriteFile(r.path("b.yaml"), []byte(commit[2]), 0o644))
		r.must(os.WriteFile(r.path("c.yaml"), []byte(commit[2]), 0o644))
		r.git(commit...)
		env, err := os.ReadFile(r.path("env"))
		r.must(err)
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
	r.commit()
	r.must(os.Mkdir(r.path("../plain"), 0o755))
	r.git("clone", "-q", "--depth", "1", "file://"+r.dir, "../shallow")
	r.git("clone", "-q", "--bare", r.dir, "../bare")
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
		dir := r.path(c.dir)
		t.Setenv("GIT_CEILING_DIRECTORIES", filepath.Dir(r.dir))
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
	if _, err := Since(ctx, r.dir, "HEAD"); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}

// What a partial clone has left out is not fetched: the answer is a refusal.
func TestNothingIsFetched(t *testing.T) {
	r := newRepository(t, "a.yaml", "deep/a.yaml")
	r.edit("a.yaml", "deep/a.yaml")
	r.commit()
	r.git("config", "uploadpack.allowFilter", "true")
	r.git("clone", "-q", "--filter=tree:0", "file://"+r.dir, "../partial")
	partial := repository{t, r.path("../partial")}
	partial.since("HEAD").has(t, map[string]bool{"a.yaml": false})
	packs := func() int {
		found, err := filepath.Glob(partial.path(".git/objects/pack/*.pack"))
		r.must(err)
		return len(found)
	}
	before := packs()
	_, err := Since(context.Background(), partial.dir, "HEAD~1")
	if err == nil || !strings.HasPrefix(err.Error(), `revision "HEAD~1", which is no commit with files that `) || packs() != before {
		t.Errorf("fetched %d packs: %v", packs()-before, err)
	}
	partial.git("diff", "--name-only", "HEAD~1") // git by itself fetches
	if packs() == before {
		t.Error("nothing was left out of the clone, and the test shows nothing")
	}
}
