// The jig of the shift: chosen once, with its set points, and checked on the master in two positions.

import { chooser } from "./ends.js";
import { button, clock, h, strip } from "./dom.js";
import { formatLength } from "./lengths.js";
import { toHang } from "./list.js";
import { sendSoon } from "./send.js";
import { jigOfShift, lastCheck, lockedHere, today } from "./shift.js";
import * as store from "./store.js";

const LENGTH_LIMIT_MM = 25.4 / 32 + 1e-9; // as spools/actions/check_jig.py
const INCLUDED_LIMIT_DEG = 0.25 + 1e-9;
const POSITIONS = [["long", "Long and flat"], ["short", "Short and sharp"]];

export async function openJigs(root, { book, show }) {
  const chosen = await jigOfShift(book);
  const rows = await Promise.all(book.jigs.map((jig) => row(jig, chosen, book, show)));
  root.replaceChildren(
    h("h1", {}, "Jig of this shift"), toHang(book),
    h("p", {}, "Choose the jig in your hand once; its set points go with every reading. Check it on the master before you go down."),
    rows.length ? h("ul", { class: "jigs" }, rows) : h("p", {}, "There is no jig in the book: the office adds it with its set points."),
  );
}

async function row(jig, chosen, book, show) {
  const locked = await lockedHere(jig);
  const last = await lastCheck(jig.serial);
  const state = last ? `checked ${clock(last.checked_at)}, ${last.good ? "good" : "OUT OF CHECK"}` : jig.locked ? `locked: ${jig.locked}` : jig.checked_today ? `checked ${clock(jig.checked_at)}, good` : "not checked today";
  const take = async () => {
    await store.keepFact("shift", { day: today(), jig });
    location.hash = "#/";
    show();
  };
  const is = chosen?.serial === jig.serial && chosen.version === jig.version;
  return h(
    "li", {}, h("h2", {}, `Jig ${jig.serial}`), h("p", {}, h("b", {}, state)),
    h("p", {}, `Set points, version ${jig.version}: A ${formatLength(jig.set_point_a_mm)}, B ${formatLength(jig.set_point_b_mm)}. Tape held at ${jig.usual_burn}. Reads ${jig.included_min_deg} to ${jig.included_max_deg} degrees included.`),
    h("div", { class: "actions" },
      locked ? null : button(is ? "In use" : `Use jig ${jig.serial}`, take, { class: is ? "" : "main", "aria-pressed": String(is) }),
      button("Check it", () => { location.hash = `#/check/${encodeURIComponent(jig.serial)}`; })),
  );
}

// One tap for each deviation: how far off the jig reads from the master.
export function openCheck(root, { book, serial, show }) {
  const off = { long: {}, short: {} };
  const foot = h("div", {});
  const draw = () => foot.replaceChildren(verdict(book, serial, off, show));
  const lengths = [-3, -2, -1, 0, 1, 2, 3].map((parts) => [String((parts * 25.4) / 32), parts ? `${parts > 0 ? "+" : "−"}${Math.abs(parts)}/32` : "true"]);
  const turns = [-0.75, -0.5, -0.25, 0, 0.25, 0.5, 0.75].map((turn) => [String(turn), turn ? `${turn > 0 ? "+" : "−"}${Math.abs(turn)}` : "true"]);
  root.replaceChildren(
    h("h1", {}, `Check jig ${serial}`),
    h("p", {}, "Bolt it to the master in both positions. How far does it read from the master? Good within 1/32 in and 0.25 degrees."),
    ...POSITIONS.map(([code, words]) => h(
      "section", { class: "position" }, h("h2", {}, words),
      deviation(`Length reads off by, inches`, `${code}-length`, lengths, 25.4, (mm) => { off[code].length_off_mm = mm; draw(); }),
      deviation(`Included reads off by, degrees`, `${code}-turn`, turns, 1, (turn) => { off[code].included_off_deg = turn; draw(); }),
    )),
    foot,
  );
  draw();
}

function deviation(legend, name, choices, scale, onset) {
  const more = h("input", { id: `${name}-more`, inputmode: "decimal", autocomplete: "off", oninput: () => {
    const value = Number(more.value.replace("−", "-"));
    if (more.value.trim() && Number.isFinite(value)) onset(value * scale);
  } });
  const chosen = chooser(legend, name, choices, null, (value) => { more.value = ""; onset(Number(value)); });
  return h("div", {}, chosen, h("div", { class: "more" }, h("label", { for: `${name}-more` }, "More, such as -0.8"), more));
}

function verdict(book, serial, off, show) {
  const numbers = POSITIONS.flatMap(([code]) => [off[code].length_off_mm, off[code].included_off_deg]);
  if (numbers.some((number) => number === undefined)) return h("p", { class: "soft" }, "Tap one in each of the four rows.");
  const worst = (field) => POSITIONS.map(([code]) => off[code][field]).reduce((one, other) => (Math.abs(other) > Math.abs(one) ? other : one));
  const good = Math.abs(worst("length_off_mm")) <= LENGTH_LIMIT_MM && Math.abs(worst("included_off_deg")) <= INCLUDED_LIMIT_DEG;
  const record = async () => {
    const positions = POSITIONS.map(([name]) => ({ name, ...off[name] }));
    await store.keepCheck({ key: store.freshKey(), jig: serial, checked_at: new Date().toISOString(), checked_by: book.person.username, positions, good, state: "kept" });
    sendSoon();
    location.hash = "#/jig";
    show();
  };
  return h(
    "div", {},
    good ? strip("told", "done", "Good", `Jig ${serial} may be used.`) : strip("stop", "stop", "Out of check", `Jig ${serial} is locked. Take another; what it read since its last good check is doubtful.`),
    button("Record the check", record, { class: "deed", id: "record" }),
  );
}
