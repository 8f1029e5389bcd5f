package yard

import "errors"

// WayOut is the way out that stands at the end of an error of this package, ""
// where it has none.
func WayOut(err error) string {
	if m := (mistake{}); errors.As(err, &m) {
		return m.remedy
	}
	return ""
}
