package schema

import (
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/agnivade/levenshtein"
)

const didYouMean = "did you mean "

// maxSuggestions is how many spellings are looked up for one document.
const maxSuggestions = 200

// nearest finds the candidate that a word is most likely a misspelling of. A third of the letters may
// differ, but of a short word at least half must be right; case, spaces, - and _ do not count.
func nearest(word string, candidates []string) (string, bool) {
	if utf8.RuneCountInString(word) > longest {
		return "", false
	}
	fold := strings.NewReplacer("-", "", "_", "", " ", "")
	plain := fold.Replace(strings.ToLower(word))
	best, bestDistance := "", 0
	for _, c := range slices.Sorted(slices.Values(candidates)) {
		d := levenshtein.ComputeDistance(plain, fold.Replace(strings.ToLower(c)))
		if best == "" || d < bestDistance {
			best, bestDistance = c, d
		}
	}
	shorter := min(utf8.RuneCountInString(plain), utf8.RuneCountInString(best))
	limit := max(1, (shorter+1)/3)
	if best == "" || bestDistance > limit || bestDistance*2 > shorter {
		return "", false
	}
	return best, true
}

// suggest words the nearest spelling, "" when there is none near.
func (c *collector) suggest(word string, candidates []string) string {
	c.suggestions++
	if c.suggestions > maxSuggestions {
		return ""
	}
	if near, ok := nearest(word, candidates); ok {
		return didYouMean + tick(near) + "?"
	}
	return ""
}

// listed joins names for a message, the first of a long list.
func listed(names []string) string {
	const most = 30
	if len(names) > most {
		return strings.Join(names[:most], ", ") + ", …"
	}
	return strings.Join(names, ", ")
}
