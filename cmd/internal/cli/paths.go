package cli

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"unicode"

	"sillwright/cmd/internal/render"
	"sillwright/schema"
)

// specExtensions are those of the files that are looked at in a folder.
var specExtensions = []string{".json", ".yaml", ".yml", ".ndjson", ".jsonl"}

// input is a file to read.
type input struct {
	path  string // - is standard input
	named bool   // on the command line itself, not found in a folder or by a glob
}

// finder turns arguments into files, each file once however often it is reached.
type finder struct {
	seen  map[string]bool
	named map[string]bool // the files that are arguments themselves, wherever they are reached first
}

func newFinder(args []string) *finder {
	f := &finder{map[string]bool{}, map[string]bool{}}
	for _, arg := range args {
		if info, err := os.Stat(arg); err == nil && !info.IsDir() {
			f.named[whole(arg)] = true
		}
	}
	return f
}

const (
	inputs     = "a file, a folder, a glob that matches some, or -"
	extensions = ".json, .yaml, .yml, .ndjson or .jsonl" // specExtensions in words
)

// find gives the files of an argument, in order, and what is wrong with it.
func (f *finder) find(arg string) ([]input, []schema.Problem) {
	switch arg {
	case "-":
		return f.once(input{"-", true}), nil
	case "":
		return nil, []schema.Problem{{File: shown(arg), Found: "an empty path", Allowed: inputs, Do: "look for a variable that is not set"}}
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

// glob expands what the shell has left alone. Of plain files it gives those that a folder would, and others where
// it says their extension itself.
func (f *finder) glob(pattern string) (files []input, problems []schema.Problem) {
	wrong := func(found, do string) []schema.Problem {
		return []schema.Problem{{File: shown(pattern), Found: found, Allowed: inputs, Do: do}}
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
	others, used := namesExtension(pattern), false
	for _, match := range matches {
		info, err := os.Stat(match)
		switch {
		case err != nil:
			problems = append(problems, unreadable(match, err))
		case info.IsDir():
			inside, wrong := f.walk(match)
			files, problems, used = append(files, inside...), append(problems, wrong...), true
		case info.Mode().IsRegular() && (others || isSpecName(match)):
			files, used = append(files, f.once(input{shown(match), false})...), true
		}
	}
	switch {
	case used || len(problems) > 0:
		return files, problems
	case others:
		return nil, wrong("a glob that matches no plain file", "")
	}
	return nil, wrong("a glob that matches no plain file with the extension "+extensions, "to have others read, write their extension at its end")
}

// namesExtension says whether a glob itself says which extension it wants.
func namesExtension(pattern string) bool {
	ext := filepath.Ext(filepath.Base(pattern))
	return len(ext) > 1 && !strings.ContainsAny(ext, `*?[]\`)
}

func isSpecName(name string) bool {
	return slices.Contains(specExtensions, strings.ToLower(filepath.Ext(name)))
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
		case !d.IsDir() && isSpecName(below):
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
		key = whole(in.path)
	}
	if f.seen[key] {
		return nil
	}
	f.seen[key] = true
	in.named = in.named || f.named[key]
	return []input{in}
}

// whole is the absolute path of a file, without links.
func whole(p string) string {
	if real, err := filepath.EvalSymlinks(p); err == nil {
		p = real
	}
	if abs, err := filepath.Abs(p); err == nil {
		p = abs
	}
	return p
}

// shown is a path as it is printed, with forward slashes. It begins lines of a log, where :: and ## would be read
// as a command to whoever runs the log, behind blanks too; and a file may have the name that standard input goes by.
func shown(p string) string {
	p = filepath.ToSlash(p)
	if p == "" {
		return `""`
	}
	if first := strings.TrimLeftFunc(p, unicode.IsSpace); strings.HasPrefix(first, ":") || strings.HasPrefix(first, "#") || p == render.StandardInput {
		p = "./" + p
	}
	return p
}

// unreadable is the problem of a path that could not be opened or read.
func unreadable(p string, err error) schema.Problem {
	out := schema.Problem{File: shown(p), Found: "what cannot be read: " + bare(err).Error(), Allowed: "a file or folder that can", Do: "look at what the path leads to"}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		out.Found, out.Allowed, out.Do = "no file or folder of this name", inputs, "look for a slip in the path"
	case errors.Is(err, syscall.ELOOP):
		out.Found, out.Do = "links that lead in a circle", "put the file itself in their place"
	case errors.Is(err, fs.ErrPermission):
		out.Do = "see who may read it"
	}
	return out
}

// bare is an error of the system without the path, which the message gives already.
func bare(err error) error {
	var at *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &at):
		return at.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}
