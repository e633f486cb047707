// What the texts of a draft mean, and what the checks say of it: one verdict for sketch, words and strip.

import { AngleError, parseAngle, say, sayTurn } from "./angles.js";
import { checkReading, legsOf } from "./closes.js";
import { compareReadings } from "./compare.js";
import { LengthError, formatLength, parseLength } from "./lengths.js";
import { unitOf } from "./reading.js";
import { roomOf } from "./room.js";

const READ = [["leg_a", "leg_a_mm"], ["leg_b", "leg_b_mm"], ["closing", "closing_mm"], ["d", "d_mm"], ["e", "e_mm"]];

export function verdictOf(draft, { tieIn, job, jig, madeUp }) {
  const numbers = numbersOf(draft, job, jig);
  const { trouble, burn_a_mm, burn_b_mm, included_deg } = numbers;
  const verdict = { trouble, numbers, legs: null, report: null, room: null, findings: [], words: "", closes: false, ready: false, asks: null };
  if (included_deg !== null) Object.assign(verdict, { words: sayTurn(included_deg), asks: bendAsks(draft.bend, included_deg) });
  if (numbers.leg_a_mm === null || numbers.leg_b_mm === null || included_deg === null) return verdict;
  const legs = legsOf({ ...numbers }, jig);
  const input = {
    ...numbers, leg_a_mm: legs.leg_a_mm, leg_b_mm: legs.leg_b_mm, included_deg: legs.included_deg,
    burn_a_mm, burn_b_mm, set_point_a_mm: jig.set_point_a_mm, set_point_b_mm: jig.set_point_b_mm,
  };
  const report = checkReading(input);
  const room = legs.findings.some((one) => one.level === "error")
    ? null : roomOf({ ...legs, measured_to_a: draft.measured_to_a, measured_to_b: draft.measured_to_b }, madeUp);
  const second = draft.as === "second" && tieIn.first && !tieIn.first.two_bends ? compareReadings(tieIn.first, { ...legs, burn_a_mm, burn_b_mm }) : null;
  const findings = ordered([
    ...legs.findings, ...(report?.findings ?? [cannotCheck()]), ...(room?.findings ?? []), ...(second ? [second] : []),
  ]);
  const stops = findings.some((one) => one.level === "error" || one.code === "over_spool_tolerance" || one.code === "differs");
  return {
    ...verdict, legs, report, room, findings, needs: report?.needs ?? [],
    closes: Boolean(report?.checked && report.closes && !stops), ready: Object.keys(trouble).length === 0,
  };
}

const cannotCheck = () => ({ level: "error", code: "cannot_check", text: "These numbers can't be checked: read the tape and the jig again." });
const LEVELS = { error: 0, warning: 1, caution: 2 };
const ordered = (findings) => findings.sort((one, other) => LEVELS[one.level] - LEVELS[other.level]);

function numbersOf(draft, job, jig) {
  const found = { trouble: {}, included_deg: null };
  const read = (name, work) => {
    try {
      return draft.texts[name].trim() ? work(draft.texts[name]) : null;
    } catch (trouble) {
      if (!(trouble instanceof LengthError || trouble instanceof AngleError)) throw trouble;
      found.trouble[name] = trouble.message;
      return null;
    }
  };
  const length = (name) => read(name, (text) => parseLength(text, unitOf(job.units)));
  READ.forEach(([name, field]) => { found[field] = length(name); });
  found.included_deg = read("included", parseAngle);
  found.burn_a_mm = length("burn_a") ?? jig.usual_burn_mm[job.units];
  found.burn_b_mm = length("burn_b") ?? jig.usual_burn_mm[job.units];
  return found;
}

// Sharp or gentle was said by eye, the degrees were read: they must agree, or the supplement was read.
function bendAsks(bend, included) {
  if (Math.abs(included - 90) < 1e-9 || included >= 180 - 1e-9) return null;
  const is = included < 90 ? "sharp" : "gentle";
  if (!bend) return { text: "Look at the bend: is it sharp or gentle?", supplement: null };
  if (bend === is) return null;
  const supplement = 180 - included;
  return { text: `You said ${bend}, but ${say(included)} included is ${is}. Was the turn read?`, supplement: say(supplement) };
}

// "C should be 4' 5-1/16", read 4' 5"": what the strip says beside CLOSES.
export function closingWords(verdict, units) {
  const { report } = verdict;
  if (!report) return "";
  const should = `C should be ${formatLength(report.closing_computed_mm, units)}`;
  if (report.misclosure_mm === null) return should;
  const off = Math.abs(report.misclosure_mm);
  return off < 0.5 ? `${should}: right on` : `${should}, off by ${formatLength(off, units)}`;
}
