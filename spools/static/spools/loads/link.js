// The counter's page: a tap a line, kept on this phone and sent when the network lets it, by the same outbox as the
// tablet's. What is tapped shows at once; the shop's answer puts it right.

import { shrunk } from "../field/shrink.js";
import * as outbox from "../tablet/outbox.js";
import { showOutbox } from "../tablet/kept.js";
import { no, stayAwake, yes } from "../tablet/signs.js";
import { signaturePad } from "./pad.js";

const EVERY_MS = 15000;
const NAME = "counter-name";
const PHOTO_PX = 1280;
const SHOWN = { here: "here", missing: "missing", later: "later", damaged: "damaged", misfit: "off", undo: "", turned_up: "here" };
const WORDS = { here: "here", missing: "not here", later: "comes later", damaged: "damaged", off: "off this load", "": "still out" };
const counting = document.getElementById("counting");
const isSite = counting.dataset.phase === "site";
const PHASES = {
  drop: { all: "All on the truck", here: "handed over", signs: "handed over" },
  back: { all: "All back", here: "back", signs: "back" },
  site: { all: "All received", here: "received", signs: "received" },
};
let phase = counting.dataset.phase;
const dropped = new Set(JSON.parse(sessionStorage.getItem(`dropped${counting.dataset.tap}`) ?? "[]"));
const ours = (tap) => [counting.dataset.tap, counting.dataset.photo].some((path) => tap.path.endsWith(path));
const local = new Map(); // spool -> what was tapped here and the shop has not shown yet
const pictured = new Map(); // spool -> photos taken here
let count = 0;
let open = null;
let fingerDown = false;

const rows = () => [...counting.querySelectorAll(".count-line")];
const known = { back: "here", delivered: "here", "taken off": "off", spare: "off" };
const shopState = (row) => local.get(row.dataset.spool) ?? known[row.dataset.state] ?? row.dataset.state;
const stateOf = (row) => (phase === "drop" ? (dropped.has(row.dataset.spool) ? "here" : "") : shopState(row));

function paint() {
  for (const row of rows()) {
    const state = stateOf(row);
    row.dataset.shown = state;
    row.querySelector(".stands").textContent = phase === "drop" || local.has(row.dataset.spool) ? say(state) : row.dataset.says;
    row.querySelector(".tick").setAttribute("aria-pressed", String(state === "here" || state === "damaged"));
    row.querySelector(".tick").disabled = phase !== "drop" && !["", "later"].includes(state);
    row.querySelector(".tick use").setAttribute("href", `#shape-${shapeOf(state)}`);
    const drop = phase === "drop";
    row.querySelector("[data-open]").hidden = drop || !["", "later"].includes(state);
    row.querySelector("[data-do=undo]").hidden = drop || !["here", "missing", "off"].includes(state) || row.dataset.state === "spare";
    row.querySelector("[data-do=turned_up]").hidden = drop || state !== "missing" || isSite;
    const photos = pictured.get(row.dataset.spool) ?? 0;
    row.querySelector(".photo-of").hidden = drop || !["damaged", "off"].includes(state) || row.dataset.state === "spare";
    row.querySelector(".photo-of span").textContent = photos ? `${photos} photo${photos > 1 ? "s" : ""} taken. One more` : "Photo of it";
    const choices = row.querySelector(".choices-of");
    choices.hidden = open !== row.dataset.spool;
    row.querySelector("[data-open]").setAttribute("aria-expanded", String(!choices.hidden));
  }
  for (const button of counting.querySelectorAll("[data-all]")) {
    const left = toTick(button);
    button.hidden = left.length === 0;
    button.querySelector("[data-n]").textContent = left.length;
  }
  const here = rows().filter((row) => ["here", "damaged"].includes(stateOf(row))).length;
  const out = rows().filter((row) => ["", "later"].includes(stateOf(row))).length;
  const words = PHASES[phase];
  counting.querySelector("[data-here]").textContent = here;
  counting.querySelector("[data-rest]").textContent = words.here + (phase === "drop" ? "" : out ? `, ${out} still out` : ". All accounted for.");
  counting.querySelector("[data-all-words]").textContent = words.all;
  const rest = counting.querySelector("[data-do=rest]");
  if (rest) rest.hidden = out === 0;
  document.querySelector("[data-agree]").textContent = `${here} of ${rows().length} ${words.here}.`;
}

