# Reads a calendar with the vobject package and prints what the test compares.
import json
import sys

import vobject

cal = vobject.readOne(open(sys.argv[1], encoding="utf-8", newline="").read())
out = []
for c in cal.getChildren():
    if c.name not in ("VEVENT", "VTODO"):
        continue
    has = lambda name: hasattr(c, name)
    day = lambda name: getattr(c, name).value.isoformat() if has(name) else ""
    until = ""
    if has("rrule"):
        until = dict(p.split("=") for p in c.rrule.value.split(";"))["UNTIL"]
        until = "-".join((until[:4], until[4:6], until[6:]))
    alarms = getattr(c, "valarm_list", [])
    out.append({
        "kind": c.name, "uid": c.uid.value, "summary": c.summary.value, "description": c.description.value,
        "start": day("dtstart"), "end": day("dtend"), "due": day("due"), "sequence": int(c.sequence.value),
        "stamp": c.dtstamp.value.strftime("%Y-%m-%dT%H:%M:%S"),
        "daily_until": until,
        "alarm_minutes": [int(a.trigger.value.total_seconds() // 60) for a in alarms],
    })
json.dump({"method": cal.method.value, "name": cal.x_wr_calname.value, "parts": out}, sys.stdout)
