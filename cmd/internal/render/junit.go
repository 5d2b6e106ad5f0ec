package render

import "io"

func newJUnit(w io.Writer, o Options) (Report, error) { return newTextLog(w, o) }
