package policies

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"iter"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"sillwright/schema"
)

// OwnPrefix begins the id of every rulebook and the name of every question that is not built in: no user's can be taken for one of
// a published code that is, or will be.
const OwnPrefix = "own-"

// What one folder of rulebooks may hold. A rulebook is a page or two of text; more than this is no rulebook.
const (
	mostOwnFiles = 100
	mostOwnBytes = 512 << 10 // of a file
	mostOwnRules = 200       // of a rulebook
	mostOwnItems = 50        // of the lists and mappings of a rule
)

// Own is a folder of rulebooks that are not built in: data, their cases, and questions in Rego that they bring.
type Own struct {
	Dir   string    // as it was named
	files []ownFile // in order of their names
}

type ownFile struct {
	name string // within the folder
	path string // as problems name it
	src  []byte
}

// ReadOwn reads a folder of own rulebooks: own-<name>.yaml, own-<name>.cases.yaml and own-<question>.rego. It follows no link out of the
// folder, reads regular files alone, and reads nothing of what it does not know: other endings and folders are passed over.
func ReadOwn(dir string) (*Own, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", dir, bare(err))
	}
	defer root.Close()
	entries, err := fs.ReadDir(root.FS(), ".")
	if err != nil {
		return nil, fmt.Errorf("%s: %w", dir, bare(err))
	}
	out := &Own{Dir: dir}
	var wrong Problems
	for _, e := range entries {
		name := e.Name()
		if strings.HasPrefix(name, ".") || e.IsDir() || !slices.Contains([]string{".yaml", ".yml", ".json", ".rego"}, filepath.Ext(name)) || strings.HasSuffix(name, "_test.rego") {
			continue
		}
		f := ownFile{name: name, path: filepath.ToSlash(filepath.Join(dir, name))}
		if found, do := f.read(root, len(out.files)); found != "" {
			wrong = append(wrong, schema.Problem{File: f.path, Found: found, Allowed: ownAllowed, Do: do})
			continue
		}
		out.files = append(out.files, f)
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	if len(out.books()) == 0 {
		return nil, fmt.Errorf("%s holds no rulebook; allowed: a folder with a file %s<name>.yaml. To start one: sillwright rulebook new %sNAME --output %s", dir, OwnPrefix, OwnPrefix, dir)
	}
	return out, nil
}

const ownAllowed = "own-<name>.yaml, own-<name>.cases.yaml or own-<question>.rego, each a regular file of at most 512 kB within the folder"

// read takes a file in, or says what is wrong with it.
func (f *ownFile) read(root *os.Root, before int) (found, do string) {
	if !strings.HasPrefix(f.name, OwnPrefix) || slices.Contains([]string{".yml", ".json"}, filepath.Ext(f.name)) {
		return fmt.Sprintf("%q", f.name), "name it so, or keep it in another folder"
	}
	if before == mostOwnFiles {
		return fmt.Sprintf("more than %d files", mostOwnFiles), "part them into several folders"
	}
	info, err := root.Stat(f.name) // before it is opened: a pipe would never open
	if err != nil {
		return bare(err).Error(), "put the file itself there; a link that leads out of the folder is not followed"
	}
	if !info.Mode().IsRegular() {
		return "what is no regular file", "put the file itself there"
	}
	file, err := root.Open(f.name)
	if err != nil {
		return bare(err).Error(), "let it be read"
	}
	defer file.Close()
	if f.src, err = io.ReadAll(io.LimitReader(file, mostOwnBytes+1)); err != nil {
		return bare(err).Error(), "let it be read"
	}
	if len(f.src) > mostOwnBytes {
		return "more than 512 kB", "part it into several rulebooks"
	}
	return "", ""
}

// bare is an error of the system without the path, which stands beside it.
func bare(err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		return at.Err
	}
	return err
}

func (o *Own) ending(end string, but ...string) []ownFile {
	if o == nil {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(o.files), func(f ownFile) bool {
		return !strings.HasSuffix(f.name, end) || slices.ContainsFunc(but, func(b string) bool { return strings.HasSuffix(f.name, b) })
	})
}

func (o *Own) books() []ownFile     { return o.ending(".yaml", ".cases.yaml") }
func (o *Own) questions() []ownFile { return o.ending(".rego") }

