// Sends what this phone keeps, each thing once and once only: its key makes a repeat harmless. Only an answer counts as sent.

import { ask, askForSignIn, content, fateOf, noSignal, say, settle } from "./line.js";
import { bodyOf } from "./reading.js";
import * as store from "./store.js";

const TRIES = 3;
const STALE_MS = 300000;
const SOON_MS = 3000;
const SLOWEST_MS = 30000;
const TOGETHER = 20; // readings in one request
const ABREAST = 3; // photos on the way at once
const LOST_IN_A_ROW = 4; // answers, before the line counts as gone
const READINGS = "/api/v1/readings/batch/";
const PHOTOS = "/api/v1/photos/new/";
const OBSTACLES = "/api/v1/obstacles/new/";
const FITS = "/api/v1/fits/new/";
const CHECKS = "/api/v1/jig-checks/new/";
const BOOK = "/field/book.json";

// A lost answer is asked for again at once: the key makes that harmless. An old CSRF cookie is renewed once.
async function post(url, body, { headers = {}, tries = TRIES } = {}) {
  let answer = null;
  for (let attempt = 0; attempt < tries && !answer; attempt += 1) answer = await ask(url, { method: "POST", headers, body });
  if (answer?.status === 403 && (await refresh())) answer = await ask(url, { method: "POST", headers, body });
  return answer;
}

const postJson = (url, body) => post(url, JSON.stringify(body), { headers: { "Content-Type": "application/json" } });

// The newest tie-ins, jigs and walks; false where they could not be had.
export async function refresh() {
  const kept = await store.fact("book");
  const answer = await ask(BOOK, { headers: kept?.etag ? { "If-None-Match": kept.etag } : {}, cache: "no-store" });
  if (!answer) return noSignal(), false;
  if (answer.type === "opaqueredirect" || answer.status === 401 || answer.status === 403) return askForSignIn();
  if (answer.status !== 200 && answer.status !== 304) return say({ online: false, words: "the shop is not answering" }), false;
  say({ online: true, signIn: false, words: "", signedIn: answer.headers.get("X-Signed-In") });
  if (answer.status === 304) return keepTime(kept, answer);
  const book = await content(answer);
  if (!book) return false;
  return keepTime({ book, etag: answer.headers.get("ETag") }, answer);
}

async function keepTime(kept, answer) {
  const offMs = Date.parse(answer.headers.get("X-Shop-Time")) - Date.now();
  await store.keepFact("book", { ...kept, fetched_at: new Date().toISOString(), clock_off_ms: offMs });
  return true;
}

let waiting = null;
let pause = SOON_MS;

const leftOf = ({ kept, checks, photos, obstacles, fits }) => kept + checks + photos + obstacles + fits;

// Sends now and, while something is left, again by itself: soon while it gets on, ever slower while it doesn't.
export async function sendSoon() {
  clearTimeout(waiting);
  const before = leftOf(await store.counts());
  await oneAtATime(sendAll);
  const left = leftOf(await store.counts());
  pause = left < before ? SOON_MS : Math.min(pause * 1.6, SLOWEST_MS);
  if (left > 0) waiting = setTimeout(sendSoon, document.hidden ? SLOWEST_MS : pause);
  else pause = SOON_MS;
}

// A person asks, or the signal is back: a try that is under way is waited for, and another follows it at once.
export async function sendNow() {
  pause = SOON_MS;
  await (navigator.locks ? navigator.locks.request("field-book-send", () => true) : busy);
  return sendSoon();
}

let busy = null;
// One tab sends; where the phone has no locks, one call of this tab does.
async function oneAtATime(work) {
  if (navigator.locks) return navigator.locks.request("field-book-send", { ifAvailable: true }, (lock) => (lock ? work() : true));
  busy ??= work().finally(() => { busy = null; });
  return busy;
}

