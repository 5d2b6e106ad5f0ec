package schema

import (
	"bytes"
	"encoding/json"
	"io"
)

// Stream decodes a file as it comes and gives each what Read would, piece by piece. NDJSON is read line by line: a
// line is given before the next is waited for, a bad one costs only itself, and no more than one is held, so memory
// does not grow with the stream. NDJSON is what is called .ndjson or .jsonl, and what has no extension of ours and a
// first line, blank ones aside, that is one whole JSON object, or a bad one with doors on the lines after it
// (badStart); of what is called so and, by its first lines, is none, one problem is given. Everything else is given in
// one piece once its end has come. The error is that of the input or of each, which ends the reading.
func Stream(file string, in io.Reader, each func([]Document, []Problem) error) error {
	f, known := formatByName(file)
	if known && f != formatLines {
		return readWhole(file, in, each)
	}
	start := &recorder{in: in, on: true}
	first := newLines(start)
	if known {
		if p, bad, err := noLines(file, first); err != nil {
			return err
		} else if bad {
			return each(nil, []Problem{p})
		}
	} else if found, err := findsLines(file, first); err != nil {
		return err
	} else if !found {
		return readWhole(file, start.again(), each)
	}
	s := &stream{file: file, lines: newLines(start.again()), each: each}
	return s.rest()
}

// firstText is the first line that is not blank, without a byte order mark; it is looked for in no more than a file
// may have. There is none when it is empty.
func firstText(in *lines) ([]byte, error) {
	for in.read <= MaxFileBytes {
		line, err := in.next(MaxDocumentBytes)
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, err
		}
		if in.before == 0 {
			line = bytes.TrimPrefix(line, utf8BOM)
		}
		if len(bytes.Trim(line, " \t")) > 0 {
			return bytes.Clone(line), nil
		}
	}
	return nil, nil
}

// findsLines says, by its first lines, whether a file is NDJSON whose name does not tell.
func findsLines(file string, in *lines) (bool, error) {
	first, err := firstText(in)
	text := bytes.TrimLeft(first, " \t")
	if err != nil || len(text) == 0 {
		return false, err
	}
	if wholeObject(text) || text[0] == '{' && len(first) > MaxDocumentBytes {
		return true, nil
	}
	if _, other := notLines(file, first); other || text[0] == '[' || len(first) > MaxDocumentBytes {
		return false, nil
	}
	return badStart(text, in)
}

// noLines finds, by its first lines, a file under a name of NDJSON that is something else.
func noLines(file string, in *lines) (Problem, bool, error) {
	first, err := firstText(in)
	if err != nil || len(first) == 0 {
		return Problem{}, false, err
	}
	if in.before == 0 {
		if p, bad := notLines(file, first); bad {
			return p, true, nil
		}
	}
	return overLines(file, first, in.before+1, in)
}

// readWhole reads all of a file, but no more than Read takes.
func readWhole(file string, in io.Reader, each func([]Document, []Problem) error) error {
	data, err := io.ReadAll(io.LimitReader(in, MaxFileBytes+1))
	if err != nil {
		return err
	}
	return each(Read(file, data))
}

// recorder keeps what is read while it is not known yet how the file will be read.
type recorder struct {
	in   io.Reader
	kept []byte
	on   bool
	err  error // an input that has ended or failed is not asked again
}

func (r *recorder) Read(p []byte) (int, error) {
	if r.err != nil {
		return 0, r.err
	}
	n, err := r.in.Read(p)
	if r.err = err; r.on {
		r.kept = append(r.kept, p[:n]...)
	}
	return n, err
}

// again gives the input from its start, and keeps no more of it.
func (r *recorder) again() io.Reader {
	kept := bytes.NewReader(r.kept)
	r.on, r.kept = false, nil
	return io.MultiReader(kept, r)
}

// stream reads NDJSON.
type stream struct {
	file  string
	lines *lines
	each  func([]Document, []Problem) error
	next  int  // index of the next document
	given bool // some line was not blank
}

