package project

import (
	"os"
	"path/filepath"
	"runtime"
	"testing"
)

// tree makes folders (names that end in /) and empty files below a new folder, which it gives without links in its path.
func tree(t *testing.T, names ...string) string {
	t.Helper()
	root, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		full := filepath.Join(root, filepath.FromSlash(name))
		if name[len(name)-1] == '/' {
			err = os.MkdirAll(full, 0o755)
		} else if err = os.MkdirAll(filepath.Dir(full), 0o755); err == nil {
			err = os.WriteFile(full, nil, 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return root
}

// The nearest file of the repository counts; what lies above it, or above a folder of no repository, may be anybody's.
func TestFind(t *testing.T) {
	for name, c := range map[string]struct {
		names      []string
		from, want string
	}{
		"here":                 {[]string{"sillwright.yaml"}, "", "sillwright.yaml"},
		"nearest":              {[]string{".git/", "sillwright.yaml", "a/sillwright.yaml", "a/b/"}, "a/b", "a/sillwright.yaml"},
		"top of repository":    {[]string{".git/", "sillwright.yaml", "a/b/"}, "a/b", "sillwright.yaml"},
		"worktree":             {[]string{".git", "sillwright.yaml", "a/"}, "a", "sillwright.yaml"},
		"above the repository": {[]string{"sillwright.yaml", "r/.git/", "r/a/"}, "r/a", ""},
		"inner repository":     {[]string{".git/", "sillwright.yaml", "r/.git/", "r/a/"}, "r/a", ""},
		"no repository":        {[]string{"sillwright.yaml", "a/"}, "a", ""},
		"none":                 {[]string{".git/", "a/"}, "a", ""},
		"other name":           {[]string{"sillwright.yml", "Sillwright.yaml.txt"}, "", ""},
	} {
		root := tree(t, c.names...)
		got, err := Find(filepath.Join(root, c.from))
		want := c.want
		if want != "" {
			want = filepath.Join(root, filepath.FromSlash(want))
		}
		if err != nil || got.Path != want || got.Passed != "" {
			t.Errorf("%s: %+v, %v; want %s", name, got, err, want)
		}
	}
}

// A folder that everybody may write to, as /tmp is, holds nobody's project file, nor does what lies above it count.
func TestFolderOfEverybody(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("permission bits do not tell who may write here")
	}
	root := tree(t, ".git/", "sillwright.yaml", "shared/sillwright.yaml", "shared/mine/")
	shared := filepath.Join(root, "shared")
	if err := os.Chmod(shared, 0o777|os.ModeSticky); err != nil {
		t.Fatal(err)
	}
	if got, err := Find(shared); err != nil || got.Path != "" || got.Passed != filepath.Join(shared, FileName) {
		t.Errorf("%+v, %v", got, err)
	}
	if got, err := Find(filepath.Join(shared, "mine")); err != nil || got != (Found{}) {
		t.Errorf("%+v, %v", got, err)
	}
	if err := os.WriteFile(filepath.Join(shared, "mine", FileName), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if got, err := Find(filepath.Join(shared, "mine")); err != nil || got.Path != filepath.Join(shared, "mine", FileName) {
		t.Errorf("%+v, %v", got, err)
	}
}

// A link to a folder is the folder: what lies above the link is not above it.
func TestLinkedFolder(t *testing.T) {
	root := tree(t, "r/.git/", "r/sillwright.yaml", "r/a/", "other/.git/", "other/sillwright.yaml")
	link := filepath.Join(root, "other", "link")
	if err := os.Symlink(filepath.Join(root, "r", "a"), link); err != nil {
		t.Skip("no links here:", err)
	}
	if got, err := Find(link); err != nil || got.Path != filepath.Join(root, "r", FileName) {
		t.Errorf("%+v, %v", got, err)
	}
}
