// The number pad: feet, inches, sixteenths in one tap each; every key edits the text that a keyboard could type too.

import { button, h } from "./dom.js";
import { reduced } from "./lengths.js";

const SIXTEENTHS = Array.from({ length: 15 }, (_, place) => reduced(place + 1, 16).join("/"));
const DIGITS = ["7", "8", "9", "4", "5", "6", "1", "2", "3"];

// Text after one more key. A digit after a fraction, or a second point, changes nothing.
export function typed(text, key) {
  if (key === "back") return text.replace(/(?:-?\d+\/\d+"?|' ?|.)$/, "").trimEnd();
  const closed = /\/\d+"?$/.test(text);
  if (key === "ft") return closed || !/^\d{1,3}$/.test(text) ? text : `${text}' `;
  if (key.includes("/")) return fraction(text.replace(/-?\d+\/\d+"?$/, "").trimEnd(), key);
  if (closed || text.length > 12) return text;
  if (key === ".") return /[.']/.test(text) || !/\d$/.test(text) ? text : `${text}.`;
  return `${text}${key}`;
}

function fraction(text, key) {
  if (text.includes(".")) return text;
  if (/\d$/.test(text)) return `${text}-${key}`;
  return text.endsWith("'") ? `${text} 0-${key}` : key;
}

// kind: "us" (feet, inches, sixteenths), "metric" (mm) or "degrees".
export function pad(kind, { onkey, onnext, next = "Next" }) {
  const press = (key, words = key, extra = {}) => button(words, () => onkey(key), { "data-key": key, ...extra });
  const keys = { us: usKeys, metric: plainKeys, degrees: degreeKeys }[kind](press);
  const go = button(next, onnext, { class: "next main", "data-key": "next" });
  return h("div", { class: `pad ${kind}`, role: "group", "aria-label": "Number pad" }, keys, go);
}

const digits = (press, places) => places.map((digit) => press(digit));
const back = (press) => press("back", "⌫", { "aria-label": "Take the last one back" });

function usKeys(press) {
  const rows = [];
  for (let row = 0; row < 3; row += 1) {
    rows.push(...digits(press, DIGITS.slice(row * 3, row * 3 + 3)), ...fractions(press, row));
  }
  return [...rows, press("ft"), press("0"), back(press), ...fractions(press, 3), ...fractions(press, 4)];
}

const fractions = (press, row) => SIXTEENTHS.slice(row * 3, row * 3 + 3).map((part) => press(part, stacked(part), { class: "part" }));

function stacked(part) {
  const [over, under] = part.split("/");
  return [h("span", { class: "spoken" }, part), h("span", { class: "frac", "aria-hidden": "true" }, h("sup", {}, over), h("sub", {}, under))];
}

const plainKeys = (press) => [...digits(press, DIGITS), press("."), press("0"), back(press)];
const degreeKeys = (press) => [...digits(press, DIGITS), press("."), press("0"), back(press)];
