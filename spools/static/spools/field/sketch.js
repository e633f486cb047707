// The spool as read so far, to scale: it moves with every key, so that a supplement or a foot too much is seen.

import { radians } from "./adjust.js";
import { formatLength } from "./lengths.js";
import { s } from "./dom.js";

const [WIDE, HIGH, EDGE_X, EDGE_Y] = [360, 158, 62, 38];
const GUESS = { a: 900, b: 620, turn: 40, od: 168 };

export function sketch(verdict, { units, odMm, hand }) {
  const { numbers, legs } = verdict;
  const a = legs?.leg_a_mm ?? numbers.leg_a_mm;
  const b = legs?.leg_b_mm ?? numbers.leg_b_mm;
  const included = legs?.included_deg ?? numbers.included_deg;
  const known = { a: a > 0, b: b > 0, turn: included !== null && included > 0 };
  const drawn = {
    a: known.a ? a : GUESS.a, b: known.b ? b : GUESS.b, turn: known.turn ? 180 - included : GUESS.turn, od: odMm ?? GUESS.od,
    up: hand === "right" || hand === "down" ? 1 : -1,
  };
  const at = placed(drawn);
  return s(
    "svg", { class: "sketch", viewBox: `0 0 ${WIDE} ${HIGH}`, role: "img", "aria-label": described(verdict, known, units) },
    pipe(at, drawn), centerline(at), closingLine(at, verdict, units),
    label(at.endA, at.pi, known.a ? `A ${formatLength(a, units)}` : "A", drawn.up, at.width),
    label(at.pi, at.endB, known.b ? `B ${formatLength(b, units)}` : "B", drawn.up, at.width),
    end(at.endA, "main", at.width), end(at.endB, "drain", at.width),
  );
}

function described(verdict, known, units) {
  const { numbers } = verdict;
  const legs = [known.a && `leg A ${formatLength(numbers.leg_a_mm, units)}`, known.b && `leg B ${formatLength(numbers.leg_b_mm, units)}`];
  return ["To scale", verdict.words, ...legs].filter(Boolean).join(", ");
}

// Ends, PI and scale so that it fills the picture; the main is at the left, leg A along the bottom or the top.
function placed({ a, b, turn, od, up }) {
  const angle = radians(turn);
  const points = [[0, 0], [a, 0], [a + b * Math.cos(angle), up * b * Math.sin(angle)]];
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const span = { x: Math.max(...xs) - Math.min(...xs) || 1, y: Math.max(...ys) - Math.min(...ys) };
  const scale = Math.min((WIDE - 2 * EDGE_X) / span.x, (HIGH - 2 * EDGE_Y) / Math.max(span.y, 1));
  const shift = { x: (WIDE - span.x * scale) / 2 - Math.min(...xs) * scale, y: (HIGH - span.y * scale) / 2 - Math.min(...ys) * scale };
  const [endA, pi, endB] = points.map(([x, y]) => ({ x: x * scale + shift.x, y: y * scale + shift.y }));
  return { endA, pi, endB, width: Math.min(Math.max(od * scale, 10), 44), reach: Math.min(a, b) * scale };
}

const xy = ({ x, y }) => `${x.toFixed(1)} ${y.toFixed(1)}`;
const along = (from, to, part) => ({ x: from.x + (to.x - from.x) * part, y: from.y + (to.y - from.y) * part });
const apart = (from, to) => Math.hypot(to.x - from.x, to.y - from.y) || 1;

// The pipe's outline: a wide line in ink with a narrower one of paper on it, rounded where the elbow is.
function pipe({ endA, pi, endB, width, reach }, { turn }) {
  const take = Math.min(1.1 * width * Math.tan(radians(Math.min(turn, 150) / 2)) + 2, reach * 0.8);
  const near = along(pi, endA, take / apart(pi, endA));
  const far = along(pi, endB, take / apart(pi, endB));
  const way = `M ${xy(endA)} L ${xy(near)} Q ${xy(pi)} ${xy(far)} L ${xy(endB)}`;
  return [s("path", { class: "wall", d: way, "stroke-width": width + 4 }), s("path", { class: "bore", d: way, "stroke-width": width })];
}

function centerline({ endA, pi, endB }) {
  return [
    s("path", { class: "center", d: `M ${xy(endA)} L ${xy(pi)} L ${xy(endB)}` }),
    s("circle", { class: "pi", cx: pi.x.toFixed(1), cy: pi.y.toFixed(1), r: 3 }),
  ];
}

function closingLine({ endA, endB }, verdict, units) {
  const { report } = verdict;
  if (!report) return null;
  const middle = along(endA, endB, 0.5);
  const state = report.checked ? (verdict.closes ? "closes" : "open") : "unread";
  return [
    s("path", { class: `closing ${state}`, d: `M ${xy(endA)} L ${xy(endB)}` }),
    s("text", { class: "figure", x: middle.x.toFixed(1), y: (middle.y + 5).toFixed(1), "text-anchor": "middle" }, `C ${formatLength(report.closing_computed_mm, units)}`),
  ];
}

// Outside of the bend, clear of the pipe by the half size of its own words, so that it lies on nothing.
function label(from, to, words, up, width) {
  const middle = along(from, to, 0.5);
  const angle = Math.atan2(to.y - from.y, to.x - from.x) + (up < 0 ? Math.PI / 2 : -Math.PI / 2);
  const half = words.length * 4.1;
  const away = width / 2 + 5 + half * Math.abs(Math.cos(angle)) + 8 * Math.abs(Math.sin(angle));
  const x = Math.min(Math.max(middle.x + Math.cos(angle) * away, half + 2), WIDE - half - 2);
  const y = Math.min(Math.max(middle.y + Math.sin(angle) * away + 5, 12), HIGH - 3);
  return s("text", { class: "figure", x: x.toFixed(1), y: y.toFixed(1), "text-anchor": "middle" }, words);
}

function end(at, words, width) {
  const right = at.x > WIDE / 2;
  const away = width / 2 + 6;
  const x = right ? Math.min(at.x + away, WIDE - 34) : Math.max(at.x - away, 34);
  return s("text", { class: "note", x: x.toFixed(1), y: (at.y + 4).toFixed(1), "text-anchor": right ? "start" : "end" }, words);
}
