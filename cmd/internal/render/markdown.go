package render

import "io"

func newMarkdown(w io.Writer, o Options) (Report, error) { return newTextLog(w, o) }
