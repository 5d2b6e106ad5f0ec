package cli

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"sillwright/schema"
)

// specExtensions are those of the files that are looked at in a folder.
var specExtensions = []string{".json", ".yaml", ".yml", ".ndjson", ".jsonl"}

// stdinName is how standard input is named in messages.
const stdinName = "standard input"

// input is a file to read.
type input struct {
	path  string // - is standard input
	named bool   // on the command line itself, not found in a folder or by a glob
}

// finder turns arguments into files, each file once however often it is reached.
type finder struct{ seen map[string]bool }

// find gives the files of an argument, in order, and what is wrong with it.
func (f *finder) find(arg string) ([]input, []schema.Problem) {
	if arg == "-" {
		return f.once(input{"-", true}), nil
	}
	info, err := os.Stat(arg)
	switch {
	case err == nil && info.IsDir():
		return f.walk(arg)
	case err == nil:
		return f.once(input{shown(arg), true}), nil
	case errors.Is(err, fs.ErrNotExist) && strings.ContainsAny(arg, "*?["):
		return f.glob(arg)
	}
	return nil, []schema.Problem{unreadable(arg, err)}
}

// glob expands what the shell has left alone.
func (f *finder) glob(pattern string) (files []input, problems []schema.Problem) {
	wrong := func(found, do string) []schema.Problem {
		return []schema.Problem{{File: shown(pattern), Found: found, Allowed: "a file, a folder, a glob that matches some, or -", Do: do}}
	}
	if strings.Contains(pattern, "**") {
		return nil, wrong("a glob with **, which is not known", "give the folder: it is searched all the way down")
	}
	matches, err := filepath.Glob(pattern)
	if err != nil {
		return nil, wrong("a glob that cannot be read", "close its brackets")
	}
	if !strings.HasPrefix(filepath.Base(pattern), ".") {
		matches = slices.DeleteFunc(matches, func(m string) bool { return strings.HasPrefix(filepath.Base(m), ".") })
	}
	if len(matches) == 0 {
		return nil, wrong("a glob that matches nothing", "")
	}
	slices.Sort(matches)
	for _, match := range matches {
		info, err := os.Stat(match)
		switch {
		case err != nil:
			problems = append(problems, unreadable(match, err))
		case info.IsDir():
			inside, wrong := f.walk(match)
			files, problems = append(files, inside...), append(problems, wrong...)
		case info.Mode().IsRegular():
			files = append(files, f.once(input{shown(match), false})...)
		}
	}
	return files, problems
}

// walk finds the files below a folder, sorted by path. Folders that are links are not followed, and neither they nor
// pipes and devices can hold a run up.
func (f *finder) walk(root string) (files []input, problems []schema.Problem) {
	var found []string
	_ = fs.WalkDir(os.DirFS(root), ".", func(below string, d fs.DirEntry, err error) error {
		full := path.Join(filepath.ToSlash(root), below)
		switch {
		case err != nil:
			problems = append(problems, unreadable(full, err))
			return nil
		case below != "." && strings.HasPrefix(d.Name(), "."):
			if d.IsDir() {
				return fs.SkipDir
			}
		case !d.IsDir() && slices.Contains(specExtensions, strings.ToLower(path.Ext(below))):
			info, err := os.Stat(full)
			if err != nil {
				problems = append(problems, unreadable(full, err))
			} else if info.Mode().IsRegular() {
				found = append(found, full)
			}
		}
		return nil
	})
	slices.Sort(found)
	for _, p := range found {
		files = append(files, f.once(input{shown(p), false})...)
	}
	return files, problems
}

// once gives a file the first time that it is reached, by whatever name.
func (f *finder) once(in input) []input {
	key := in.path
	if in.path != "-" {
		if real, err := filepath.EvalSymlinks(in.path); err == nil {
			key = real
		}
		if whole, err := filepath.Abs(key); err == nil {
			key = whole
		}
	}
	if f.seen[key] {
		return nil
	}
	f.seen[key] = true
	return []input{in}
}

// shown is a path as it is printed, with forward slashes. It begins lines of a log, where :: and ## would be read
// as a command to whoever runs the log.
func shown(p string) string {
	p = filepath.ToSlash(p)
	if strings.HasPrefix(p, ":") || strings.HasPrefix(p, "#") {
		p = "./" + p
	}
	return p
}

// unreadable is the problem of a path that could not be opened or read.
func unreadable(p string, err error) schema.Problem {
	if errors.Is(err, fs.ErrNotExist) {
		return schema.Problem{File: shown(p), Found: "no file or folder of this name", Allowed: "a file, a folder, a glob that matches some, or -", Do: "look for a slip in the path"}
	}
	var at *fs.PathError
	if errors.As(err, &at) {
		err = at.Err
	}
	return schema.Problem{File: shown(p), Found: "what cannot be read: " + err.Error(), Allowed: "a file or folder that can", Do: "see who may read it"}
}
