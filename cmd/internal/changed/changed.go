// Package changed tells which files differ from a revision of a git repository.
//
// It asks the git program, and no library: git is on every machine that has a clone to compare, it reads every
// repository that it has written itself (links to other work trees, partial and sparse clones, filters, index
// versions), and a library would outweigh the rest of the program. None of the commands that are run here fetches
// or writes anything, the index included.
//
// What is compared is the working tree, as the files lie there, with the revision itself. What a branch has
// changed is asked for with the commit where it began: git merge-base origin/main HEAD.
//
// Only what git vouches for is left out: a file that it tracks and that is the same as in the revision. All else counts
// as changed, so that nothing is passed over unseen: files that are new, renamed (by their new name), untracked or ignored,
// outside of the repository, in another one inside of it, or marked to be left out of comparisons (assume-unchanged,
// skip-worktree). Submodules are one thing: all of one is changed as soon as anything in it is.
package changed

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"sillwright/schema"
)

// Set is what differs from a revision.
type Set struct {
	dir     string          // that Since was given, absolute
	root    string          // top folder of the working tree, without links
	tracked map[string]bool // what git compares, from the root, with slashes
	differs map[string]bool // what it has found to differ
}

// Since compares the working tree that holds a folder with a revision: a commit, a branch, a tag or a tree.
func Since(ctx context.Context, dir, rev string) (*Set, error) {
	const allowed = "a commit, a branch or a tag, as main, HEAD~1 or a hash"
	switch {
	case rev == "":
		return nil, fmt.Errorf("an empty revision; allowed: %s; do: look for a variable that is not set", allowed)
	case strings.HasPrefix(rev, "-"):
		return nil, fmt.Errorf("revision %q, which begins with a dash; allowed: %s; do: give the revision first, options after it", rev, allowed)
	case strings.Contains(rev, ".."):
		return nil, fmt.Errorf("revision %q, which is a range; allowed: %s; do: for what a branch has changed, give the commit where it began: git merge-base origin/main HEAD", rev, allowed)
	}
	abs, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	s := &Set{dir: abs}
	if s.root, err = topFolder(ctx, abs); err != nil {
		return nil, err
	}
	at := git{ctx: ctx, dir: s.root}
	hash, err := at.line("rev-parse", "--verify", "--quiet", rev)
	if err != nil {
		return nil, at.noRevision(rev, allowed, err)
	}
	tree, err := at.line("rev-parse", "--verify", "--quiet", hash+"^{tree}")
	if saidByGit(err) {
		return nil, fmt.Errorf("revision %q, which is no commit with files that %s has; allowed: %s; do: give a commit; in a partial clone fetch it whole", rev, schema.Printable(s.root), allowed)
	} else if err != nil {
		return nil, err
	}
	if err := s.compare(at, tree); err != nil {
		return nil, fmt.Errorf("revision %q cannot be compared: %w", rev, err)
	}
	return s, nil
}

func topFolder(ctx context.Context, dir string) (string, error) {
	at := git{ctx: ctx, dir: dir}
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return "", fmt.Errorf("%s is no folder; allowed: a folder of a git working tree", schema.Printable(dir))
	}
	top, err := at.line("rev-parse", "--show-toplevel")
	if err != nil {
		if !saidByGit(err) {
			return "", err
		}
		return "", fmt.Errorf("no git working tree at %s: %w; allowed: a folder of one; do: run it inside of the clone, or leave the revision out", schema.Printable(dir), err)
	}
	return filepath.EvalSymlinks(filepath.FromSlash(top))
}

// noRevision says why a revision cannot be found.
func (g git) noRevision(rev, allowed string, err error) error {
	if !saidByGit(err) {
		return err
	}
	do := "look for a slip, or fetch it first"
	if shallow, err := g.line("rev-parse", "--is-shallow-repository"); err == nil && shallow == "true" {
		do = "this clone is shallow and ends before its first commit: fetch more, with git fetch --unshallow, or in a pipeline with fetch-depth: 0 or GIT_DEPTH: 0"
	}
	return fmt.Errorf("revision %q, which %s does not have; allowed: %s; do: %s", rev, schema.Printable(g.dir), allowed, do)
}

