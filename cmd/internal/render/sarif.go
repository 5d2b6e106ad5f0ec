package render

import "io"

func newSARIF(w io.Writer, o Options) (Report, error) { return newTextLog(w, o) }
