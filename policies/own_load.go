package policies

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"path"
	"slices"
	"strings"
)

// LoadWith loads the built-in rulebooks with those of a folder. start starts the process in which questions of a user run, and is called
// only where there are any. Of what the folder holds nothing touches a built-in rule: its ids are other ones, its Rego is compiled and
// runs in that process alone, and there beside its own rulebooks alone. What is wrong is told all at once, as Problems.
func LoadWith(ctx context.Context, own *Own, start func() (Confined, error)) (*Policies, error) {
	var asked *confined
	if len(own.questions()) > 0 { // first, for what is wrong with these is wrong before any rule asks them
		process, err := start()
		if err != nil {
			return nil, fmt.Errorf("the process for the questions of %s does not start: %w", own.Dir, err)
		}
		asked = &confined{process: process, asked: map[string]declaredQuestion{}, files: map[string]string{}}
	}
	p, err := loadWith(ctx, own, asked)
	if err != nil && asked != nil {
		asked.process.Close()
	}
	return p, err
}

func loadWith(ctx context.Context, own *Own, asked *confined) (*Policies, error) {
	if asked != nil {
		if wrong, err := asked.read(own); err != nil || len(wrong) > 0 {
			return nil, orProblems(err, wrong)
		}
	}
	p, compiler, err := builtIn()
	if err != nil {
		return nil, err
	}
	if own == nil {
		return p, p.prepare(ctx, compiler)
	}
	p.own, p.confined = own, asked
	digest := sha256.New()
	for _, f := range own.files {
		fmt.Fprintf(digest, "%s %d\n", f.name, len(f.src))
		digest.Write(f.src)
	}
	p.Digest += "+" + hex.EncodeToString(digest.Sum(nil))[:12]
	var wrong Problems
	if asked != nil {
		wrong = asked.declare(p.questions)
	}
	if len(wrong) == 0 { // rules whose question says nothing of itself would each be told as wrong too
		wrong = p.readOwn(own)
	}
	if len(wrong) == 0 && asked != nil {
		wrong, err = p.confine()
	}
	if err != nil || len(wrong) > 0 {
		return nil, orProblems(err, wrong)
	}
	return p, p.prepare(ctx, compiler)
}

// orProblems is an error of the run, or else what is wrong with the files.
func orProblems(err error, wrong Problems) error {
	if err != nil {
		return err
	}
	return wrong
}

// Close ends the process of a user's questions, if there is one.
func (p *Policies) Close() {
	if p.confined != nil {
		p.confined.process.Close()
	}
}

// Own is the folder of rulebooks that are not built in; nil: there is none.
func (p *Policies) Own() *Own { return p.own }

// readOwn reads the rulebooks of a folder.
func (p *Policies) readOwn(own *Own) Problems {
	var wrong Problems
	var added []*Rulebook
	for _, f := range own.books() {
		book, problems := readRulebook(f.path, f.src)
		if book == nil {
			wrong = append(wrong, problems...)
			continue
		}
		book.Own = f.path
		problems = append(problems, book.ownFaults()...)
		if endless := book.endless(); len(endless) > 0 {
			wrong = append(wrong, inOrder(append(problems, endless...))...)
			continue
		}
		if other, taken := p.Rulebook(book.ID); taken {
			problems = append(problems, book.doc.Problem("/id", fmt.Sprintf("the id %q, which is that of %s", book.ID, whose(other)), "an id of its own", "name it otherwise"))
			wrong = append(wrong, inOrder(problems)...)
			continue
		}
		book.Cite += " (own)" // wherever a clause is told
		p.take(book)
		added = append(added, book)
		wrong = append(wrong, inOrder(append(problems, book.check(p.questions)...))...)
	}
	for _, b := range added {
		wrong = append(wrong, p.brought(b)...)
		if p.confined != nil && slices.ContainsFunc(b.Rules, func(r *Rule) bool { _, own := p.confined.files[r.Question]; return own }) {
			p.confined.ids = append(p.confined.ids, b.ID)
		}
	}
	slices.SortFunc(p.Rulebooks, func(a, b *Rulebook) int { return strings.Compare(a.ID, b.ID) })
	return wrong
}

func whose(b *Rulebook) string {
	if b.Own != "" {
		return b.Own
	}
	return "a built-in rulebook"
}

// confine compiles the questions in the process, gives it the rulebooks that ask them, and looks for silence.
func (p *Policies) confine() (Problems, error) {
	data, err := p.dataOf(func(b *Rulebook) bool { return slices.Contains(p.confined.ids, b.ID) })
	if err != nil {
		return nil, err
	}
	src, err := json.Marshal(data)
	if err != nil {
		return nil, err
	}
	got, err := p.confined.ask(told{Data: src}, "compiling the questions of "+p.own.Dir)
	switch {
	case err != nil:
		return nil, err
	case got.Failed != "":
		return nil, fmt.Errorf("the questions of %s: %s", p.own.Dir, got.Failed)
	}
	wrong := problemsOf(got.Faults)
	for _, b := range p.Rulebooks {
		if len(got.Faults) == 0 && slices.Contains(p.confined.ids, b.ID) {
			wrong = append(wrong, p.confined.silent(b)...)
		}
	}
	return wrong, p.confined.ended
}

// named says whether a file has the name of its rulebook.
func (b *Rulebook) named() bool { return path.Base(b.file) == b.ID+".yaml" }
