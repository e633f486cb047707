// One tie-in on one screen: its numbers on the pad, the sketch, the verdict, then ends, hand, up mark, note, photo, keep.

import { bigLength, button, clock, h, sayPipe, shape, strip } from "./dom.js";
import { endChoosers, handChooser, upMarkChooser } from "./ends.js";
import { closingWords, verdictOf } from "./judge.js";
import { splitFeetInches } from "./lengths.js";
import { pad, typed } from "./pad.js";
import { photoPart } from "./photos.js";
import { emptyDraft, readingOf } from "./reading.js";
import { sketch } from "./sketch.js";
import * as store from "./store.js";

const NAMES = {
  leg_a: "Leg A, main side", leg_b: "Leg B, drain side", included: "Included angle", closing: "C, end A to end B",
  d: "D, 12 in mark on leg A to end B", e: "E, 12 in back from end A to end B",
  burn_a: "Leg A: tape held at", burn_b: "Leg B: tape held at",
};

export async function openEntry(root, { book, tieIn, jig, afterKeep, showJigs }) {
  const job = book.jobs[tieIn.job];
  const made = book.make_ups[tieIn.make_up];
  const draft = (await store.draftOf(tieIn.id)) ?? emptyDraft(tieIn);
  draft.key ||= store.freshKey();
  const screen = { draft, tieIn, job, jig, book, madeUp: made?.judged, odMm: made?.od_mm, active: firstOpen(draft), said: "", root, afterKeep, showJigs };
  const heading = h("div", { class: "tie-in" }, h("h1", { class: "mark" }, tieIn.mark), h("p", { class: "where" }, whereWords(tieIn)), ...cannot(tieIn, book));
  const top = h("div", { class: "live" });
  const lower = h("div", { class: "lower" });
  const foot = h("div", { class: "foot" });
  root.replaceChildren(heading, top, lower, foot);
  Object.assign(screen, { top, lower, foot });
  await draw(screen, { all: true });
  return screen;
}

const whereWords = (t) => [h("b", {}, `${t.station} ${t.side}`), ` ${t.main} · ${sayPipe(t)}${t.note ? ` · ${t.note}` : ""}`];

const cannot = (tieIn, book) => [
  h("a", { class: "button quiet", id: "cannot", href: `#/cant/${tieIn.id}` }, "Can't measure"),
  tieIn.obstacle ? h("p", { class: "trouble" }, `${book.whys[tieIn.obstacle.why]}, seen by ${tieIn.obstacle.by}, ${clock(tieIn.obstacle.at)}${tieIn.obstacle.note ? `: ${tieIn.obstacle.note}` : ""}`) : null,
];

const order = (screen, verdict) => ["leg_a", "leg_b", "included", "closing", ...["d", "e"].filter((name) => wanted(screen, verdict, name))];
const wanted = ({ draft }, verdict, name) => Boolean(draft.texts[name]) || (verdict.needs ?? []).includes(name.toUpperCase());
const firstOpen = (draft) => ["leg_a", "leg_b", "included", "closing"].find((name) => !draft.texts[name]) ?? null;

async function draw(screen, { all = false } = {}) {
  const verdict = verdictOf(screen.draft, screen);
  screen.verdict = verdict;
  drawTop(screen, verdict);
  drawFoot(screen, verdict);
  if (all) await drawLower(screen);
  screen.lower.hidden = screen.active !== null;
  document.body.classList.toggle("typing", screen.active !== null);
}

function drawTop(screen, verdict) {
  const { draft, job, odMm, tieIn } = screen;
  screen.top.replaceChildren(
    ...(tieIn.revision && !draft.as ? [measuredBefore(screen)] : []),
    sketch(verdict, { units: job.units, odMm, hand: draft.hand }),
    h("p", { class: "turn", "aria-live": "polite" }, verdict.words || "Read both legs, then the included angle."),
    h("div", { class: "values" }, order(screen, verdict).map((name) => value(screen, verdict, name)), burns(screen)),
    ...verdictStrips(screen, verdict),
  );
}

function measuredBefore(screen) {
  const { first } = screen.tieIn;
  const how = (as) => () => change(screen, { as });
  const by = first ? ` by ${first.by}` : "";
  return h(
    "div", { class: "asks", role: "group", "aria-label": "Measured before" },
    h("p", {}, h("b", {}, `Measured before${by}.`), " Why is it measured now?"),
    h("div", { class: "two" }, button("Second reading, to compare", how("second")), button("Measured again, it changed", how("again"))),
  );
}

