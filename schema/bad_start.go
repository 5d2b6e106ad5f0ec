package schema

import (
	"bytes"
	"encoding/json"
	"io"
	"strings"
)

// How far is looked beyond a first line to find out whether it is a bad line of NDJSON.
const (
	startLines = 8 // that are not blank
	startBytes = MaxDocumentBytes
)

// badStart says, by a few lines after it, whether a first line that is no whole object is a bad line of NDJSON: one of
// them is a door of its own, and stands where no other file can have it. A document in JSON that has come to its end
// over several lines, or may still do so, is none; nor is anything else before two doors have come one after the other,
// each from the very start of its line, which YAML does not allow, or the end with what is no YAML.
func badStart(first []byte, after *lines) (bool, error) {
	inJSON := first[0] == '{' || first[0] == '['
	text := append(bytes.Clone(first), '\n')
	doors, inRow, most := 0, 0, after.read+startBytes
	for n := 0; n < startLines; {
		line, err := after.next(startBytes)
		switch {
		case err == io.EOF && inJSON:
			return doors > 0, nil // a document that has come to its end was seen before
		case err == io.EOF:
			return doors > 0 && !isYAML(text), nil
		case err != nil:
			return false, err
		case after.read > most || marker(line, "---") || marker(line, "..."):
			return false, nil
		}
		text = append(append(text, line...), '\n')
		if len(bytes.Trim(line, " \t")) == 0 {
			continue
		}
		n++
		inRow++
		if !isDoor(line) {
			inRow = 0
		} else if doors++; line[0] != '{' {
			inRow = 0
		}
		switch {
		case !inJSON && inRow == 2:
			return true, nil
		case inJSON && doors > 0:
			switch beginningOf(text, len(first)) {
			case brokenJSON:
				return true, nil
			case endedJSON:
				return false, nil
			}
		}
	}
	return false, nil
}

// isDoor says whether a line is one whole object that can only be a document of its own: it has a format of ours, or
// what every door has.
func isDoor(line []byte) bool {
	var keys map[string]json.RawMessage
	if !wholeObject(line) || json.Unmarshal(line, &keys) != nil {
		return false
	}
	var format string
	if json.Unmarshal(keys["format"], &format) == nil && strings.HasPrefix(format, "sillwright/") {
		return true
	}
	return keys["mark"] != nil && keys["rulebooks"] != nil
}

func isYAML(text []byte) bool {
	_, err := parseYAML(withoutVersion(text))
	return err == nil
}

type jsonBeginning uint8

const (
	openJSON   jsonBeginning = iota // may go on
	endedJSON                       // a value has ended beyond the first line
	brokenJSON                      // no JSON, however it goes on
)

// beginningOf says what has come of JSON values, one after the other, the first line of which is so long.
func beginningOf(text []byte, first int) jsonBeginning {
	dec := json.NewDecoder(bytes.NewReader(text))
	for {
		var value json.RawMessage
		err := dec.Decode(&value)
		if _, broken := err.(*json.SyntaxError); broken {
			return brokenJSON
		}
		if err != nil {
			return openJSON
		}
		if dec.InputOffset() > int64(first) {
			return endedJSON
		}
	}
}