func (s *stream) rest() error {
	for {
		line, err := s.lines.next(MaxDocumentBytes)
		switch {
		case err == io.EOF && !s.given:
			return s.each(nil, []Problem{empty(s.file)})
		case err == io.EOF:
			return nil
		case err != nil:
			return err
		}
		if err := s.line(line); err != nil {
			return err
		}
	}
}

// overLines finds, by its first line that is not blank, a JSON document written over several lines under a name of
// NDJSON: what stands on the line is right as far as it goes, and goes on in the lines after it.
func overLines(file string, line []byte, number int, after *lines) (Problem, bool, error) {
	line = bytes.Trim(bytes.TrimPrefix(line, utf8BOM), " \t\r\n")
	if len(line) > MaxDocumentBytes || !unfinished(line) {
		return Problem{}, false, nil
	}
	if bad, err := badStart(line, after); bad || err != nil {
		return Problem{}, false, err
	}
	p := whole(file, "one JSON document over several lines", "one JSON value a line in a file of this name", "Call it .json, or write each document on one line.")
	p.Span.Start.Line, p.Span.End.Line = number, number
	return p, true, nil
}

// unfinished says whether a text is the beginning of a JSON object or list, broken off between two tokens.
func unfinished(text []byte) bool {
	dec := json.NewDecoder(bytes.NewReader(text))
	dec.UseNumber()
	level := 0
	for {
		t, err := dec.Token()
		if err != nil {
			rest := bytes.Trim(text[dec.InputOffset():], " \t,:")
			return level > 0 && len(rest) == 0 && (err == io.EOF || err == io.ErrUnexpectedEOF)
		}
		switch t {
		case json.Delim('{'), json.Delim('['):
			level++
		case json.Delim('}'), json.Delim(']'):
			if level--; level == 0 {
				return false
			}
		}
	}
}

// notLines finds, by its start, a file in a format of others; its other lines would only say the same again.
func notLines(file string, start []byte) (Problem, bool) {
	if len(bytes.TrimSpace(start)) == 0 {
		return Problem{}, false // a blank line is not an empty file
	}
	for _, is := range []func(string, []byte) (Problem, bool){foreign, wide, otherText} {
		if p, bad := is(file, start); bad {
			return p, true
		}
	}
	return Problem{}, false
}

// line reads one line; a blank one gives nothing.
func (s *stream) line(line []byte) error {
	if len(line) > MaxDocumentBytes {
		return s.refuse(whole(s.file, "a line of more than "+bytesText(MaxDocumentBytes), "at most "+bytesText(MaxDocumentBytes), "Write one door a line."))
	}
	if p, bad := notText(s.file, line, s.lines.offset); bad {
		return s.refuse(p)
	}
	text := line
	if s.lines.before == 0 {
		text = bytes.TrimPrefix(line, utf8BOM)
	}
	r := &reader{file: s.file, src: newSource(text), next: s.next}
	r.src.before = s.lines.before
	r.readLine(0, len(text))
	s.next = r.next
	if len(r.docs)+len(r.problems) == 0 {
		return nil
	}
	s.given = true
	return s.each(r.docs, sortProblems(r.problems))
}

// refuse reports a line that is not read as such.
func (s *stream) refuse(p Problem) error {
	p.Document, s.given = s.next, true
	s.next++
	p.Span.Start.Line = s.lines.before + 1
	p.Span.End.Line = s.lines.before + 1
	return s.each(nil, []Problem{p})
}

// EachLine decodes NDJSON as it comes, as Stream does, but each line stands for itself: lines and documents are counted
// from the line itself, and nothing that stands before it, not even that it is the first, changes what is given for it.
// So parts of a stream that are cut between lines give together what the whole gives. Blank lines give nothing.
func EachLine(file string, in io.Reader, each func([]Document, []Problem) error) error {
	all := newLines(in)
	for {
		line, err := all.next(MaxDocumentBytes)
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		alone := &stream{file: file, lines: &lines{}, each: each}
		if err := alone.line(line); err != nil {
			return err
		}
	}
}