function value(screen, verdict, name) {
  const { draft, active } = screen;
  const text = draft.texts[name];
  const trouble = verdict.trouble[name];
  const input = h("input", {
    id: name, value: text, inputmode: screen.keyboard ? "text" : "none", autocomplete: "off", maxlength: name === "included" ? 20 : 30,
    "aria-invalid": trouble ? "true" : null, "aria-describedby": trouble ? `${name}-trouble` : null, enterkeyhint: "next",
    onfocus: () => activate(screen, name), oninput: () => change(screen, { text: input.value, of: name }, { keepFocus: true }),
    onkeydown: (event) => { if (event.key === "Enter") next(screen); },
  });
  return h(
    "div", { class: `value${name === active ? " active" : ""}${trouble && name !== active ? " wrong" : ""}` },
    h("label", { for: name }, NAMES[name]), input, heldAt(screen, name),
    trouble && name !== active ? h("p", { id: `${name}-trouble`, class: "trouble" }, trouble) : null,
  );
}

function heldAt({ draft, jig, job }, name) {
  if (name !== "leg_a" && name !== "leg_b") return null;
  const burn = draft.texts[name === "leg_a" ? "burn_a" : "burn_b"] || jig.usual_burn;
  return h("p", { class: "held" }, `tape held at ${burn}${/^[0-9./ -]+$/.test(burn) ? (job.units === "metric" ? " mm" : '"') : ""}`);
}

// Where the tape was held elsewhere than the jig's usual mark.
function burns(screen) {
  const { draft, active } = screen;
  const shown = draft.texts.burn_a || draft.texts.burn_b || active === "burn_a" || active === "burn_b";
  return shown ? ["burn_a", "burn_b"].map((name) => value(screen, screen.verdict, name)) : null;
}

function verdictStrips(screen, verdict) {
  const { job } = screen;
  const strips = [];
  const onPad = screen.active === "included" && !screen.draft.bend; // the pad asks it with its own two keys
  if (verdict.asks && !onPad) strips.push(bendQuestion(screen, verdict.asks));
  if (screen.said) strips.push(strip("look", "warning", "Look", screen.said));
  if (!verdict.report) return strips;
  const told = verdict.findings.filter((one) => one.level !== "caution" || one.code === "confirms" || one.code === "sharp_or_gentle");
  if (verdict.closes) strips.push(strip("told closes", "done", "Closes", closingWords(verdict, job.units)));
  else if (verdict.report.checked || told.some((one) => one.level === "error")) {
    strips.push(strip("stop closes", "error", said(verdict), told[0]?.text ?? closingWords(verdict, job.units)));
    told.shift();
  }
  const rest = told.filter((one) => one.code !== "no_check_measure" || screen.active === null);
  return [...strips, ...rest.map((one) => finding(one))];
}

function said(verdict) {
  const off = verdict.findings[0]?.code;
  return off === "leg_too_short" ? "Too short" : verdict.report.closes || !verdict.report.checked ? "Look" : "Does not close";
}

const finding = ({ level, text }) => h("p", { class: `finding ${level}` }, shape(level), text);

function bendQuestion(screen, { text, supplement }) {
  const set = (bend, words) => button(words, () => change(screen, { bend }), { "data-bend": bend, "aria-pressed": String(screen.draft.bend === bend) });
  const mend = supplement ? button(`It is ${supplement}`, () => change(screen, { text: supplement, of: "included" })) : null;
  return h(
    "div", { class: "asks", role: "group", "aria-label": "Sharp or gentle" }, h("p", {}, h("b", {}, text)),
    h("div", { class: "two" }, set("sharp", "Sharp, under 90"), set("gentle", "Gentle, over 90"), mend),
  );
}

function drawFoot(screen, verdict) {
  const { active, job } = screen;
  if (active === null) return screen.foot.replaceChildren(keepPart(screen, verdict));
  const kind = active === "included" ? "degrees" : job.units === "metric" ? "metric" : "us";
  const press = (key) => change(screen, { text: typed(screen.draft.texts[active], key), of: active });
  const bend = active === "included" ? bendKeys(screen) : null;
  const told = h("div", { class: "read-back" }, readBack(screen, verdict));
  return screen.foot.replaceChildren(...[told, bend, pad(kind, { onkey: press, onnext: () => next(screen) })].filter(Boolean));
}

function readBack({ active }, verdict) {
  const mm = verdict.numbers[`${active}_mm`];
  if (active === "included") return verdict.words || "Read the jig's protractor.";
  if (mm === null || mm === undefined) return verdict.trouble[active] ? "Not a length yet" : NAMES[active];
  const read = [`${NAMES[active].split(",")[0]} `, bigLength(splitFeetInches(mm)), ` · ${mm.toFixed(0)} mm`];
  if (!verdict.report?.checked || ["leg_a", "leg_b"].includes(active)) return read;
  return [...read, h("span", { class: verdict.closes ? "says" : "says not" }, shape(verdict.closes ? "done" : "error"), verdict.report.closes ? "closes" : "does not close")];
}