const say = (state) => (state === "here" ? PHASES[phase].here : phase === "drop" && !state ? "not ticked" : WORDS[state]);

// Handing over is agreed on by ticks that stay on this phone; what the shop keeps of it is the signature with its count.
function hand(spools) {
  for (const spool of spools) if (!dropped.delete(spool)) dropped.add(spool);
  sessionStorage.setItem(`dropped${counting.dataset.tap}`, JSON.stringify([...dropped]));
  yes();
  paint();
}

const shapeOf = (state) => ({ here: "done", damaged: "caution", missing: "missing", off: "not_needed", later: "late" })[state] ?? "needed";

function toTick(button) {
  const within = button.dataset.all === "rack" ? button.closest(".rack") : counting;
  return [...within.querySelectorAll(".count-line")].filter((row) => stateOf(row) === "");
}

// What the server said of each line is kept beside it, because the words change with a tap.
function remember() {
  for (const row of rows()) row.dataset.says = row.querySelector(".stands").textContent;
}

async function tap(act, spools, more, words) {
  if (phase === "drop" && act === "here") return hand(spools);
  count += 1;
  for (const spool of spools) local.set(spool, act === "here" || act in SHOWN ? SHOWN[act] : "");
  open = null;
  paint();
  const name = document.getElementById("name").value.trim();
  const kept = await outbox.keep({
    key: `${counting.dataset.key}-${Date.now().toString(36)}-${count}`,
    path: counting.dataset.tap,
    fields: [["do", act], ["name", name], ...spools.map((spool) => ["spool", spool]), ...more],
    who: "", spool: spools.join(","), step: act, target: "", words,
    done_at: new Date().toISOString(),
  });
  if (kept) yes();
  return outbox.sendSoon();
}

document.querySelector(".phase")?.addEventListener("change", (event) => {
  phase = event.target.value;
  open = null;
  paint();
});

counting.addEventListener("click", (event) => {
  const button = event.target.closest("button");
  if (!button) return;
  const row = button.closest(".count-line");
  if (button.dataset.all) {
    const left = toTick(button).map((one) => one.dataset.spool);
    if (left.length) tap("here", left, [], `${left.length} here`);
  } else if ("open" in button.dataset) {
    open = open === row.dataset.spool ? null : row.dataset.spool;
    paint();
  } else if (button.dataset.do === "rest") {
    const left = rows().filter((one) => ["", "later"].includes(stateOf(one))).map((one) => one.dataset.spool);
    for (const spool of left) local.set(spool, "off");
    tap("rest", [], [], "the rest goes back");
  } else if (button.dataset.do) {
    const more = button.dataset.how ? [["how", button.dataset.how]] : [];
    tap(button.dataset.do, [row.dataset.spool], more, `${row.dataset.words}: ${button.textContent.trim().toLowerCase()}`.slice(0, 80));
  }
});

// Kept before it is sent, and sent after the tap that says what it shows.
counting.addEventListener("change", async ({ target }) => {
  const row = target.closest(".photo-of")?.closest(".count-line");
  if (!row || !target.files.length) return;
  try {
    const photo = await shrunk(target.files[0], PHOTO_PX);
    count += 1;
    await outbox.keep({
      key: `${counting.dataset.key}-${Date.now().toString(36)}-${count}`, path: counting.dataset.photo, late: true,
      fields: [["spool", row.dataset.spool], ["size", String(photo.bytes.byteLength)], ["photo", photo]],
      who: "", spool: row.dataset.spool, step: "photo", target: "", words: `${row.dataset.words}: photo`, done_at: new Date().toISOString(),
    });
    pictured.set(row.dataset.spool, (pictured.get(row.dataset.spool) ?? 0) + 1);
    yes();
  } catch (trouble) {
    no();
    row.querySelector(".photo-of span").textContent = trouble.message;
    return;
  }
  target.value = "";
  paint();
  outbox.sendSoon();
});

