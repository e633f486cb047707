// A second, independent reading against the first, as spools/second_reading.py; kept the same by tests/vectors/seconds.json.

import { CRITICAL, USUAL } from "./adjust.js";
import { say } from "./angles.js";
import { formatLength } from "./lengths.js";

const INCH_MM = 25.4;
const FOOT_MM = 304.8;
const SAME_SLIP_MM = INCH_MM / 4;
const USUAL_MM = 2.6 * Math.hypot(USUAL.tape_mm, USUAL.tape_mm);
const USUAL_DEG = 2.6 * Math.hypot(USUAL.protractor_deg, USUAL.protractor_deg);

// `first` has letter, by and its legs; both readings' legs run from the pivot center.
export function compareReadings(first, second) {
  const off = {
    a: second.leg_a_mm - first.leg_a_mm, b: second.leg_b_mm - first.leg_b_mm, g: second.included_deg - first.included_deg,
  };
  const statistic = (off.a ** 2 + off.b ** 2) / (2 * USUAL.tape_mm ** 2) + off.g ** 2 / (2 * USUAL.protractor_deg ** 2);
  if (statistic <= CRITICAL[2]) return { level: "caution", code: "confirms", text: `Confirms reading ${first.letter} by ${first.by}.`, likely: "" };
  const likely = likelySlip(first, second, off);
  const because = likely ? ` Most likely ${likely}, in one of the two.` : "";
  const legs = `leg A by ${formatLength(Math.abs(off.a))}, leg B by ${formatLength(Math.abs(off.b))}`;
  const degrees = say(Number(Math.abs(off.g).toPrecision(3)));
  const text = `Differs from reading ${first.letter} by ${first.by}: ${legs}, included by ${degrees} degrees.${because} Measure it a third time before you leave.`;
  return { level: "warning", code: "differs", text, likely };
}

function likelySlip(first, second, off) {
  const legsAgree = Math.max(Math.abs(off.a), Math.abs(off.b)) <= USUAL_MM;
  if (legsAgree && Math.abs(first.included_deg + second.included_deg - 180) <= USUAL_DEG) {
    return "the supplement read for the included angle";
  }
  const swapped = Math.abs(second.leg_a_mm - first.leg_b_mm) <= USUAL_MM && Math.abs(second.leg_b_mm - first.leg_a_mm) <= USUAL_MM;
  if (swapped && !legsAgree) return "legs A and B swapped";
  const slips = [["A", off.a, second.burn_a_mm, first.burn_a_mm], ["B", off.b, second.burn_b_mm, first.burn_b_mm]];
  return slips.filter(([, mm]) => Math.abs(mm) > USUAL_MM).map(([leg, mm, ...burns]) => slip(leg, Math.abs(mm), burns)).join(" and ");
}

function slip(leg, mm, burns) {
  if (burns.some((burn) => burn && Math.abs(mm - burn) <= SAME_SLIP_MM)) return `the burned inches on leg ${leg}`;
  if (Math.abs(mm - FOOT_MM) <= SAME_SLIP_MM) return `a foot on leg ${leg}`;
  if (Math.abs(mm - INCH_MM) <= SAME_SLIP_MM) return `an inch on leg ${leg}`;
  return `leg ${leg} misread`;
}
