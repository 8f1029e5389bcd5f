package forecast

import (
	"fmt"
	"strings"
)

// words says why a pile's logs might be retired, as a suggestion; "" where
// there is no reason.
func (t *Retirement) words() string {
	if t == nil || !t.Suggested {
		return ""
	}
	var why []string
	for _, w := range t.Why {
		switch w.Kind {
		case RetireLow:
			why = append(why, fmt.Sprintf("in no year ahead is a log likely to bring more than %.0f g", 1000*w.KG))
		case RetireBark:
			why = append(why, fmt.Sprintf("the bark of %d of %d logs was loose on %s", w.Logs, w.Of, w.On))
		case RetireOld:
			why = append(why, fmt.Sprintf("they have borne for %.0f years, where such logs usually do for %.0f, and nothing has come since %s", w.Age, w.Life, w.On))
		}
	}
	return fmt.Sprintf("These logs may be worth retiring, because %s. They still hold about %.1f kg. It is a suggestion: `retired` is written by you.",
		strings.Join(why, ", and "), t.Left.P50)
}
