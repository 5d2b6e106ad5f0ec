package changed

import (
	"context"
	"path/filepath"
	"testing"

	"sillwright/cmd/internal/tools"
)

// repository is a real one, of small files.
type repository struct{ tools.Repository }

// newRepository makes one with a first commit of these files, each holding its own name.
func newRepository(t *testing.T, files ...string) repository {
	t.Helper()
	r := repository{tools.NewRepository(t)}
	r.write(files...)
	r.Commit()
	return r
}

// at is a repository in another folder.
func (r repository) at(dir string) repository {
	r.Dir = r.Path(dir)
	return r
}

// write writes files that hold their own name.
func (r repository) write(files ...string) {
	r.Helper()
	for _, name := range files {
		r.Write(name, name+"\n")
	}
}

// edit writes something else into files.
func (r repository) edit(files ...string) {
	r.Helper()
	for _, name := range files {
		r.Write(name, "edited\n")
	}
}

// since asks from the top folder.
func (r repository) since(rev string) *Set {
	r.Helper()
	s, err := Since(context.Background(), r.Dir, rev)
	r.Must(err)
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
