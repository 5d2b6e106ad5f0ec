package render

import "io"

func newCodeQuality(w io.Writer, o Options) (Report, error) { return newTextLog(w, o) }