// compare fills the set. Paths are counted from the root, and end with a zero byte, whatever they hold.
func (s *Set) compare(at git, tree string) error {
	drop, err := at.copyIndex()
	if err != nil {
		return err
	}
	defer drop()
	differing, err := at.run("diff", "--name-only", "-z", "--no-renames", "--no-ext-diff", "--no-textconv", "--no-color", "--ignore-submodules=none", tree, "--")
	if err != nil {
		return err
	}
	files, err := at.run("ls-files", "-z", "-v", "--cached", "--full-name")
	if err != nil {
		return err
	}
	s.differs, s.tracked = map[string]bool{}, map[string]bool{}
	for name := range strings.SplitSeq(differing, "\x00") {
		s.differs[name] = name != ""
	}
	for entry := range strings.SplitSeq(files, "\x00") {
		if name, ok := strings.CutPrefix(entry, "H "); ok { // h and S: git was told to take it for unchanged
			s.tracked[name] = true
		}
	}
	return nil
}

// Has says whether a file has changed, by an absolute path or one from the folder that Since was given. A link has
// changed if it leads elsewhere now, or if what it leads to has changed.
func (s *Set) Has(file string) bool {
	if !filepath.IsAbs(file) {
		file = s.dir + string(filepath.Separator) + file // not joined, which would take .. back before links are followed
	}
	places, ok := placesOf(file)
	if !ok {
		return true
	}
	last := len(places) - 1
	for i, place := range places {
		below, err := filepath.Rel(s.root, place)
		outside := err != nil || !filepath.IsLocal(below)
		if outside && i == last {
			return true
		}
		if !outside && s.changed(filepath.ToSlash(below)) {
			return true
		}
	}
	return false
}

// Gone gives the files of a name that the revision has, and the working tree has no more, in the folder that Since was given and above it.
func (s *Set) Gone(name string) []string {
	var out []string
	dir, err := filepath.EvalSymlinks(s.dir)
	if err != nil {
		return nil
	}
	for {
		file := filepath.Join(dir, name)
		below, err := filepath.Rel(s.root, file)
		if err != nil || !filepath.IsLocal(below) {
			return out
		}
		if _, err := os.Lstat(file); err != nil && s.differs[filepath.ToSlash(below)] {
			out = append(out, below)
		}
		if dir == filepath.Dir(dir) {
			return out
		}
		dir = filepath.Dir(dir)
	}
}

// GoneFrom gives the files that the revision has in a folder, and the working tree has no more.
func (s *Set) GoneFrom(dir string) []string {
	if !filepath.IsAbs(dir) {
		dir = filepath.Join(s.dir, dir)
	}
	real, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return nil
	}
	below, err := filepath.Rel(s.root, real)
	if err != nil || !filepath.IsLocal(below) {
		return nil
	}
	var out []string
	for name, differs := range s.differs {
		file := filepath.FromSlash(name)
		if !differs || filepath.Dir(file) != below {
			continue
		}
		if _, err := os.Lstat(filepath.Join(s.root, file)); err != nil {
			out = append(out, file)
		}
	}
	slices.Sort(out)
	return out
}

// changed looks a path up, and what it lies in: a submodule is listed as one.
func (s *Set) changed(name string) bool {
	known := false
	for {
		if s.differs[name] {
			return true
		}
		known = known || s.tracked[name]
		cut := strings.LastIndexByte(name, '/')
		if cut < 0 {
			return !known
		}
		name = name[:cut]
	}
}

// mostLinks is how many links a path may go through, as many as Linux follows.
const mostLinks = 40

// placesOf gives where the links on the way to a file lie, and last where the file itself does. It gives up on what it
// cannot follow just as the system does.
func placesOf(file string) (places []string, ok bool) {
	real, err := filepath.EvalSymlinks(file)
	if err != nil {
		return nil, false
	}
	at := filepath.Clean(file)
	for range mostLinks {
		link, rest := firstLink(at)
		if link == "" {
			return append(places, at), at == real // it is not where .. follows a link
		}
		places = append(places, link)
		target, err := os.Readlink(link)
		if err != nil {
			return nil, false
		}
		if !filepath.IsAbs(target) {
			target = filepath.Join(filepath.Dir(link), target)
		}
		at = filepath.Join(target, rest)
	}
	return nil, false
}

// firstLink finds the first link on the way to a file, and what follows it.
func firstLink(file string) (link, rest string) {
	for i := len(filepath.VolumeName(file)) + 1; i <= len(file); i++ {
		if i < len(file) && !os.IsPathSeparator(file[i]) {
			continue
		}
		if info, err := os.Lstat(file[:i]); err == nil && info.Mode()&os.ModeSymlink != 0 {
			return file[:i], file[i:]
		}
	}
	return "", ""
}