function bendKeys(screen) {
  const set = (bend, words) => button(words, () => change(screen, { bend }), { "aria-pressed": String(screen.draft.bend === bend), "data-bend": bend });
  return h("div", { class: "two bend" }, set("sharp", "Sharp"), set("gentle", "Gentle"));
}

function activate(screen, name) {
  if (screen.active === name) return;
  screen.active = name;
  draw(screen).then(() => focusOn(screen, name));
}

function focusOn({ top }, name) {
  const input = top.querySelector(`#${name}`);
  if (!input) return;
  input.focus({ preventScroll: true });
  input.setSelectionRange(input.value.length, input.value.length);
  input.closest(".value").scrollIntoView({ block: "nearest" });
}

// On to the next number; after the last to ends, hand and keep.
function next(screen) {
  const steps = order(screen, screen.verdict);
  const here = steps.indexOf(screen.active);
  screen.active = here === -1 ? firstOpen(screen.draft) : (steps.slice(here + 1).find((name) => !screen.draft.texts[name]) ?? null);
  draw(screen).then(() => (screen.active ? focusOn(screen, screen.active) : screen.root.querySelector(".closes, .lower")?.scrollIntoView({ block: "nearest" })));
}

async function change(screen, news, { keepFocus = false } = {}) {
  if (screen.keeping) return; // its reading is on the way to the disk: a draft written now would outlive it
  const { text, of, ...rest } = news;
  const draft = { ...screen.draft, ...rest };
  if (of) draft.texts = { ...draft.texts, [of]: text };
  screen.draft = draft;
  screen.said = "";
  const kept = store.keepDraft(draft);
  if (keepFocus) {
    const { selectionStart } = document.activeElement;
    await draw(screen);
    focusOn(screen, of);
    screen.top.querySelector(`#${of}`)?.setSelectionRange(selectionStart, selectionStart);
  } else await draw(screen);
  await kept;
}

async function drawLower(screen) {
  const { draft, tieIn, book, lower } = screen;
  const set = (news) => change(screen, news);
  const note = h("input", { id: "note", value: draft.note, maxlength: 300, autocomplete: "off", oninput: () => set({ note: note.value }) });
  const elsewhere = button("Tape held elsewhere", () => activate(screen, "burn_a"), { class: "quiet" });
  const keyboard = button(screen.keyboard ? "Use the pad" : "Use the keyboard", () => { screen.keyboard = !screen.keyboard; draw(screen, { all: true }); }, { class: "quiet" });
  lower.replaceChildren(
    handChooser(draft, set), upMarkChooser(draft, set), ...endChoosers(draft, tieIn, book, set),
    h("div", { class: "field" }, h("label", { for: "note" }, "Note"), note),
    await photoPart(() => screen.draft, { say: (words) => { screen.said = words; draw(screen); }, redraw: () => draw(screen, { all: true }) }),
    h("div", { class: "actions" }, elsewhere, keyboard, button(`Jig ${screen.jig.serial}`, screen.showJigs, { class: "quiet" })),
  );
}

function keepPart(screen, verdict) {
  const { draft, tieIn } = screen;
  const missing = missingWords(draft, tieIn, verdict);
  const words = verdict.closes ? "Keep, next" : "Keep it for the foreman";
  const act = () => (missing ? draw(Object.assign(screen, { said: missing })).then(() => screen.root.scrollIntoView()) : keep(screen, verdict));
  return h("div", { class: "keep" }, button(words, act, { class: verdict.closes ? "deed" : "deed open", id: "keep" }));
}

function missingWords(draft, tieIn, verdict) {
  if (Object.keys(verdict.trouble).length) return Object.values(verdict.trouble)[0];
  if (!verdict.legs) return "Read leg A, leg B and the included angle first.";
  if (verdict.asks) return verdict.asks.text;
  if (tieIn.revision && !draft.as) return "Say why it is measured now: to compare, or because it changed.";
  if (!draft.hand) return "Say which way the drain leg turns.";
  return "";
}

async function keep(screen, verdict) {
  if (screen.keeping) return;
  screen.keeping = true;
  const { draft, tieIn, job, jig, book } = screen;
  const reading = readingOf(draft, { tieIn, job, jig, person: book.person, verdict, at: new Date().toISOString() });
  try {
    await store.keepReading(reading);
  } catch (trouble) {
    screen.said = `Not kept: this phone refused (${trouble.name}). Free some space, then press keep again; write the numbers on paper first.`;
    screen.keeping = false;
    return draw(screen);
  }
  return screen.afterKeep(reading);
}