async function sendAll() {
  if (leftOf(await store.counts()) > 0) {
    // What doesn't fit goes before the new reading of its tie-in: that one then builds it again.
    if (!((await sendChecks()) && (await sendObstacles()) && (await sendFits()) && (await sendReadings()) && (await sendPhotos()))) return false;
    return refresh();
  }
  const kept = await store.fact("book");
  return kept && Date.now() - Date.parse(kept.fetched_at) < STALE_MS ? true : refresh();
}

const sendChecks = () => sendEach("checks", CHECKS, ({ key, jig, checked_at, checked_by, positions }) => ({ key, jig, checked_at, checked_by, positions }));
const sendObstacles = () => sendEach("obstacles", OBSTACLES, ({ key, job, mark, why, note, seen_at, seen_by }) => ({ key, job, mark, why, note, seen_at, seen_by }));
const sendFits = () => sendEach("fits", FITS, ({ key, spool, how, note, seen_at, seen_by, anyway }) => ({ key, spool, how, note, seen_at, seen_by, anyway }));

// One after the other, as they were said.
async function sendEach(name, url, bodyFor) {
  for (const one of (await store[name]()).filter(({ state }) => state === "kept")) {
    const fate = await settle(await postJson(url, bodyFor(one)));
    if (fate.wait) return false;
    await store.changeOne(name, one.key, { state: fate.sent ? "sent" : "asks", answer: fate.body });
  }
  return true;
}

// In the order they were taken, a pageful in a request; those kept meanwhile come along.
async function sendReadings() {
  const tried = new Set();
  for (;;) {
    const some = (await store.readings()).filter((one) => one.state === "kept" && !tried.has(one.key)).slice(0, TOGETHER);
    if (!some.length) return true;
    some.forEach((one) => tried.add(one.key));
    const fate = await settle(await postJson(READINGS, { readings: some.map(bodyOf) }));
    if (fate.wait) return false;
    const at = new Date().toISOString();
    const answers = fate.sent ? fate.body.answers.map(({ status, body }) => fateOf(status, body)) : some.map(() => fate);
    const told = some.map(({ key }, place) => [key, answers[place]]).filter(([, one]) => !one.wait);
    await store.changeReadings(told.map(([key, { sent, body }]) => [key, { state: sent ? "sent" : "asks", answer: body, sent_at: sent ? at : null }]));
  }
}

// A few at once; one whose answer was lost goes to the end of the line, and the line counts as gone only when nothing
// comes back any more.
async function sendPhotos() {
  const said = (await Promise.all([store.readings(), store.obstacles(), store.fits()])).flat();
  const sent = new Set(said.filter((one) => one.state === "sent").map((one) => one.key));
  const open = await store.unsentPhotos();
  const walk = { lost: 0, stopped: false };
  const work = async () => {
    while (open.length && !walk.stopped) {
      const key = open.shift();
      const photo = await store.photo(key);
      if (!sent.has(photo.reading_key)) continue; // what it is of goes first
      const answer = await post(PHOTOS, formOf(photo), { tries: 1 });
      walk.lost = answer ? 0 : walk.lost + 1;
      if (!answer && walk.lost < LOST_IN_A_ROW) open.push(key);
      else if (!(await settlePhoto(key, answer))) walk.stopped = true;
    }
  };
  await Promise.all(Array.from({ length: ABREAST }, work));
  return !walk.stopped;
}

function formOf({ key, of, reading_key, taken_at, bytes, type }) {
  const form = new FormData();
  Object.entries({ key, of: of ?? "reading", reading_key, taken_at, size: bytes.byteLength }).forEach(([name, value]) => form.append(name, value));
  form.append("photo", new Blob([bytes], { type }), "photo");
  return form;
}

async function settlePhoto(key, answer) {
  const fate = await settle(answer);
  if (fate.wait) return false;
  if (fate.sent) await store.photoSent(key, { sha256: fate.body.sha256 });
  else await store.changePhoto(key, { state: "asks", answer: fate.body });
  return true;
}
