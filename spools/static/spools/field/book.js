// The field book: opens from the phone, draws the screen that the address asks for, and keeps the count in sight.

import { button, clock, h, strip } from "./dom.js";
import { countWords, line, whenLineChanges } from "./line.js";
import { nextAfter, openList } from "./list.js";
import { jigOfShift, jigWords } from "./shift.js";
import * as store from "./store.js";

// The list is there at once; the other screens are read from the phone when they are asked for, or when it has nothing
// better to do.
class NotHere extends Error {}
const later = (load) => () => load().catch(() => { throw new NotHere(); });
const codes = later(() => import("./codes.js"));
const entry = later(() => import("./entry.js"));
const hang = later(() => import("./hang.js"));
const jigs = later(() => import("./jigs.js"));
const obstacle = later(() => import("./obstacle.js"));
const kept = later(() => import("./kept.js"));
const send = () => import("./send.js");
const sendSoon = async () => (await send()).sendSoon();
const sendNow = async () => (await send()).sendNow();
const whenIdle = globalThis.requestIdleCallback ?? ((work) => setTimeout(work, 300));

const root = document.getElementById("screen");
const bar = document.getElementById("bar");
const strips = document.getElementById("strips");
const { worker, scope } = document.body.dataset;
const OLD_MS = 12 * 3600 * 1000;
const CLOCK_MS = 5 * 60 * 1000;
const LOAD_AGAIN_MS = 5000;
const TYPED = new Set(["t", "cant", "check", "hang"]);
let told = "";

// One drawing after the other, so that the last address asked for is the one that stays.
let showing = Promise.resolve();
function show() {
  showing = showing.then(draw, draw).catch(drawMissing);
  return showing;
}

// A screen that the phone hasn't loaded yet, and now can't.
function drawMissing(trouble) {
  if (!(trouble instanceof NotHere)) throw trouble;
  root.replaceChildren(h("h1", {}, "This screen is not on the phone yet"), h("p", {}, "It needs signal once. What is kept here stays."), button("Try again", show, { class: "main" }));
}

async function draw() {
  document.documentElement.dataset.ready = "";
  const held = await store.fact("book");
  if (!held) return drawNothingYet();
  const { book } = held;
  const { hash } = location;
  const [, screen, id] = hash.split("/");
  const jig = await jigOfShift(book);
  if (screen === "phone") await (await kept()).openKept(root, { book, show: showAgain });
  else if (screen === "show") await (await codes()).openShow(root, { book });
  else if (screen === "scan") (await codes()).openScan(root);
  else if (screen === "hang") await showHang(book, id);
  else if (screen === "check") (await jigs()).openCheck(root, { book, serial: decodeURIComponent(id), show });
  else if (screen === "jig" || !jig) await (await jigs()).openJigs(root, { book, show });
  else if (screen === "t") await showEntry(book, jig, Number(id));
  else if (screen === "cant") await showObstacle(book, Number(id));
  else await openList(root, { book, show, shift: jig });
  await drawStrips(); // what stands above the screen moves it: a finger waits for that
  document.documentElement.dataset.ready = hash || "yes";
}

// What somebody is typing is not drawn over because something was sent meanwhile.
async function showAgain() {
  const [, screen, id] = location.hash.split("/");
  if (!id || !TYPED.has(screen)) await show();
}

async function showEntry(book, jig, id) {
  const tieIn = book.tie_ins.find((one) => one.id === id);
  if (!tieIn) {
    location.hash = "#/";
    return;
  }
  await (await entry()).openEntry(root, { book, tieIn, jig, showJigs: () => { location.hash = "#/jig"; }, afterKeep: (reading) => afterKeep(book, tieIn, reading) });
}

async function showObstacle(book, id) {
  const tieIn = book.tie_ins.find((one) => one.id === id);
  if (!tieIn) {
    location.hash = "#/";
    return;
  }
  await (await obstacle()).openObstacle(root, { book, tieIn, afterReport: () => goOn(book, tieIn, `${tieIn.mark} can't be measured: kept on this phone.`) });
}

// Hanging needs no jig, so it is asked for none.
async function showHang(book, id) {
  if (!id) return (await hang()).openHangList(root, { book });
  return (await hang()).openHang(root, { book, id: Number(id), afterSaid });
}

async function afterSaid({ how, label }, tieIn) {
  const fits = how === "fits";
  keptHere(`${label} ${fits ? "fits" : "doesn't fit"}: kept on this phone.${fits ? "" : " Measure it again while you are here, and the shop builds it anew."}`);
  location.hash = fits ? "#/hang" : `#/t/${tieIn.id}`;
  window.scrollTo(0, 0);
}

async function afterKeep(book, tieIn, reading) {
  return goOn(book, tieIn, `${reading.mark} is kept on this phone${reading.closes ? "" : ", for the foreman"}.`);
}

function keptHere(words) {
  told = words;
  navigator.vibrate?.(80);
  sendSoon();
}

async function goOn(book, tieIn, words) {
  keptHere(words);
  const next = await nextAfter(book, tieIn);
  location.hash = next ? `#/t/${next.id}` : "#/";
  window.scrollTo(0, 0);
}

