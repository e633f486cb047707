// One reading as it is kept and sent: every length carries its unit, so that no job setting can change its meaning.

export const LENGTHS = ["leg_a", "leg_b", "closing", "d", "e", "burn_a", "burn_b"];
export const unitOf = (units) => (units === "metric" ? "mm" : "in");

// "40-5/16" becomes 40-5/16", 912 becomes 912 mm; what has its unit stays as typed.
export function withUnit(text, units) {
  const typed = text.trim();
  if (!/^[0-9. /-]+$/.test(typed)) return typed;
  return units === "metric" ? `${typed} mm` : `${typed}"`;
}

export function emptyDraft(tieIn) {
  return {
    tie_in: tieIn.id, texts: { leg_a: "", leg_b: "", included: "", closing: "", d: "", e: "", burn_a: "", burn_b: "" }, bend: "",
    measured_to_a: tieIn.measured_to_a, measured_to_b: tieIn.measured_to_b, hand: "", up_mark: "", note: "", as: "", key: "",
  };
}

// What goes into the queue, with all that was known of the tie-in when it was taken.
export function readingOf(draft, { tieIn, job, jig, person, verdict, at }) {
  const texts = Object.fromEntries(
    Object.entries(draft.texts).map(([name, text]) => [name, LENGTHS.includes(name) ? withUnit(text, job.units) : text.trim()]),
  );
  return {
    key: draft.key, tie_in: tieIn.id, job: job.number, mark: tieIn.mark, units: job.units, jig: jig.serial, version: jig.version,
    measured_by: person.username, measured_by_name: person.name, taken_at: at, texts,
    measured_to_a: draft.measured_to_a, measured_to_b: draft.measured_to_b,
    hand: draft.hand, up_mark: draft.up_mark, note: draft.note.trim().slice(0, 300),
    again: draft.as === "again", as_second: draft.as === "second",
    seen: { revision: tieIn.revision, stamp: tieIn.stamp, nps: tieIn.nps, schedule: tieIn.schedule, end_a: tieIn.end_a, end_b: tieIn.end_b },
    closes: verdict.closes, said: verdict.findings.map((finding) => finding.text), state: "kept",
  };
}

// The body of the POST: the same content whenever it is sent, or the key would not be the same reading.
export function bodyOf(reading) {
  return {
    key: reading.key, job: reading.job, mark: reading.mark, jig: reading.jig, version: reading.version, taken_at: reading.taken_at,
    ...reading.texts, measured_to_a: reading.measured_to_a, measured_to_b: reading.measured_to_b, hand: reading.hand,
    up_mark: reading.up_mark, note: reading.note, measured_by: reading.measured_by, keep_anyway: true, again: reading.again,
    as_second: reading.as_second, seen_revision: reading.seen.revision, seen_stamp: reading.seen.stamp,
  };
}
