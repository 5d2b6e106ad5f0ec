// Package oracle holds the rulebooks of thresholds, widths and forces to a judge that was
// written apart from them: plain Go from the texts of the codes, exact numbers, nothing of
// engine, policies or schema. Doors are drawn at random, thickest at the limits, and go
// through both; every answer must be the same, and of every so many doors what is said with answers
// that are kept is what is said without. A long run, of a million doors, the latter of each tenth:
//
//	go test ./cmd/internal/oracle -run TestOracle -doors 1000000 -anew 10 -seed 7 -timeout 0
package oracle

import (
	"flag"
	"fmt"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
)

// enough doors to reach every outcome of every rule.
const enough = 5000

var (
	doors = flag.Int("doors", enough, "how many doors each rulebook judges")
	anew  = flag.Int("anew", 5, "of which doors, each so many, is judged with nothing kept, too")
	seed  = flag.Uint64("seed", 1, "what they are drawn from")
)

// The judge shares no code with what it judges.
func TestJudgeStandsAlone(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 8 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, file := range files {
		if file == "product_test.go" { // what asks sillwright
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range f.Imports {
			path := strings.Trim(i.Path.Value, `"`)
			if first, _, _ := strings.Cut(path, "/"); strings.Contains(first, ".") || first == "sillwright" {
				t.Errorf("%s imports %s", file, path)
			}
		}
	}
}

// never are outcomes that a rule cannot have: to name one of these rulebooks says that
// it applies, and the rule speaks of every door.
var never = map[string][]verdict{
	"us-ada-2010/threshold-profile":    {notApplicable},
	"us-a117-2017/threshold-profile":   {notApplicable},
	"us-ibc-2018/threshold-profile":    {notApplicable},
	"us-ca-cbc-2022/threshold-profile": {notApplicable},
	"us-fha-1991/clear-width":          {notApplicable},
	"uk-adm2-2015/clear-width":         {notApplicable},
	"de-18040-2010/sill":               {notApplicable},
	"de-18040-2010/clear-width":        {notApplicable},
	"ch-sia500-2009/clear-width":       {notApplicable},
	"at-b1600/clear-width":             {notApplicable},
	// The text gives no number that fails.
	"at-b1600/opening-force":        {fail},
	"at-b1600/opening-force-sealed": {fail},
	"nl-bb-2012/one-entrance":       {fail},
	// Only an answer in the spec fails it, and doors that are drawn bring none.
	"fr-access-2026/lip-needed":     {fail},
	"fr-access-2026/lip-needed-erp": {fail},
	// No height fails: the text names none.
	"no-tek17/threshold":                {fail},
	"no-tek17/outdoor-access":           {fail},
	"dk-br18/house-access":              {fail},
	"fi-access-2017/threshold-crossing": {fail},
	"ae-dubai-2017/balcony-flush":       {fail},
}

// tally counts the outcomes of each rule and keeps what they disagree on.
type tally struct {
	sync.Mutex
	outcomes map[string]map[verdict]int
	apart    map[string]int  // by rule and both answers
	shown    map[string]door // the first of each
	err      error
}

func (y *tally) add(d door, ours, theirs map[string]verdict) {
	y.Lock()
	defer y.Unlock()
	for rule, v := range ours {
		if y.outcomes[rule] == nil {
			y.outcomes[rule] = map[verdict]int{}
		}
		y.outcomes[rule][v]++
		if theirs[rule] == v {
			continue
		}
		key := fmt.Sprintf("%s: oracle %q, sillwright %q", rule, v, theirs[rule])
		y.apart[key]++
		if _, seen := y.shown[key]; !seen {
			y.shown[key] = d
		}
	}
}

func TestOracle(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		*doors = min(*doors, 200)
	}
	debug.SetGCPercent(400) // most of the time is garbage of the evaluation
	p := newProduct(t)
	y := &tally{outcomes: map[string]map[verdict]int{}, apart: map[string]int{}, shown: map[string]door{}}
	var next atomic.Int64
	var group sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		group.Go(func() {
			for n := next.Add(1); n <= int64(*doors); n = next.Add(1) {
				d := newSource(*seed, uint64(n)).door()
				theirs, err := p.judge(d.spec())
				if err != nil {
					y.Lock()
					y.err = fmt.Errorf("door %d: %w\n%s", n, err, d.spec())
					y.Unlock()
					return
				}
				if n%100 == 0 {
					whole, err := p.judgeWhole(d.spec())
					for rule, v := range theirs {
						if err != nil || whole[rule] != v {
							t.Errorf("%s is %s by itself and %s on the whole way, %v\n%s", rule, v, whole[rule], err, d.spec())
						}
					}
				}
				if n%int64(*anew) == 0 {
					if err := p.sameAnew(d.spec()); err != nil {
						t.Errorf("door %d: %v\n%s", n, err, d.spec())
					}
				}
				y.add(d, judgeAll(d), theirs)
			}
		})
	}
	group.Wait()
	if y.err != nil {
		t.Fatal(y.err)
	}
	y.report(t, p)
}

// report tells every disagreement with the smallest door that shows it, and holds the
// generator to reach every outcome that a rule can have.
func (y *tally) report(t *testing.T, p product) {
	for _, key := range slices.Sorted(maps.Keys(y.apart)) {
		rule, _, _ := strings.Cut(key, ":")
		small := shrink(y.shown[key], func(d door) bool {
			theirs, err := p.judge(d.spec())
			ours := judgeAll(d)[rule]
			return err == nil && key == fmt.Sprintf("%s: oracle %q, sillwright %q", rule, ours, theirs[rule])
		})
		t.Errorf("%s, %d doors, such as\n%s", key, y.apart[key], small.spec())
	}
	for _, rule := range slices.Sorted(maps.Keys(y.outcomes)) {
		n := y.outcomes[rule]
		t.Logf("%-45s pass %6d  fail %6d  unknown %6d  not applicable %6d", rule, n[pass], n[fail], n[unknown], n[notApplicable])
		for _, v := range []verdict{pass, fail, unknown, notApplicable} {
			if n[v] == 0 && *doors >= enough && !slices.Contains(never[rule], v) {
				t.Errorf("no door at which %s is %s", rule, v)
			}
		}
	}
}
