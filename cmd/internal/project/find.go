package project

import (
	"os"
	"path/filepath"
	"runtime"
)

// Found is where a search for a project file ended.
type Found struct {
	Path   string // empty: there is none
	Passed string // a project file that was passed over, for everybody may write to its folder
}

// Find looks for the project file of a folder: in the folder itself, and above it up to the one that holds .git, the nearest first. Without
// .git above, only the folder itself is looked in: what lies above a folder that is no part of a repository may be anybody's. For the
// same reason no folder is looked in, or above, that everybody may write to, such as /tmp. Links to the folder are followed first.
func Find(folder string) (Found, error) {
	folder, err := filepath.EvalSymlinks(folder)
	if err != nil {
		return Found{}, err
	}
	nearest := Found{}
	for at := folder; ; at = filepath.Dir(at) {
		file := filepath.Join(at, FileName)
		if everybodys(at) {
			if at == folder && exists(file) {
				nearest.Passed = file
			}
			break
		}
		if nearest.Path == "" && exists(file) {
			nearest.Path = file
		}
		if exists(filepath.Join(at, ".git")) {
			return nearest, nil
		}
		if at == filepath.Dir(at) {
			break
		}
	}
	if nearest.Path != "" && filepath.Dir(nearest.Path) != folder {
		nearest.Path = "" // no repository
	}
	return nearest, nil
}

// exists is true of what is there, a link that leads nowhere too. What cannot be looked at is not there.
func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}

// everybodys says whether everybody may write to a folder; one that cannot be looked at counts as such. Where permission bits do not tell,
// none does.
func everybodys(folder string) bool {
	info, err := os.Stat(folder)
	return err != nil || runtime.GOOS != "windows" && info.Mode().Perm()&0o002 != 0
}