function drawNothingYet() {
  document.documentElement.dataset.ready = "yes";
  const words = line.signIn ? "Sign in once, with signal." : line.online === false ? "Open it once where there is signal: then it works without." : "Getting today's tie-ins…";
  root.replaceChildren(h("h1", {}, "The field book is empty"), h("p", {}, words), button("Try again", () => start()));
  return drawStrips();
}

// One drawing after the other, so that the newest count is the one that stays; asked for meanwhile, one more.
let lastStrips = Promise.resolve();
let nextStrips = null;
function drawStrips() {
  const begin = () => { nextStrips = null; lastStrips = drawStripsNow(); return lastStrips; };
  nextStrips ??= lastStrips.then(begin, begin);
  return nextStrips;
}

async function drawStripsNow() {
  const [counted, kept] = await Promise.all([store.counts(), store.fact("book")]);
  const found = await warnings(counted, kept);
  bar.replaceChildren(
    h("a", { href: "#/", class: "bar-list" }, "List"),
    h("a", { href: "#/phone", class: "bar-count", "aria-live": "polite" }, countWords(counted), h("small", {}, lineWords(kept))),
    h("a", { href: "#/jig", class: "bar-jig" }, "Jig"),
  );
  strips.replaceChildren(...found);
}

function lineWords(kept) {
  if (line.words) return line.words;
  return kept ? `list of ${clock(kept.fetched_at)}` : "";
}

async function warnings(counted, kept) {
  const found = [];
  if (told) found.push(strip("told", "done", "Kept", told));
  if (!canStore) {
    const till = whole ? "keep this tab open until all is sent" : "it is still loading: stay where there is signal";
    found.push(strip("look", "warning", "No TLS", `This address can't be stored on the phone and has no camera: ${till}, and ask the office for the https address.`));
  } else if (storing === "refused") {
    found.push(strip("look", "warning", "Not stored", "The phone refuses this address's certificate: it works while this tab stays open. Ask the office for one that phones trust."));
  }
  if (line.signIn) found.push(strip("look", "not_sent", "Sign in", "What is kept here is sent once you are signed in.", h("a", { class: "button", href: `/sign-in/?next=${encodeURIComponent(location.pathname)}` }, "Sign in")));
  if (counted.asks) found.push(strip("look", "warning", `${counted.asks} to decide`, "The shop asks before it takes them.", h("a", { class: "button", href: "#/phone" }, "Decide")));
  if (kept && Math.abs(kept.clock_off_ms) > CLOCK_MS) found.push(strip("look", "late", "Clock", `This phone is ${Math.round(Math.abs(kept.clock_off_ms) / 60000)} minutes off the shop's time: set it.`));
  if (kept && Date.now() - Date.parse(kept.fetched_at) > OLD_MS) found.push(strip("told", "stale", "Old list", `As of ${clock(kept.fetched_at)}.`));
  if (newer) found.push(strip("told", "stale", "New version", "A newer field book is on this phone.", button("Use it", takeNewer)));
  if (kept) await jigStrip(kept.book, found);
  return found;
}

async function jigStrip(book, found) {
  const jig = await jigOfShift(book);
  const words = jig ? await jigWords(jig, book) : "";
  if (jig && !words.endsWith("good")) found.push(strip("look", "warning", "Jig", words, h("a", { class: "button", href: "#/jig" }, "Jig")));
}

let newer = null;
let storing = "";
let whole = false;
const canStore = globalThis.isSecureContext && "serviceWorker" in navigator;
const loadAll = async () => { await Promise.all([entry(), jigs(), kept(), obstacle(), hang(), codes()]); };

async function storePage() {
  // A page that nothing stores has only what this tab has loaded.
  if (!canStore) return loadAll().then(() => { whole = true; drawStrips(); }, () => { setTimeout(storePage, LOAD_AGAIN_MS); });
  try {
    const registration = await navigator.serviceWorker.register(worker, { scope });
    const look = () => { newer = registration.waiting && registration.active ? registration.waiting : null; if (newer) drawStrips(); };
    registration.addEventListener("updatefound", () => registration.installing?.addEventListener("statechange", look));
    look();
    await navigator.serviceWorker.ready;
  } catch {
    storing = "refused";
    return drawStrips();
  }
  // The worker may not answer for this very tab yet: its screens are loaded before it says that all is here.
  return loadAll().then(() => { document.documentElement.dataset.stored = "yes"; }, () => { setTimeout(storePage, LOAD_AGAIN_MS); });
}

function takeNewer() {
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  newer.postMessage("take over");
}

async function start() {
  await show();
  if (!(await store.fact("book"))) {
    await (await send()).refresh();
    await show();
  }
  storePage();
  await sendSoon();
  drawStrips();
  whenIdle(() => loadAll().catch(() => {}));
}

window.addEventListener("hashchange", () => { if (!["t", "hang"].includes(location.hash.split("/")[1])) told = ""; show().then(() => window.scrollTo(0, 0)); });
window.addEventListener("online", () => sendNow());
document.addEventListener("visibilitychange", () => { if (!document.hidden) sendSoon(); });
let drawing = null;
function drawSoon() { // a shift's worth of changes is one drawing
  drawing ??= setTimeout(() => { drawing = null; drawStrips(); }, 50);
}
whenLineChanges(drawSoon);
store.whenChanged(drawSoon);
start();
