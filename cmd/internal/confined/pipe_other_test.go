//go:build !unix

package confined

import "errors"

func makePipe(string) error { return errors.ErrUnsupported }
