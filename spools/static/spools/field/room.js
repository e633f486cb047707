// Is there pipe enough left beside a butt-welded elbow, as geometry/room.py; other make-ups are judged in the shop.
// `made` comes with the book: kind, radii or center-to-ends, root gap, what each end takes and needs.

import { radians } from "./adjust.js";
import { formatLength } from "./lengths.js";

const TURN_SLACK_DEG = 1e-6;
const SLACK_MM = 1e-6;

// From the PI to the face that the pipe is welded to; null where this can't be judged here.
export function takeOff(turn, made) {
  if (made.kind === "trimmed_elbow") {
    const source = made.source ?? (turn <= 90 + TURN_SLACK_DEG ? "90" : "180");
    const radius = source === "90" ? made.radius_90_mm : made.radius_180_mm;
    if (radius === null || turn > Number(source) + TURN_SLACK_DEG) return null;
    return radius * Math.tan(radians(turn / 2));
  }
  if (made.kind === "whole_elbow") {
    const whole = [45, 90].find((degrees) => Math.abs(degrees - turn) <= TURN_SLACK_DEG);
    return whole ? made[`center_to_end_${whole}_mm`] : null;
  }
  return null;
}

// The pipe left on each leg, in mm, and what is too short; null where this can't be judged here.
export function roomOf({ leg_a_mm, leg_b_mm, included_deg, measured_to_a, measured_to_b }, made) {
  const turn = 180 - included_deg;
  if (!made || turn < 1e-9) return null;
  const takes = { A: made.ends.a.takes_mm[measured_to_a] ?? null, B: made.ends.b.takes_mm[measured_to_b] ?? null };
  const off = takeOff(turn, made);
  if (off === null || takes.A === null || takes.B === null) return null;
  const left = { A: leg_a_mm - takes.A - off - made.gap_mm, B: leg_b_mm - takes.B - off - made.gap_mm };
  const needs = { A: Math.max(made.ends.a.needs_mm, made.shortest_mm), B: Math.max(made.ends.b.needs_mm, made.shortest_mm) };
  const findings = ["A", "B"].filter((leg) => left[leg] < needs[leg] - SLACK_MM).map((leg) => tooShort(leg, left[leg], needs[leg], made));
  return { left_a_mm: left.A, left_b_mm: left.B, findings };
}

function tooShort(leg, left, needs, made) {
  const pipe = left > 0 ? `${formatLength(left, made.units)} of pipe` : "no pipe";
  const text = `Leg ${leg} leaves ${pipe}; it needs ${formatLength(needs, made.units)}: it must be ${formatLength(needs - left, made.units)} longer. Read it again; if it is right, keep it and the shop takes another make-up.`;
  return { level: "error", code: "leg_too_short", text };
}
