package changed

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

func TestSince(t *testing.T) {
	r := newRepository(t, "same.yaml", "edited.yaml", "staged.yaml", "committed.yaml", "old.yaml", "gone.yaml", "taken-out.yaml", "back.yaml", "deep/same.yaml", "deep/edited.yaml", ".gitignore")
	r.Write(".gitignore", "ignored*\n")
	r.Commit()
	first := r.Git("rev-parse", "HEAD")
	r.edit("committed.yaml", "back.yaml")
	r.Commit()
	r.edit("edited.yaml", "staged.yaml", "deep/edited.yaml")
	r.Git("add", "staged.yaml")
	r.Git("mv", "old.yaml", "renamed.yaml")
	r.Git("rm", "-q", "gone.yaml")
	r.Git("rm", "-q", "--cached", "taken-out.yaml")
	r.write("untracked.yaml", "deep/new/untracked.yaml", "ignored.yaml", "back.yaml")
	want := map[string]bool{
		"same.yaml": false, "deep/same.yaml": false, "edited.yaml": true, "staged.yaml": true, "deep/edited.yaml": true, "renamed.yaml": true,
		"taken-out.yaml": true, "untracked.yaml": true, "deep/new/untracked.yaml": true, "ignored.yaml": true,
		"committed.yaml": true, "back.yaml": false, "nowhere.yaml": true, "../outside.yaml": true,
	}
	for _, rev := range []string{first, "HEAD~1", "main~1", first[:10]} {
		r.since(rev).has(t, want)
	}
	want["committed.yaml"], want["back.yaml"] = false, true
	r.since("HEAD").has(t, want)
}

// A file that was only touched, or written anew as it was, has not changed; nothing is written to find that out.
func TestTouchedIsNotChanged(t *testing.T) {
	r := newRepository(t, "touched.yaml", "edited.yaml")
	later := time.Now().Add(time.Hour)
	r.Must(os.Chtimes(r.Path("touched.yaml"), later, later))
	r.edit("edited.yaml")
	index, err := os.ReadFile(r.Path(".git/index"))
	r.Must(err)
	r.Git("config", "diff.autoRefreshIndex", "false")
	r.since("HEAD").has(t, map[string]bool{"touched.yaml": false, "edited.yaml": true})
	if after, err := os.ReadFile(r.Path(".git/index")); err != nil || string(after) != string(index) {
		t.Errorf("the index was written; %v", err)
	}
}

// A file that is edited in the moment in which git looks at it, to the same length, has changed, although its time and
// length are those that git knows.
func TestEditedInTheSameMoment(t *testing.T) {
	r := newRepository(t, "a.yaml")
	r.Git("config", "core.trustctime", "false")
	moment := time.Now().Add(-time.Hour)
	r.Write("a.yaml", "a")
	r.Must(os.Chtimes(r.Path("a.yaml"), moment, moment))
	r.Commit()
	r.Write("a.yaml", "b")
	r.Must(os.Chtimes(r.Path("a.yaml"), moment, moment))
	r.Must(os.Chtimes(r.Path(".git/index"), moment, moment))
	r.since("HEAD").has(t, map[string]bool{"a.yaml": true})
}

// A run in a folder below asks of paths from there, and of others by ...
func TestFolderBelow(t *testing.T) {
	r := newRepository(t, "a.yaml", "doors/a.yaml", "doors/b.yaml")
	r.edit("a.yaml", "doors/b.yaml")
	r.Git("config", "diff.relative", "true")
	s, err := Since(context.Background(), r.Path("doors"), "HEAD")
	r.Must(err)
	s.has(t, map[string]bool{"a.yaml": false, "b.yaml": true, "../a.yaml": true, "../doors/a.yaml": false})
	t.Chdir(r.Path("doors"))
	s, err = Since(context.Background(), ".", "HEAD")
	r.Must(err)
	t.Chdir("..") // the folder that was given stays what it was
	s.has(t, map[string]bool{"a.yaml": false, "b.yaml": true})
}

