// Does a reading close: the rules of geometry/checks.py and geometry/jig.py, in the hole, with no network.
// The one rule that is written twice; tests/vectors/ holds both to the same answers.

import { CRITICAL, CRITICAL_ALONE, LONG_LEG, USUAL, adjust, computedChecks, degrees, radians, readingsOf } from "./adjust.js";
import { agrees, blindLegs, countTaken, furtherMeasures, isLookedFor, seeingMeasure, smallestSeen, suspects } from "./blunders.js";
import { formatLength } from "./lengths.js";
import { say } from "./angles.js";

const SPOOL_TOLERANCE_MM = 25.4 / 8;
const SHALLOW_DEG = 5;
const FOOT_MM = 304.8;
const SLACK = 1e-9;
export const HOW_TO_MEASURE = {
  C: "C (from end A to end B, from the hook)",
  D: "D (from a mark 12 in from the pivot on leg A to end B)",
  E: "E (from a mark 12 in back from end A to end B)",
};

const finding = (level, code, text) => ({ level, code, text });

// Legs from the pivot center and what is out of the jig's range: leg = reading - burn + set point.
export function legsOf(read, jig) {
  const included_deg = read.included_deg + jig.included_offset_deg;
  const legs = { A: read.leg_a_mm - read.burn_a_mm + jig.set_point_a_mm, B: read.leg_b_mm - read.burn_b_mm + jig.set_point_b_mm };
  const found = [...Object.entries(legs).flatMap(([side, mm]) => legFindings(side, mm, jig)), ...includedFindings(included_deg, jig)];
  if (!found.length && Math.abs(included_deg - 180) <= SLACK) {
    found.push(finding("caution", "straight_pipe", "180 degrees included is straight pipe: no bend, one piece."));
  }
  return { leg_a_mm: legs.A, leg_b_mm: legs.B, included_deg, turn_deg: 180 - included_deg, findings: found };
}

function legFindings(side, mm, jig) {
  const error = (code, text) => [finding("error", code, text)];
  if (mm <= 0) return error("leg_not_positive", `Leg ${side} comes to ${formatLength(mm)}: read the tape again.`);
  const is = `Leg ${side} is ${formatLength(mm)},`;
  if (mm < jig.leg_min_mm - SLACK) {
    return error("leg_outside_jig", `${is} shorter than the jig reads (${formatLength(jig.leg_min_mm)}). Measure it without the jig.`);
  }
  if (mm > jig.leg_max_mm + SLACK) {
    return error("leg_outside_jig", `${is} longer than the jig reads (${formatLength(jig.leg_max_mm)}). Take it by survey shots.`);
  }
  return [];
}

function includedFindings(included, jig) {
  const [least, most] = [jig.included_min_deg, jig.included_max_deg];
  if (included >= least - SLACK && included <= most + SLACK) return [];
  const supplement = 180 - included;
  const was = supplement >= least && supplement <= most ? ` Was the supplement read? That would be ${say(supplement)}.` : "";
  const text = `An included angle of ${say(included)} is outside the jig's ${say(least)} to ${say(most)} degrees.${was} Read it again on the jig.`;
  return [finding("error", "included_outside_jig", text)];
}

// null where the numbers can't be checked at all.
export function checkReading(m) {
  const lengths = [m.leg_a_mm, m.leg_b_mm, m.closing_mm, m.d_mm, m.e_mm].filter((length) => length !== null && length !== undefined);
  if (!lengths.every((length) => length > 0 && length < 1e6)) return null;
  if (!(m.included_deg > 0 && m.included_deg <= 180 + SLACK)) return null;
  const readings = readingsOf(m);
  const rows = computedChecks(readings);
  const misclosure_mm = readings.taken[0] === null ? null : readings.taken[0] - rows[0][0];
  const checked = countTaken(readings) > 0;
  const closes = checked && agrees(m);
  const likely = closes ? [] : suspects(m);
  const needs = furtherMeasures(m, likely, closes);
  const seen = smallestSeen(m);
  const made = adjust(readings);
  return {
    closing_computed_mm: rows[0][0],
    checks_computed_mm: rows.map((row) => row[0]),
    misclosure_mm,
    tolerance_mm: toleranceOf(m, rows[0], misclosure_mm),
    included_by_tape_deg: includedByTape(m),
    adjusted: { leg_a_mm: made.a, leg_b_mm: made.b, included_deg: degrees(made.g), statistic: made.statistic },
    checked, closes, suspects: likely, smallest_seen: seen, needs,
    findings: findingsOf(m, { closes, likely, needs, seen, misclosure_mm }),
  };
}

