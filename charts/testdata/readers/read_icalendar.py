# Reads a calendar with the icalendar package and prints what the test compares.
import json
import sys

import icalendar

cal = icalendar.Calendar.from_ical(open(sys.argv[1], "rb").read())
out = []
for c in cal.subcomponents:
    day = lambda name: c[name].dt.isoformat() if name in c else ""
    alarms = [a for a in c.subcomponents if a.name == "VALARM"]
    out.append({
        "kind": c.name, "uid": str(c["UID"]), "summary": str(c["SUMMARY"]), "description": str(c["DESCRIPTION"]),
        "start": day("DTSTART"), "end": day("DTEND"), "due": day("DUE"), "sequence": int(c["SEQUENCE"]),
        "stamp": c["DTSTAMP"].dt.strftime("%Y-%m-%dT%H:%M:%S"),
        "daily_until": c["RRULE"]["UNTIL"][0].isoformat() if "RRULE" in c else "",
        "alarm_minutes": [int(a["TRIGGER"].dt.total_seconds() // 60) for a in alarms],
    })
json.dump({"method": str(cal["METHOD"]), "name": str(cal["X-WR-CALNAME"]), "parts": out}, sys.stdout)