// What a user or a repository has set for its own eyes changes nothing.
func TestSettings(t *testing.T) {
	r := newRepository(t, "same.yaml", "edited.yaml", "old.yaml")
	for _, pair := range [][2]string{
		{"color.ui", "always"}, {"diff.renames", "copies"}, {"diff.external", "false"}, {"diff.noprefix", "true"}, {"diff.mnemonicPrefix", "true"}, {"core.quotePath", "true"},
		{"pager.diff", "false"}, {"diff.ignoreSubmodules", "all"}, {"core.fsmonitor", "false"}, {"status.showUntrackedFiles", "no"}, {"diff.interHunkContext", "9"},
	} {
		r.Git("config", pair[0], pair[1])
	}
	r.Write(".git/info/attributes", "*.yaml diff=blind\n")
	r.Git("config", "diff.blind.textconv", "false")
	r.edit("edited.yaml")
	r.Git("mv", "old.yaml", "renamed.yaml")
	t.Setenv("GIT_EXTERNAL_DIFF", "false")
	t.Setenv("GIT_TRACE", "1")
	t.Setenv("LANG", "de_DE.UTF-8")
	r.since("HEAD").has(t, map[string]bool{"same.yaml": false, "edited.yaml": true, "renamed.yaml": true})
}

// Names may hold whatever a file system takes.
func TestHostileFileNames(t *testing.T) {
	names := []string{"a b.yaml", "-x.yaml", "--all", "new\nline.yaml", "tab\t.yaml", `quo"te'.yaml`, `back\slash.yaml`, "ü.yaml", "\xff\xfe.yaml", ":(top)x.yaml", "*.yaml", "H h.yaml", " .yaml", "#.yaml", "HEAD", "deep -/\n/x.yaml"}
	if runtime.GOOS != "linux" {
		t.Skip("other systems take fewer names")
	}
	var all []string
	for _, name := range names {
		all = append(all, name, "same "+name)
	}
	r := newRepository(t, all...)
	want := map[string]bool{}
	for _, name := range names {
		r.edit(name)
		r.write("new " + name)
		want[name], want["same "+name], want["new "+name] = true, false, true
	}
	r.since("HEAD").has(t, want)
}

// A link has changed when it leads elsewhere, or when what it leads to has changed.
func TestLinks(t *testing.T) {
	r := newRepository(t, "a.yaml", "b.yaml", "v1/x.yaml", "v2/x.yaml")
	link := func(target, name string) {
		t.Helper()
		os.Remove(r.Path(name))
		r.Must(os.Symlink(target, r.Path(name)))
	}
	for name, target := range map[string]string{"to-a.yaml": "a.yaml", "to-b.yaml": "b.yaml", "turned.yaml": "a.yaml", "over.yaml": "turned.yaml", "current": "v1", "stays": "v1"} {
		link(target, name)
	}
	r.Commit()
	r.edit("b.yaml")
	link("to-a.yaml", "turned.yaml")
	link("v2", "current")
	link("a.yaml", "untracked.yaml")
	link("round.yaml", "round.yaml")
	r.since("HEAD").has(t, map[string]bool{
		"to-a.yaml": false, "to-b.yaml": true, "turned.yaml": true, "over.yaml": true, "current/x.yaml": true, "stays/x.yaml": false, "v2/x.yaml": false,
		"untracked.yaml": true, "round.yaml": true,
	})
	// .. after a link goes up from where it leads.
	r.Must(os.MkdirAll(r.Path("far/below"), 0o755))
	link("far/below", "near")
	r.write("far/a.yaml")
	r.Commit()
	s := r.since("HEAD")
	r.edit("far/a.yaml")
	after := r.since("HEAD")
	if after.Has("a.yaml") || !after.Has("near/../a.yaml") || s.Has("far/a.yaml") {
		t.Error("a.yaml is the same, and near/../a.yaml is far/a.yaml, which is not")
	}
	// The way to the clone may lead over a link.
	link(r.Dir, "../alias")
	s, err := Since(context.Background(), r.Path("../alias"), "HEAD")
	r.Must(err)
	s.has(t, map[string]bool{"a.yaml": false, "b.yaml": false, "far/a.yaml": true, filepath.Join("..", "house", "b.yaml"): false})
}