function findingsOf(m, { closes, likely, needs, seen, misclosure_mm }) {
  const found = [];
  if (!seen.length) found.push(notChecked());
  else if (!closes) found.push(doesNotClose(likely, needs));
  found.push(...whatIsNotSeen(m, seen), ...markBeyondEnd(m));
  if (closes) found.push(...sharpOrGentle(m), ...overSpoolTolerance(misclosure_mm));
  return found;
}

const notChecked = () => finding(
  "warning", "no_check_measure",
  "No check measure was taken, so nothing proves A, B and the included angle. Measure C from end A to end B, from the hook. Do not cut.",
);

function doesNotClose(likely, needs) {
  const what = likely.length
    ? `Does not close: measure again, most likely ${likely.map((one) => one.words).join(" or ")}.`
    : "Does not close, and no single known mistake explains it: measure A, B, the included angle and C again.";
  const more = needs.length
    ? ` Take ${needs.map((name) => HOW_TO_MEASURE[name]).join(" and ")} too: that tells which reading is wrong.` : "";
  return finding("error", "does_not_close", `${what}${more} Do not cut.`);
}

function whatIsNotSeen(m, seen) {
  const found = blindLegs(m).map((leg) => finding(
    "warning", "leg_not_seen",
    `The check hardly moves with leg ${leg} here, so it can't vouch for it. Take ${HOW_TO_MEASURE[seeingMeasure(m, leg)]} too.`,
  ));
  const onlyC = (m.d_mm ?? null) === null && (m.e_mm ?? null) === null;
  if ((m.closing_mm ?? null) !== null && onlyC && Math.abs(m.leg_a_mm - m.leg_b_mm) > 1) {
    found.push(finding("caution", "swap_not_seen", "C is the same with the legs swapped. Tag leg A at the main, or take D as well."));
  }
  const included = seen.find((one) => one.number === "included");
  if (included && (included.size === null || included.size > SHALLOW_DEG)) {
    found.push(finding(
      "caution", "included_hardly_seen",
      "The check measures hardly move with the included angle here. Lay a straightedge along leg A and measure the offset of end B from it.",
    ));
  }
  return found;
}

function sharpOrGentle(m) {
  const apart = Math.abs(180 - 2 * m.included_deg);
  if (apart < USUAL.protractor_deg || !agrees({ ...m, included_deg: 180 - m.included_deg })) return [];
  const word = m.included_deg < 90 ? "sharp (under 90 included)" : "gentle (over 90 included)";
  const text = `So near 90 the check can't tell the included angle from the turn. The reading says ${word}: compare with the sketch.`;
  return [finding("caution", "sharp_or_gentle", text)];
}

function overSpoolTolerance(misclosure) {
  if (misclosure === null || Math.abs(misclosure) <= SPOOL_TOLERANCE_MM) return [];
  return [finding(
    "caution", "over_spool_tolerance",
    "Closes as well as tape and protractor can tell, but C is off by more than the spool's tolerance. Build to the adjusted figures, or read the included angle again.",
  )];
}

function markBeyondEnd(m) {
  const taken = (m.d_mm ?? null) !== null || (m.e_mm ?? null) !== null;
  if (!taken || m.leg_a_mm > FOOT_MM) return [];
  return [finding(
    "caution", "mark_beyond_end", "Leg A is shorter than the 12 in to the mark of D and E. Put the mark nearer, and set its distance.",
  )];
}

// How far C alone may be off on the side where it is off: nearer where a burned inch would put it.
function toleranceOf(m, [, perA, perB, perRadian], misclosure) {
  const turn = radians(USUAL.protractor_deg);
  const sigma = Math.hypot(perA * USUAL.tape_mm, perB * USUAL.tape_mm, perRadian * turn, USUAL.closing_mm);
  const lookedFor = [[perA, m.burn_a_mm ?? 0], [perB, m.burn_b_mm ?? 0]]
    .filter(([per, burn]) => isLookedFor((Math.abs(per) * burn) / sigma));
  if (!lookedFor.length) return sigma * Math.sqrt(CRITICAL_ALONE[0]);
  const burnedSide = lookedFor.some(([per]) => per * (misclosure ?? 0) <= 0);
  return sigma * (burnedSide ? LONG_LEG[0] : Math.sqrt(CRITICAL[0]));
}

function includedByTape(m) {
  if ((m.closing_mm ?? null) === null) return null;
  const squared = (m.closing_mm ** 2 - (m.leg_a_mm - m.leg_b_mm) ** 2) / (4 * m.leg_a_mm * m.leg_b_mm);
  return squared >= 0 && squared <= 1 + 1e-12 ? degrees(2 * Math.asin(Math.min(Math.sqrt(squared), 1))) : null;
}
