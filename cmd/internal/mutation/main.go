// Command mutation changes every rule and every question in small ways, one at a time, and tells which changes neither a
// committed case nor a Rego test notices.
//
//	go run ./cmd/internal/mutation [-kinds limit,comparison] [-only substring] [-killed]
//
// It exits 1 where a changed limit or comparison survives that equivalents.yaml does not explain, or where that file
// explains a mutant that is killed or no longer made.
package main

import (
	"cmp"
	"context"
	_ "embed"
	"flag"
	"fmt"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"go.yaml.in/yaml/v3"
)

// kinds in the order of the report. The first two must all be killed.
var kinds = []string{"limit", "comparison", "guard", "word", "exception", "row", "flag", "open", "literal", "state"}

// told is how a mutant ended; why is what killed it.
type told struct {
	mutant
	why string
}

//go:embed equivalents.yaml
var written []byte

// equivalents reads why mutants cannot change any outcome, by their keys.
func equivalents() (map[string]string, error) {
	var list []struct{ Mutant, Why string }
	if err := yaml.Unmarshal(written, &list); err != nil {
		return nil, err
	}
	out := map[string]string{}
	for _, e := range list {
		if e.Mutant == "" || e.Why == "" {
			return nil, fmt.Errorf("an equivalent without its mutant or its why: %+v", e)
		}
		out[e.Mutant] = e.Why
	}
	return out, nil
}

// mutants gives every mutant of the kinds, or of all.
func mutants(dir string, asked []string, only string) ([]mutant, error) {
	out, err := rulebookMutants(dir)
	if err != nil {
		return nil, err
	}
	sources, err := modules(dir)
	if err != nil {
		return nil, err
	}
	for _, name := range slices.Sorted(maps.Keys(sources)) {
		if strings.HasSuffix(name, "_test.rego") {
			continue
		}
		own, err := regoMutants(name, sources[name])
		if err != nil {
			return nil, err
		}
		out = append(out, own...)
	}
	return slices.DeleteFunc(out, func(m mutant) bool {
		return (len(asked) > 0 && !slices.Contains(asked, m.kind)) || !strings.Contains(m.file+" "+m.key(), only)
	}), nil
}

// tryAll tries mutants on every core, and gives them in their order.
func tryAll(ctx context.Context, b *bench, list []mutant) []told {
	out := make([]told, len(list))
	var wait sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := range next {
				out[i] = told{list[i], b.try(ctx, list[i])}
			}
		})
	}
	for i := range list {
		next <- i
	}
	close(next)
	wait.Wait()
	return out
}

// report writes the score and the survivors, and says whether all limits and comparisons are held.
func report(w io.Writer, all []told, same map[string]string, whole bool) (held bool) {
	held = true
	made, killed, stillborn, explained := map[string]int{}, map[string]int{}, map[string]int{}, map[string]int{}
	var left []told
	stale := maps.Clone(same)
	for _, t := range all {
		made[t.kind]++
		key := t.key()
		if _, exact := same[key]; !exact {
			key, _, _ = strings.Cut(key, " -> ")
		}
		_, known := same[key]
		switch {
		case t.why == unbuilt:
			stillborn[t.kind]++
			killed[t.kind]++
		case t.why != "":
			killed[t.kind]++
		case known || t.same != "":
			explained[t.kind]++
			delete(stale, key)
		default:
			left = append(left, t)
		}
	}
	fmt.Fprintf(w, "%-10s %8s %8s %15s %11s %9s\n", "kind", "mutants", "killed", "of them unbuilt", "equivalent", "survive")
	total := [5]int{}
	for _, k := range kinds {
		row := [5]int{made[k], killed[k], stillborn[k], explained[k], made[k] - killed[k] - explained[k]}
		if made[k] > 0 {
			fmt.Fprintf(w, "%-10s %8d %8d %15d %11d %9d\n", k, row[0], row[1], row[2], row[3], row[4])
		}
		for i := range total {
			total[i] += row[i]
		}
	}
	fmt.Fprintf(w, "%-10s %8d %8d %15d %11d %9d\n", "all", total[0], total[1], total[2], total[3], total[4])
	if due := total[0] - total[3]; due > 0 {
		fmt.Fprintf(w, "score %.1f%%: killed, of those that are not equivalent\n", 100*float64(total[1])/float64(due))
	}
	slices.SortStableFunc(left, func(a, b told) int { return cmp.Compare(slices.Index(kinds, a.kind), slices.Index(kinds, b.kind)) })
	for _, t := range left {
		fmt.Fprintf(w, "%s:%d: %s survives: %s\n", t.file, t.line, t.kind, t.key())
		held = held && !slices.Contains(kinds[:2], t.kind)
	}
	if whole {
		for _, key := range slices.Sorted(maps.Keys(stale)) {
			held = false
			fmt.Fprintf(w, "equivalents.yaml: no survivor: %s\n", key)
		}
	}
	return held
}

func main() {
	asked := flag.String("kinds", "", "only these, with commas: "+strings.Join(kinds, ", "))
	only := flag.String("only", "", "only mutants with this text in their file or what they change")
	show := flag.Bool("killed", false, "tell what killed each, too")
	flag.Parse()
	if err := run(*asked, *only, *show); err != nil {
		fmt.Fprintln(os.Stderr, "mutation:", err)
		os.Exit(1)
	}
}

func run(asked, only string, show bool) error {
	ctx := context.Background()
	root, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}").Output()
	if err != nil {
		return err
	}
	dir := filepath.Join(strings.TrimSpace(string(root)), "policies")
	same, err := equivalents()
	if err != nil {
		return err
	}
	var of []string
	if asked != "" {
		of = strings.Split(asked, ",")
	}
	list, err := mutants(dir, of, only)
	if err != nil {
		return err
	}
	b, err := newBench(ctx, dir)
	if err != nil {
		return err
	}
	all := tryAll(ctx, b, list)
	if show {
		for _, t := range all {
			if t.why != "" {
				fmt.Printf("%s:%d: %s: %s: %s\n", t.file, t.line, t.kind, t.key(), t.why)
			}
		}
	}
	if !report(os.Stdout, all, same, asked == "" && only == "") {
		return fmt.Errorf("a changed limit or comparison that nobody notices: add the case that tells, or say in equivalents.yaml why there is none")
	}
	return nil
}
