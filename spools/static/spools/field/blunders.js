// Do the check measures agree, and which known mistake explains it where they don't; as geometry/agreement.py
// and geometry/blunders.py.

import {
  CRITICAL, CRITICAL_ALONE, LONG_LEG, POWER_80, USUAL, absorb, adjust, computedChecks, degrees, readingsOf, variancesOf,
} from "./adjust.js";
import { CHECK_NAMES, knownMistakes } from "./mistakes.js";

const CLOSE_ODDS = 6;
const MOST_NAMED = 4;
const SET_FREE = 1e9;
const BLIND = 0.3;
const LEAST_SEEN = 1;
const MOST_SEEN = 5;

export const countTaken = (readings) => readings.taken.filter((check) => check !== null).length;

export function agrees(m) {
  const readings = readingsOf(m);
  const checks = countTaken(readings);
  if (checks === 0) return true;
  const made = adjust(readings);
  const leans = [
    leanOf(readings.a - made.a, made.sigma_a, m.burn_a_mm ?? 0), leanOf(readings.b - made.b, made.sigma_b, m.burn_b_mm ?? 0),
  ].filter((lean) => isLookedFor(lean.burned));
  if (!leans.length) return made.statistic <= CRITICAL_ALONE[checks - 1];
  const oneSided = LONG_LEG[checks === 1 ? 0 : 1];
  return made.statistic <= CRITICAL[checks - 1] && Math.max(...leans.map((lean) => lean.sigmas)) <= oneSided;
}

// Burned inches get a test of their own where they stand out a little, but not so far that any test finds them.
export const isLookedFor = (burned) => burned > LEAST_SEEN && burned < MOST_SEEN;

function leanOf(tooLong, after, burn) {
  const before = USUAL.tape_mm;
  const learned = before ** 2 - after ** 2;
  if (learned <= 1e-9 * before ** 2) return { sigmas: 0, burned: 0 };
  return { sigmas: tooLong / Math.sqrt(learned), burned: (burn * Math.sqrt(learned)) / before ** 2 };
}

// Mistakes that would explain readings that do not agree, the likeliest first.
export function suspects(m) {
  const readings = readingsOf(m);
  const checks = countTaken(readings);
  if (checks === 0) return [];
  const limit = CRITICAL[checks - 1];
  const passing = knownMistakes(m, readings)
    .map((mistake) => ({ mistake, statistic: adjust(mistake.undone).statistic }))
    .filter((one) => one.statistic <= limit)
    .map((one) => ({ ...one, rank: one.statistic + one.mistake.handicap }))
    .sort((one, other) => one.rank - other.rank);
  const near = passing.filter((one) => one.rank <= passing[0].rank + CLOSE_ODDS).slice(0, MOST_NAMED);
  return near.length ? near.map(suspectOf) : oneReadingSpoils(readings, limit);
}

function suspectOf({ mistake, statistic }) {
  const { a, b, g, taken } = mistake.undone;
  const values = { A: a, B: b, included: degrees(g), C: taken[0], D: taken[1], E: taken[2] };
  const { code, number, words } = mistake;
  return { code, number, words, should_be: values[number] ?? null, statistic };
}

function oneReadingSpoils(readings, limit) {
  if (countTaken(readings) < 2) return [];
  const found = [];
  const legs = [["A", "leg A misread", "a"], ["B", "leg B misread", "b"], ["included", "the included angle misread", "g"]];
  legs.forEach(([number, words, field], place) => {
    const made = adjust(readings, variancesOf().map((usual, other) => (place === other ? SET_FREE : usual)));
    const should_be = field === "g" ? degrees(made.g) : made[field];
    found.push({ code: `misread_${number.toLowerCase()}`, number, words, should_be, statistic: made.statistic });
  });
  CHECK_NAMES.forEach((name, place) => {
    if (readings.taken[place] === null) return;
    const made = adjust({ ...readings, taken: readings.taken.map((check, other) => (place === other ? null : check)) });
    const should_be = computedChecks(made)[place][0];
    const code = `misread_${name.toLowerCase()}`;
    found.push({ code, number: name, words: `measure ${name} misread`, should_be, statistic: made.statistic });
  });
  const passing = found.filter((one) => one.statistic <= limit).sort((one, other) => one.statistic - other.statistic);
  return passing.filter((one) => one.statistic <= passing[0].statistic + CLOSE_ODDS);
}

// The smallest error in each number that the check measures taken find 8 times in 10; null where they see none.
export function smallestSeen(m) {
  const readings = readingsOf(m);
  const slopes = computedChecks(readings).filter((_, place) => readings.taken[place] !== null).map((row) => row.slice(1));
  if (!slopes.length) return [];
  const names = CHECK_NAMES.filter((_, place) => readings.taken[place] !== null);
  const seen = ["A", "B", "included"].map((number, place) => [number, slopes.map((slope) => slope[place])]);
  names.forEach((name, place) => seen.push([name, names.map((_, other) => Number(place === other))]));
  return seen.map(([number, moves]) => ({ number, size: sizeOf(number, visibility(slopes, moves), POWER_80[slopes.length - 1]) }));
}

function sizeOf(number, seen, noncentrality) {
  if (seen <= 1e-12) return null;
  const size = Math.sqrt(noncentrality / seen);
  if (number !== "included") return size < 1e4 ? size : null;
  return degrees(size) < 90 ? degrees(size) : null;
}

function visibility(slopes, moves) {
  const rows = slopes.map((slope, place) => [...slope, moves[place]]);
  return absorb(rows, variancesOf(), USUAL.closing_mm ** 2).statistic;
}

// Legs that no check measure taken can vouch for; C is meant where none was taken.
export function blindLegs(m) {
  const readings = readingsOf(m);
  const rows = computedChecks(readings);
  const taken = rows.filter((_, place) => readings.taken[place] !== null);
  const judged = taken.length ? taken : [rows[0]];
  return ["A", "B"].filter((_, place) => Math.max(...judged.map((row) => Math.abs(row[place + 1]))) < BLIND);
}

export function seeingMeasure(m, leg) {
  const rows = computedChecks(readingsOf(m));
  const place = leg === "A" ? 1 : 2;
  return Math.abs(rows[1][place]) >= Math.abs(rows[2][place]) ? "D" : "E";
}

// What else to measure, of D and E: for a leg that is not seen, or to tell suspects apart.
export function furtherMeasures(m, likely, closes) {
  const readings = readingsOf(m);
  const wanted = new Set(blindLegs(m).map((leg) => seeingMeasure(m, leg)));
  if (countTaken(readings) && !closes && likely.length !== 1) ["D", "E"].forEach((name) => wanted.add(name));
  return ["D", "E"].filter((name, place) => wanted.has(name) && readings.taken[place + 1] === null);
}
