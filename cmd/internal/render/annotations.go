package render

import "io"

func newAnnotations(w io.Writer, o Options) (Report, error) { return newTextLog(w, o) }
