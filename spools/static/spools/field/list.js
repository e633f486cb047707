// The walk's list: what is still to measure in station order or as planned, and any mark by typing it.

import { button, h, sayPipe, shape } from "./dom.js";
import * as store from "./store.js";

const AT_A_TIME = 40;

export async function openList(root, { book, show, shift }) {
  const mine = new Map((await store.readings()).filter((one) => one.state !== "aside").map((one) => [one.tie_in, one]));
  const unsent = await obstaclesHere();
  const drafted = new Set((await store.drafts()).filter((draft) => draft.texts && Object.values(draft.texts).some(Boolean)).map((draft) => draft.tie_in));
  const screen = { book, show, shift, mine, unsent, drafted, find: "", walk: "", count: AT_A_TIME, all: false };
  const find = h("input", { id: "find", type: "search", inputmode: "search", autocomplete: "off", oninput: () => { screen.find = find.value; draw(); } });
  const rows = h("div", { class: "rows" });
  const draw = () => rows.replaceChildren(...listed(screen, draw));
  root.replaceChildren(
    h("h1", {}, "To measure"), toHang(book),
    ...chooseWalk(screen, draw),
    h("div", { class: "find-mark" }, h("label", { for: "find" }, "Mark or station"), find),
    rows,
  );
  draw();
}

export function toHang(book) {
  const count = book.hang?.filter((one) => !one.said).length;
  return count ? h("p", { class: "actions" }, h("a", { class: "button quiet", href: "#/hang" }, `To hang: ${count}`)) : "";
}

function chooseWalk(screen, draw) {
  const planned = screen.book.walks.flatMap((walk) => walk.shifts.map((shift, place) => [`${walk.id}/${place}`, `${walk.words}, shift ${place + 1}`]));
  if (!planned.length) return [];
  const select = h(
    "select", { id: "walk", onchange: () => { screen.walk = select.value; draw(); } },
    h("option", { value: "" }, "Along the main, by station"), planned.map(([value, words]) => h("option", { value }, words)),
  );
  return [h("div", { class: "field" }, h("label", { for: "walk" }, "Walk"), select)];
}

function listed(screen, draw) {
  const { book, find, count, mine, unsent } = screen;
  const ordered = onWalk(screen) ?? book.tie_ins;
  const wanted = key(find);
  const open = wanted ? ordered.filter((one) => key(one.mark).includes(wanted) || key(one.station).startsWith(wanted)) : ordered.filter((one) => screen.all || !done(one, mine));
  const undone = ordered.filter((one) => !done(one, mine));
  const stuck = undone.filter((one) => inTheWay(one, unsent)).length;
  const left = `${undone.length - stuck} of ${ordered.length} to measure${stuck ? `, ${stuck} can't be measured now` : ""}`;
  const shown = open.slice(0, count).map((one) => row(one, screen));
  const more = open.length > count ? button(`Show ${Math.min(AT_A_TIME, open.length - count)} more`, () => { screen.count += AT_A_TIME; draw(); }) : null;
  const all = button(screen.all ? "Only what is to measure" : "Show measured ones too", () => { screen.all = !screen.all; draw(); }, { class: "quiet" });
  const words = open.length ? left : wanted ? `No mark like ${find}` : "Everything on this list is measured";
  return [walkWords(screen), h("p", { class: "soft", "aria-live": "polite" }, words), h("ul", { class: "walk" }, shown), more, all].filter(Boolean);
}

const key = (text) => text.normalize("NFKC").toUpperCase().replace(/\s/g, "");
const inTheWay = (one, unsent) => unsent.get(one.id) ?? one.obstacle;

// What was said here to stand in the way and the shop doesn't know yet, by tie-in.
async function obstaclesHere() {
  return new Map((await store.obstacles()).filter((one) => one.state === "kept" || one.state === "asks").map((one) => [one.tie_in, one]));
}

const done = (one, mine) => one.revision > 0 || mine.has(one.id);

function onWalk({ book, walk }) {
  const shift = shiftOf(book, walk);
  if (!shift) return null;
  const byId = new Map(book.tie_ins.map((one) => [one.id, one]));
  return shift.tie_ins.map((id) => byId.get(id)).filter(Boolean);
}

function shiftOf(book, chosen) {
  const [walkId, place] = chosen.split("/");
  return chosen ? book.walks.find((walk) => String(walk.id) === walkId)?.shifts[Number(place)] : null;
}

function walkWords({ book, walk }) {
  const shift = shiftOf(book, walk);
  return shift ? h("p", {}, `In at ${shift.in_words}, out at ${shift.out_words}, ${shift.walk_words} of walking.`) : null;
}

function row(one, { mine, unsent, drafted, book }) {
  const reading = mine.get(one.id);
  const stuck = inTheWay(one, unsent);
  const state = reading ? stateOf(reading) : stuck ? ["warning", `${book.whys[stuck.why]}, ${stuck.by ?? "not sent"}`] : one.revision ? ["done", `measured by ${one.first?.by ?? "the crew"}`] : drafted.has(one.id) ? ["now", "begun"] : null;
  return h(
    "li", {},
    h("a", { href: `#/t/${one.id}` },
      h("span", { class: "mark" }, one.mark),
      h("span", {}, `${one.station} ${one.side}`, h("small", {}, `${sayPipe(one)} · ${one.main}`)),
      state ? h("span", { class: "state" }, shape(state[0]), state[1]) : null),
  );
}

export function stateOf(reading) {
  return {
    kept: ["not_sent", "kept, not sent"], sent: ["done", "sent"], asks: ["warning", "asks for a decision"], aside: ["not_needed", "set aside"],
  }[reading.state];
}

// The next one on the way from here: up the main first, then what was left behind.
export async function nextAfter(book, tieIn) {
  const mine = new Map((await store.readings()).filter((one) => one.state !== "aside").map((one) => [one.tie_in, one]));
  const unsent = await obstaclesHere();
  const open = book.tie_ins.filter((one) => !done(one, mine) && !inTheWay(one, unsent));
  const place = book.tie_ins.indexOf(tieIn);
  const here = open.filter((one) => one.main === tieIn.main && one.job === tieIn.job);
  return here.find((one) => book.tie_ins.indexOf(one) > place) ?? here[0] ?? open[0] ?? null;
}
