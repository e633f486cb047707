// Make elements: h("button", { class: "main", onclick }, "Keep"). Text is always text, never mark-up.

const SVG = "http://www.w3.org/2000/svg";

export const h = (tag, attributes, ...children) => fill(document.createElement(tag), attributes, children);
export const s = (tag, attributes, ...children) => fill(document.createElementNS(SVG, tag), attributes, children);

function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (value === false || value === null || value === undefined) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.flat(2).filter((child) => child !== null && child !== undefined && child !== false && child !== ""));
  return element;
}

export const shape = (name) => s("svg", { class: "shape", "aria-hidden": "true" }, s("use", { href: `#shape-${name}` }));
export const picture = (name) => s("svg", { class: "picture", viewBox: "0 0 64 40", "aria-hidden": "true" }, s("use", { href: `#picture-${name}` }));

export const strip = (kind, mark, word, text, ...more) => h(
  "div", { class: `strip ${kind}`, role: kind === "stop" ? "alert" : "status" }, shape(mark), h("b", {}, word), h("span", { class: "rest" }, text), ...more,
);

export const button = (words, onclick, attributes = {}) => h("button", { type: "button", onclick, ...attributes }, ...[words].flat());

// What a size and a pipe are called: NPS 6 Sch 40, or by what was measured where no table has it.
export const saySize = ({ nps }) => (nps.startsWith("OD") ? `${nps} in` : `NPS ${nps}`);
export const sayPipe = (one) => (one.nps.startsWith("OD") ? `${saySize(one)}, wall ${one.schedule.replace("W", "").trim()} in` : `${saySize(one)} Sch ${one.schedule}`);

// A length as a big figure with a stacked fraction, from the parts of lengths.js.
export function bigLength({ negative, feet, inches, numerator, denominator }) {
  const fraction = numerator ? h("span", { class: "frac" }, h("sup", {}, String(numerator)), h("sub", {}, String(denominator))) : null;
  return h(
    "span", { class: "len" }, negative ? "-" : null, feet ? [h("b", {}, String(feet)), " ft "] : null,
    inches || !fraction ? h("b", {}, String(inches)) : null, fraction, " in",
  );
}

// 07:42 today, Tue 07:42 else.
export function clock(iso) {
  const at = new Date(iso);
  const time = `${String(at.getHours()).padStart(2, "0")}:${String(at.getMinutes()).padStart(2, "0")}`;
  const today = at.toDateString() === new Date().toDateString();
  return today ? time : `${at.toLocaleDateString("en-US", { weekday: "short", day: "numeric", month: "short" })} ${time}`;
}