// Work trees that are linked have a file in place of a folder .git, and branches of their own.
func TestLinkedWorkTree(t *testing.T) {
	r := newRepository(t, "a.yaml", "b.yaml")
	r.Git("worktree", "add", "-q", "../annex")
	r.edit("a.yaml")
	annex := r.at("../annex")
	annex.edit("b.yaml")
	annex.Commit()
	annex.since("main").has(t, map[string]bool{"a.yaml": false, "b.yaml": true})
	annex.since("HEAD").has(t, map[string]bool{"a.yaml": false, "b.yaml": false})
	r.since("annex").has(t, map[string]bool{"a.yaml": true, "b.yaml": true, "../annex/b.yaml": true})
}

// A submodule is one thing, and so is a repository inside of another that does not know it.
func TestOtherRepositoriesInside(t *testing.T) {
	r := newRepository(t, "a.yaml")
	inner := r.at("../seals")
	inner.write("x.yaml", "y.yaml")
	inner.Git("-c", "init.defaultBranch=main", "init", "-q")
	inner.Commit()
	r.Git("-c", "protocol.file.allow=always", "submodule", "--quiet", "add", "../seals", "sub")
	r.Git("-c", "protocol.file.allow=always", "clone", "-q", "../seals", "unknown")
	r.Git("add", ".gitmodules", "sub")
	r.Git("commit", "-q", "-m", "with a submodule")
	r.Git("config", "diff.ignoreSubmodules", "all")
	r.since("HEAD").has(t, map[string]bool{"a.yaml": false, "sub/x.yaml": false, "unknown/x.yaml": true})
	r.edit("sub/y.yaml")
	r.since("HEAD").has(t, map[string]bool{"a.yaml": false, "sub/x.yaml": true, "sub/y.yaml": true})
	sub := r.at("sub")
	sub.since("HEAD").has(t, map[string]bool{"x.yaml": false, "y.yaml": true, "../a.yaml": true})
	sub.Commit()
	r.since("HEAD").has(t, map[string]bool{"a.yaml": false, "sub/x.yaml": true})
}

// What git was told not to look at it cannot vouch for.
func TestLeftOutOfComparisons(t *testing.T) {
	r := newRepository(t, "assumed.yaml", "skipped.yaml", "same.yaml")
	r.Git("update-index", "--assume-unchanged", "assumed.yaml")
	r.Git("update-index", "--skip-worktree", "skipped.yaml")
	r.edit("assumed.yaml", "skipped.yaml")
	r.since("HEAD").has(t, map[string]bool{"assumed.yaml": true, "skipped.yaml": true, "same.yaml": false})
}

// Both sides of a conflict have changed; a revision may be a tag or a tree, the empty one for a first commit.
func TestRevisions(t *testing.T) {
	r := newRepository(t, "a.yaml", "b.yaml")
	r.Git("tag", "-a", "-m", "as built", "built")
	r.Git("checkout", "-q", "-b", "other")
	r.edit("a.yaml")
	r.Commit()
	r.Git("checkout", "-q", "main")
	r.Write("a.yaml", "otherwise\n")
	r.Commit()
	if out, err := exec.Command("git", "-C", r.Dir, "merge", "other").CombinedOutput(); err == nil {
		t.Fatalf("no conflict: %s", out)
	}
	for _, rev := range []string{"HEAD", "other", "built", "refs/tags/built", "HEAD^{tree}", "built^{}", ":/as it"} {
		r.since(rev).has(t, map[string]bool{"a.yaml": true, "b.yaml": false})
	}
	r.since(strings.TrimSpace(r.Git("hash-object", "-t", "tree", os.DevNull))).has(t, map[string]bool{"a.yaml": true, "b.yaml": true})
}
