package render

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

const (
	drawn       = 76 // columns for what is drawn between the floors
	floorDrawn  = 6  // columns of floor on each side
	mostHeights = 7  // rows for what rises and falls
)

// drawing is lines of plain ASCII, no wider than drawn with the floors, and a sentence on the scale; no lines: the sentence says why.
type drawing struct {
	lines   []string
	caption string
}

// piece is a part of a profile, or several of a long one, with the columns that it takes.
type piece struct {
	run, rise   float64 // nanometres
	first, last int     // the segments, counted from 0
	begin, end  int     // columns, the end beyond
	upright     bool
}

// drawThreshold draws a threshold from outside to inside, with the closed leaf where the spec places it, and ^ under the segments that
// are marked, with their numbers counted from 1. Parts that are too narrow for a column get one.
func drawThreshold(d *door.Door, marked []int) drawing {
	t := d.Threshold
	switch {
	case !t.Given:
		return drawing{caption: "Not drawn: the spec gives no threshold."}
	case len(t.Segments) == 0:
		return drawing{caption: "Not drawn: the floor is level from side to side."}
	}
	for i, s := range t.Segments {
		if !s.Run.Known || !s.Rise.Known {
			return drawing{caption: fmt.Sprintf("Not drawn: of segment %d run or rise is not known.", i+1)}
		}
	}
	pieces, perPiece := piecesOf(t.Segments)
	length, low, high := extent(pieces)
	wide, times := proportions(pieces, length, high-low)
	allot(pieces, length, wide)
	perRow := 1.0
	if high > low {
		perRow = (high - low) / mostHeights
		if times >= 1 && length > 0 {
			perRow = 2 * length / float64(wide) / times
		}
	}
	c := newCanvas(low, high, perRow, pieces[len(pieces)-1].end+2*floorDrawn)
	c.profile(pieces)
	out := drawing{lines: c.lines()}
	out.lines = slices.Concat(c.leaf(d, pieces), out.lines, marks(pieces, marked))
	out.caption = caption(t, length, times, perPiece)
	return out
}

// piecesOf takes each segment by itself, or of more than there are columns some together.
func piecesOf(segments []door.Segment) ([]piece, int) {
	each := (len(segments) + drawn - 1) / drawn
	var out []piece
	for first := 0; first < len(segments); first += each {
		p := piece{first: first, last: min(first+each, len(segments)) - 1, upright: true}
		for _, s := range segments[first : p.last+1] {
			p.run += float64(s.Run.Value)
			p.rise += float64(s.Rise.Value)
			p.upright = p.upright && s.Run.Value == 0
		}
		out = append(out, p)
	}
	return out, each
}

func extent(pieces []piece) (length, low, high float64) {
	level := 0.0
	for _, p := range pieces {
		length += p.run
		level += p.rise
		low, high = min(low, level), max(high, level)
	}
	return length, low, high
}

// proportions gives the columns for all runs together, and how many times as large heights are drawn as lengths; 0: at no scale, for
// nothing runs or nothing rises. A column is taken to be half as wide as a row is high. What is higher than long is drawn to scale, and narrower.
func proportions(pieces []piece, length, height float64) (wide int, times float64) {
	running := 0
	for _, p := range pieces {
		if !p.upright {
			running++
		}
	}
	wide = drawn - (len(pieces) - running)
	if length == 0 || height == 0 || wide < running {
		return max(wide, running), 0
	}
	times = math.Floor(2 * length / float64(wide) * mostHeights / height)
	if times < 1 {
		times = 1
		wide = max(running, min(wide, int(2*length*mostHeights/height)))
	}
	return wide, times
}

// allot gives each piece its columns: an upright one, and what is too narrow, a single one; the rest share what is left by their length.
func allot(pieces []piece, length float64, wide int) {
	widths, spent := make([]int, len(pieces)), 0
	for i, p := range pieces {
		widths[i] = 1
		if !p.upright && length > 0 {
			widths[i] = max(1, int(math.Round(p.run/length*float64(wide))))
			spent += widths[i]
		}
	}
	for spent > wide { // the narrow ones take it from the widest
		i := 0
		for k := range widths {
			if widths[k] > widths[i] {
				i = k
			}
		}
		if widths[i] == 1 {
			break
		}
		widths[i]--
		spent--
	}
	at := floorDrawn
	for i := range pieces {
		pieces[i].begin, pieces[i].end = at, at+widths[i]
		at += widths[i]
	}
}

// canvas has rows from the top; a height belongs to the foot of its row.
type canvas struct {
	rows   [][]byte
	low    float64
	perRow float64
}

func newCanvas(low, high, perRow float64, columns int) *canvas {
	c := &canvas{low: low, perRow: perRow}
	for range min(mostHeights+1, int(math.Ceil((high-low)/perRow))+1) {
		c.rows = append(c.rows, []byte(strings.Repeat(" ", columns)))
	}
	return c
}

// row is the row of a height, counted from the lowest.
func (c *canvas) row(height float64) int {
	return max(0, min(len(c.rows)-1, int(math.Round((height-c.low)/c.perRow))))
}

func (c *canvas) put(column, row int, sign byte) { c.rows[len(c.rows)-1-row][column] = sign }

// profile draws the floors and the pieces between them.
func (c *canvas) profile(pieces []piece) {
	for column := range floorDrawn {
		c.put(column, c.row(0), '_')
	}
	level := 0.0
	for _, p := range pieces {
		columns := float64(p.end - p.begin)
		for column := p.begin; column < p.end; column++ {
			c.stroke(column, level+p.rise*float64(column-p.begin)/columns, level+p.rise*float64(column+1-p.begin)/columns)
		}
		level += p.rise
	}
	last := pieces[len(pieces)-1].end
	for column := last; column < last+floorDrawn; column++ {
		c.put(column, c.row(level), '_')
	}
}