// Files lists the files of the folder that were read, in order.
func (o *Own) Files() []string {
	if o == nil {
		return nil
	}
	var out []string
	for _, f := range o.files {
		out = append(out, f.path)
	}
	return out
}

// Cases reads the cases of one of its rulebooks; nil: it has none.
func (o *Own) Cases(id string) (*CaseFile, []schema.Problem) {
	for _, f := range o.ending(id + ".cases.yaml") {
		if f.name != id+".cases.yaml" {
			continue
		}
		out, problems := readCases(f.path, f.src)
		if len(problems) == 0 && out.Rulebook != id {
			problems = []schema.Problem{{File: f.path, Found: "the cases of " + out.Rulebook, Allowed: "those of " + id, Do: "name the rulebook that the file is named by"}}
		}
		return out, problems
	}
	return nil, nil
}

// endless are what makes a rulebook larger than any is: nothing else of it is looked at.
func (b *Rulebook) endless() []schema.Problem {
	out := longLists(b.doc, b.doc.Root, "", 0)
	if n := len(b.Rules); n > mostOwnRules {
		out = append(out, b.doc.Problem("/rules", fmt.Sprintf("%d rules", n), fmt.Sprintf("at most %d in a rulebook", mostOwnRules), "part it into several rulebooks"))
	}
	return out
}

// ownFaults are what is wrong with an own rulebook beyond what would be wrong with a built-in one.
func (b *Rulebook) ownFaults() []schema.Problem {
	var out []schema.Problem
	report := func(pointer, found, allowed, do string) {
		out = append(out, b.doc.Problem(pointer, found, allowed, do))
	}
	if !strings.HasPrefix(b.ID, OwnPrefix) {
		report("/id", fmt.Sprintf("the id %q", b.ID), "an id that begins with "+OwnPrefix, "name it so: ids without it are those of built-in rulebooks, now or later")
	}
	if b.Always {
		report("/always", "always: true", "nothing: only built-in rules of safety run unasked", "take it out, and name the rulebook in the specs or in the project file")
	}
	return append(out, unreadable(b.doc, b.doc.Root, "")...)
}

// longLists are lists and mappings within a rule that are longer than any rule's.
func longLists(doc schema.Document, n *schema.Node, pointer string, depth int) []schema.Problem {
	if many := len(n.Items) + len(n.Members); depth > 1 && many > mostOwnItems {
		return []schema.Problem{doc.Problem(pointer, fmt.Sprintf("%d entries", many), fmt.Sprintf("at most %d", mostOwnItems), "part the rule into several")}
	}
	var out []schema.Problem
	for at, below := range beneath(n, pointer) {
		out = append(out, longLists(doc, below, at, depth+1)...)
	}
	return out
}

// unreadable are texts and keys that would not print, by which a rulebook could write to a terminal or forge lines of a report.
func unreadable(doc schema.Document, n *schema.Node, pointer string) []schema.Problem {
	unprintable := func(text string) bool {
		return strings.ContainsFunc(text, func(r rune) bool { return !schema.Prints(r) })
	}
	var out []schema.Problem
	if n.Kind == schema.String && unprintable(n.Text) {
		out = append(out, doc.Problem(pointer, fmt.Sprintf("%q", n.Text), "a text in one line, of characters that print", "take out what does not print, and line breaks; a long text folds with >-"))
	}
	for _, m := range n.Members {
		if unprintable(m.Key) {
			out = append(out, schema.Problem{File: doc.File, Span: m.KeySpan, Pointer: pointer, Field: schema.Field(pointer), Found: fmt.Sprintf("the key %q", m.Key), Allowed: "keys of characters that print", Do: "take out what does not print"})
		}
	}
	for at, below := range beneath(n, pointer) {
		out = append(out, unreadable(doc, below, at)...)
	}
	return out
}

// beneath gives the values that a value holds, each with its pointer.
func beneath(n *schema.Node, pointer string) iter.Seq2[string, *schema.Node] {
	return func(yield func(string, *schema.Node) bool) {
		for i, item := range n.Items {
			if !yield(pointer+schema.Pointer(i), item) {
				return
			}
		}
		for _, m := range n.Members {
			if !yield(pointer+schema.Pointer(m.Key), m.Value) {
				return
			}
		}
	}
}
