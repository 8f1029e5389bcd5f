// Reads a calendar with ical.js and prints what the test compares.
const fs = require("fs");
const ICAL = require("ical.js");

const cal = new ICAL.Component(ICAL.parse(fs.readFileSync(process.argv[2], "utf8")));
const parts = cal.getAllSubcomponents().map((c) => {
  const value = (name) => c.getFirstPropertyValue(name);
  const day = (name) => (value(name) ? value(name).toString() : "");
  const rule = value("rrule");
  return {
    kind: c.name.toUpperCase(), uid: value("uid"), summary: value("summary"), description: value("description"),
    start: day("dtstart"), end: day("dtend"), due: day("due"), sequence: value("sequence"),
    stamp: day("dtstamp").replace("Z", ""),
    daily_until: rule && rule.freq === "DAILY" ? rule.until.toString() : "",
    alarm_minutes: c.getAllSubcomponents("valarm").map((a) => a.getFirstPropertyValue("trigger").toSeconds() / 60),
  };
});
console.log(JSON.stringify({ method: cal.getFirstPropertyValue("method"), name: cal.getFirstPropertyValue("x-wr-calname"), parts }));