// stroke draws one column from a height to another.
func (c *canvas) stroke(column int, from, to float64) {
	a, b := c.row(from), c.row(to)
	switch {
	case a == b:
		c.put(column, a, '_')
	case b == a+1:
		c.put(column, a, '/')
	case a == b+1:
		c.put(column, b, '\\')
	default:
		for row := min(a, b); row < max(a, b); row++ {
			c.put(column, row, '|')
		}
	}
}

func (c *canvas) lines() []string {
	var out []string
	for _, row := range c.rows {
		out = append(out, strings.TrimRight(string(row), " "))
	}
	for len(out) > 1 && out[0] == "" {
		out = out[1:]
	}
	return out
}

// leaf draws the foot of the closed leaf above the profile, and names the sides.
func (c *canvas) leaf(d *door.Door, pieces []piece) []string {
	columns := len(c.rows[0])
	names := []byte("outside" + strings.Repeat(" ", max(1, columns-len("outside")-len("inside"))) + "inside")
	at := d.Threshold.LeafAt
	if !at.Known {
		return []string{string(names)}
	}
	thick := 0.0
	if d.Leaf.Thickness.Known {
		thick = float64(d.Leaf.Thickness.Value)
	}
	begin := columnAt(pieces, float64(at.Value))
	end := max(begin+3, columnAt(pieces, float64(at.Value)+thick))
	end = min(end, columns)
	begin = min(begin, end-3)
	blank := strings.Repeat(" ", begin)
	body, foot := blank+"|"+strings.Repeat(" ", end-begin-2)+"|", blank+"|"+strings.Repeat("_", end-begin-2)+"|"
	if word := "leaf"; end-begin-2 >= len(word) {
		room := end - begin - 2 - len(word)
		body = blank + "|" + strings.Repeat(" ", room/2) + word + strings.Repeat(" ", room-room/2) + "|"
	}
	return []string{string(names), body, foot}
}

// columnAt is the column of a place along the profile; before and beyond it, of the floors.
func columnAt(pieces []piece, along float64) int {
	if along < 0 {
		return floorDrawn / 2
	}
	for _, p := range pieces {
		if along < p.run {
			return p.begin + int(along/p.run*float64(p.end-p.begin))
		}
		along -= p.run
	}
	last := pieces[len(pieces)-1].end
	if along > 0 {
		return last + floorDrawn/2
	}
	return last
}

// marks puts ^ under the segments that are marked, and their numbers below where they fit.
func marks(pieces []piece, marked []int) []string {
	var signs, numbers []byte
	for _, p := range pieces {
		var names []string
		for _, i := range marked {
			if name := fmt.Sprint(i + 1); i >= p.first && i <= p.last && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
		if len(names) == 0 {
			continue
		}
		signs = append(pad0(signs, p.begin), strings.Repeat("^", p.end-p.begin)...)
		name := strings.Join(names, ",")
		begin := max(p.begin, p.begin+(p.end-p.begin-len(name))/2)
		if begin > len(numbers) || len(numbers) == 0 {
			if begin+len(name) <= drawn+2*floorDrawn {
				numbers = append(pad0(numbers, begin), name...)
			}
		}
	}
	if signs == nil {
		return nil
	}
	return []string{string(signs), string(numbers)}
}

// pad0 fills a line with blanks up to a column.
func pad0(line []byte, column int) []byte {
	for len(line) < column {
		line = append(line, ' ')
	}
	return line
}

func caption(t door.Threshold, length, times float64, perPiece int) string {
	text := "Heights are drawn as large as lengths"
	switch {
	case length == 0:
		text = "Upright faces only: lengths are drawn at no scale"
	case times == 0:
		text = "Heights are drawn at no scale"
	case times > 1:
		text = fmt.Sprintf("Heights are drawn %.0f times as large as lengths", times)
	}
	text += ", narrow parts and upright faces one column wide"
	if perPiece > 1 {
		text += fmt.Sprintf("; of %d segments %d at a time are drawn as one", len(t.Segments), perPiece)
	}
	if t.LeafAt.Known {
		return text + ". The gap under the leaf is at no scale."
	}
	return text + ". Where the leaf stands is not given (threshold.leaf_at)."
}

// segmentsAt gives the segments of a threshold at which pointers point, counted from 0: each is the one that is nearest above.
func segmentsAt(t door.Threshold, pointers []string) []int {
	var out []int
	for _, pointer := range pointers {
		best := -1
		for i, s := range t.Segments {
			if (pointer == s.Pointer || strings.HasPrefix(pointer, s.Pointer+"/")) && (best < 0 || len(s.Pointer) > len(t.Segments[best].Pointer)) {
				best = i
			}
		}
		if best >= 0 && !slices.Contains(out, best) {
			out = append(out, best)
		}
	}
	slices.Sort(out)
	return out
}

// segmentWords says what a marked segment does.
func segmentWords(t door.Threshold, i int, system quantity.System) string {
	s := t.Segments[i]
	text := fmt.Sprintf("%d: ", i+1)
	switch {
	case !s.Run.Known || !s.Rise.Known:
		return text + "run or rise is not known"
	case s.Run.Value == 0:
		text += "upright"
	default:
		text += s.Run.Value.In(system) + " along the path"
	}
	switch {
	case s.Rise.Value > 0:
		text += ", up " + s.Rise.Value.In(system)
	case s.Rise.Value < 0:
		text += ", down " + (-s.Rise.Value).In(system)
	default:
		return text + ", level"
	}
	return text
}