const typed = document.getElementById("tag");
const said = document.getElementById("tag-said");
document.getElementById("type-a-tag").addEventListener("submit", (event) => event.preventDefault());
typed.addEventListener("input", () => {
  const tag = typed.value.trim();
  if (tag.length < 5) return void (said.textContent = "");
  typed.value = "";
  const row = rows().find((one) => one.dataset.tag === tag);
  if (!row) {
    no();
    return void (said.textContent = `${tag} is not on this load. Read the five digits again, the bar is under them.`);
  }
  row.scrollIntoView({ block: "center" });
  const state = stateOf(row);
  said.textContent = ["", "later"].includes(state) ? `${tag}: here.` : `${tag}: ${row.querySelector(".stands").textContent} already.`;
  if (["", "later"].includes(state)) tap("here", [row.dataset.spool], [], `${tag} here`);
});

const pad = signaturePad(document.getElementById("pad"));
const signing = document.getElementById("sign");
document.getElementById("clear").addEventListener("click", () => pad.clear());
signing.elements.name.value = localStorage.getItem(NAME) ?? "";
signing.addEventListener("submit", async (event) => {
  event.preventDefault();
  const trouble = document.getElementById("sign-trouble");
  if (!pad.strokes().length) return void (trouble.textContent = "Sign with a finger in the box first.");
  trouble.textContent = "";
  const name = signing.elements.name.value.trim();
  localStorage.setItem(NAME, name);
  const more = [["signed_for", PHASES[phase].signs], ["strokes", JSON.stringify(pad.strokes())], ["count", String(dropped.size)]];
  await tap("sign", [], more, `signed by ${name}`);
  pad.clear();
});

const waiting = async () => (await outbox.taps()).filter((one) => ours(one) && one.state === "waiting");

async function refresh() {
  if (document.hidden || fingerDown) return;
  let answer;
  try {
    answer = await fetch(location.href, { headers: { "X-Part": "1" }, cache: "no-store", signal: AbortSignal.timeout?.(10000) });
  } catch {
    return; // no network: what is shown stays
  }
  const left = await waiting();
  if (answer.status === 404 || answer.status === 410) return void (left.length || location.reload());
  if (!answer.ok) return;
  const text = await answer.text();
  if (fingerDown || (await waiting()).length !== left.length) return;
  const fresh = new DOMParser().parseFromString(text, "text/html");
  counting.replaceChildren(...fresh.body.childNodes);
  local.clear();
  fill(left);
  remember();
  paint();
}

// Taps that still wait on this phone, from before the page was opened too.
function fill(taps) {
  for (const one of taps) {
    const state = SHOWN[one.step];
    if (state !== undefined) for (const spool of one.spool.split(",").filter(Boolean)) local.set(spool, state);
  }
}

async function renew() {
  const mine = (await outbox.taps()).filter(ours);
  showOutbox(document.getElementById("outbox"), mine, () => {}, "phone");
  paint();
}

for (const kind of ["pointerdown", "pointerup", "pointercancel"]) {
  document.addEventListener(kind, () => { fingerDown = kind === "pointerdown"; }, { passive: true, capture: true });
}
outbox.when("changed", renew);
outbox.when("answered", async ({ tap: one, state }) => {
  if (state !== "kept") {
    no();
    if (one.step === "photo") pictured.set(one.spool, (pictured.get(one.spool) ?? 1) - 1);
    else for (const spool of one.spool.split(",")) local.delete(spool);
  }
  await refresh();
  return renew();
});
remember();
stayAwake();
waiting().then((taps) => { fill(taps); paint(); return renew(); }).then(outbox.sendSoon);
setInterval(async () => { if (!(await waiting()).length) refresh(); }, EVERY_MS);
