// The mistakes people make with tape and jig, each as the readings would be without it; as geometry/mistakes.py.

import { reduced } from "./lengths.js";

export const CHECK_NAMES = ["C", "D", "E"];
const [OFTEN, SELDOM] = [0, 4];
const INCH_MM = 25.4;
const FOOT_MM = 304.8;

export function knownMistakes(m, readings) {
  return [...inTheLegs(m, readings), ...inBoth(m, readings), ...inTheChecks(m, readings)].filter(({ undone }) => possible(undone));
}

const possible = ({ a, b, g, taken }) => Math.min(a, b, ...taken.filter((check) => check !== null)) > 0 && g > 0;
const distinct = (...burns) => [...new Set(burns)].filter((burn) => burn !== 0).sort((one, other) => one - other);

function* inTheLegs(m, readings) {
  const tapeA = m.leg_a_mm + m.burn_a_mm - m.set_point_a_mm;
  const tapeB = m.leg_b_mm + m.burn_b_mm - m.set_point_b_mm;
  for (const slip of slips([m.burn_a_mm], tapeA, OFTEN)) yield named(slip, "A", "leg A", { ...readings, a: readings.a - slip.off });
  for (const slip of slips([m.burn_b_mm], tapeB, OFTEN)) yield named(slip, "B", "leg B", { ...readings, b: readings.b - slip.off });
}

function* inBoth(m, readings) {
  const { a, b, g } = readings;
  const mistake = (code, number, words, undone) => ({ code, number, words, undone, handicap: OFTEN });
  if (m.burn_a_mm && m.burn_b_mm) {
    const undone = { ...readings, a: a - m.burn_a_mm, b: b - m.burn_b_mm };
    yield mistake("burn_left_in_both", "AB", "the burned inches on both legs", undone);
  }
  yield mistake("legs_swapped", "AB", "legs A and B swapped", { ...readings, a: b, b: a });
  const words = "the supplement read: the turn written as the included angle";
  yield mistake("supplement_read", "included", words, { ...readings, g: Math.PI - g });
}

function* inTheChecks(m, readings) {
  const burns = [m.burn_a_mm, m.burn_b_mm];
  for (const [place, length] of readings.taken.entries()) {
    if (length === null) continue;
    for (const slip of slips(burns, length, SELDOM)) {
      const often = place === 0 && slip.code.startsWith("burn");
      const name = CHECK_NAMES[place];
      yield named({ ...slip, handicap: often ? OFTEN : slip.handicap }, name, `measure ${name}`, without(readings, [place], slip.off));
    }
  }
  if (readings.taken.filter((length) => length !== null).length > 1) {
    for (const burn of distinct(...burns)) {
      const undone = without(readings, [0, 1, 2], burn);
      yield { code: "burn_left_in_checks", number: "CDE", words: "the burned inches in every check measure", undone, handicap: SELDOM };
    }
  }
}

function named(slip, number, where, undone) {
  const words = slip.words.replace("{}", where);
  return { code: `${slip.code}_${number.toLowerCase()}`, number, words, undone, handicap: slip.handicap };
}

function without(readings, places, off) {
  const taken = readings.taken.map((length, place) => (length !== null && places.includes(place) ? length - off : length));
  return { ...readings, taken };
}

function* slips(burns, tape, footHandicap) {
  for (const burn of distinct(...burns)) {
    yield { code: "burn_left_in", words: "the burned inches on {}", off: burn, handicap: footHandicap };
  }
  yield { code: "foot_long", words: "{} a foot too long", off: FOOT_MM, handicap: footHandicap };
  yield { code: "foot_short", words: "{} a foot too short", off: -FOOT_MM, handicap: footHandicap };
  if (!burns.some((burn) => Math.abs(burn - INCH_MM) < 0.5)) {
    yield { code: "inch_long", words: "{} an inch too long", off: INCH_MM, handicap: SELDOM };
  }
  yield { code: "inch_short", words: "{} an inch too short", off: -INCH_MM, handicap: SELDOM };
  yield* fractionSlips(tape);
}

// Python rounds a half to even, and so must this.
function roundEven(value) {
  const down = Math.floor(value);
  const rest = value - down;
  if (rest !== 0.5) return Math.round(value);
  return down % 2 === 0 ? down : down + 1;
}

function* fractionSlips(tape) {
  const sixteenths = tape / (INCH_MM / 16);
  const whole = roundEven(sixteenths);
  const part = ((whole % 16) + 16) % 16;
  if (Math.abs(sixteenths - whole) > 0.02 || part === 0) return;
  for (const [truth, over] of [[part * 2, 16], [part, 32]]) {
    if (truth >= over) continue;
    const words = `the fraction of {}: ${reduced(truth, over).join("/")} read as ${reduced(part, 16).join("/")}`;
    yield { code: "fraction_misread", words, off: (part / 16 - truth / over) * INCH_MM, handicap: SELDOM };
  }
}
