package spool

import (
	"bytes"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
)

// What is read again, whole and by line, is what was added, on disk and in memory, and more may be added after.
func TestSpool_Identity(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("TMPDIR", dir)
	for _, lines := range []int{0, 1, 40_000} {
		var s Spool
		var want bytes.Buffer
		r := rand.New(rand.NewPCG(3, uint64(lines)))
		var begins []int64
		for range 2 {
			for range lines {
				begins = append(begins, s.Size())
				line := strings.Repeat("x", r.IntN(90)) + "\n"
				want.WriteString(line)
				if _, err := s.Write([]byte(line)); err != nil {
					t.Fatal(err)
				}
			}
			for range 2 {
				var got bytes.Buffer
				if err := s.CopyTo(&got); err != nil || !bytes.Equal(got.Bytes(), want.Bytes()) || s.Size() != int64(want.Len()) {
					t.Fatalf("%d lines: %d bytes of %d, %v", lines, got.Len(), want.Len(), err)
				}
			}
			for i := 0; i < len(begins); i += 997 {
				line, err := s.Line(begins[i])
				rest := want.Bytes()[begins[i]:]
				if err != nil || !bytes.Equal(line, rest[:bytes.IndexByte(rest, '\n')+1]) {
					t.Fatalf("line %d: %q, %v", i, line, err)
				}
			}
		}
		if s.OnDisk() != (lines > 1) {
			t.Errorf("%d lines: on disk is %v", lines, s.OnDisk())
		}
		s.Drop()
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
		t.Errorf("left %v, %v", left, err)
	}
}

// A folder for such files that is not there is told when it is needed.
func TestNoDisk(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir()+"/nowhere")
	var s Spool
	if _, err := s.Write(make([]byte, inMemory)); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Write([]byte("x")); err == nil || !strings.HasSuffix(err.Error(), "nowhere: no such file or directory; set TMPDIR to a folder with room") {
		t.Errorf("%v", err)
	}
}

// What is overwritten reads as it was written last, in memory and on disk, and nothing else changes.
func TestOverwrite_Identity(t *testing.T) {
	for _, size := range []int{100, 3 * inMemory} {
		var s Spool
		want := bytes.Repeat([]byte("abcdefghij"), size/10)
		if _, err := s.Write(want[:size/2]); err != nil {
			t.Fatal(err)
		}
		put := func(at int) {
			copy(want[at:], "0123")
			if err := s.Overwrite([]byte("0123"), int64(at)); err != nil {
				t.Fatal(err)
			}
		}
		put(0)
		if _, err := s.Write(want[size/2:]); err != nil {
			t.Fatal(err)
		}
		put(size/2 - 2)
		var got bytes.Buffer
		if err := s.CopyTo(&got); err != nil {
			t.Fatal(err)
		}
		put(len(want) - 4)
		got.Reset()
		if err := s.CopyTo(&got); err != nil || !bytes.Equal(got.Bytes(), want) {
			t.Errorf("%d bytes: %v", size, err)
		}
		for _, at := range []int64{-1, s.Size() - 3} {
			if err := s.Overwrite([]byte("0123"), at); err == nil {
				t.Errorf("written at %d of %d", at, s.Size())
			}
		}
		s.Drop()
	}
}
