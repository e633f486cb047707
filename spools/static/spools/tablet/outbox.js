// Taps wait here until the shop has them: on the disk before anything says so, sent in their order, each by its own key,
// so that a repeat adds nothing. Only an answer takes a tap out.

const LIMIT_MS = 15000;
const TRIES = 3;
const AGAIN_MS = 4000;
const SLOWEST_MS = 30000;

let opening = null;
const database = () => (opening ??= globalThis.idb.openDB("tablet", 1, {
  upgrade: (db) => db.createObjectStore("taps", { keyPath: "key" }),
  terminated: () => { opening = null; },
}));

const listeners = { changed: new Set(), answered: new Set() };
export const when = (what, listener) => listeners[what].add(listener);
const tell = (what, detail) => listeners[what].forEach((listener) => listener(detail));

const told = "BroadcastChannel" in globalThis ? new BroadcastChannel("tablet") : null;
told?.addEventListener("message", () => tell("changed"));

async function write(work) {
  const transaction = (await database()).transaction("taps", "readwrite", { durability: "strict" });
  await Promise.all([work(transaction.store), transaction.done]);
  told?.postMessage("changed");
  tell("changed");
}

export async function taps() {
  const all = await (await database()).getAll("taps");
  return all.sort((one, other) => one.done_at.localeCompare(other.done_at) || one.key.localeCompare(other.key));
}

// False for a second tap of the same key: it is there already.
export async function keep(tap) {
  try {
    await write((store) => store.add({ ...tap, state: "waiting", tries: 0 }));
    return true;
  } catch (trouble) {
    if (trouble.name === "ConstraintError" || trouble.name === "AbortError") return false;
    throw trouble;
  }
}

export const drop = (key) => write((store) => store.delete(key));

export async function change(key, news) {
  await write(async (store) => {
    const tap = await store.get(key);
    if (tap) await store.put({ ...tap, ...news });
  });
}

const cookie = (name) => document.cookie.split("; ").find((one) => one.startsWith(`${name}=`))?.slice(name.length + 1) ?? "";

function bodyOf(tap) {
  const body = new FormData();
  for (const [name, value] of tap.fields) body.append(name, value?.bytes ? new Blob([value.bytes], { type: value.type }) : value);
  body.append("key", tap.key);
  if (tap.who) body.append("who", tap.who);
  body.append("done_at", tap.done_at);
  body.append("sent_at", new Date().toISOString());
  return body;
}

// A lost answer is asked for again at once: the key makes that harmless.
async function post(tap) {
  let answer = null;
  for (let attempt = 0; attempt < TRIES && !answer; attempt += 1) answer = await once(tap);
  return answer;
}

async function once(tap) {
  try {
    return await fetch(tap.path, {
      method: "POST", body: bodyOf(tap), credentials: "same-origin", redirect: "manual",
      headers: { Accept: "application/json", "X-CSRFToken": cookie("csrftoken") },
      signal: AbortSignal.timeout ? AbortSignal.timeout(LIMIT_MS) : undefined,
    });
  } catch {
    return null;
  }
}

export const line = { words: "" };
let pause = AGAIN_MS;
let again = null;

// Sends now and, while something waits, again by itself.
export async function sendSoon() {
  clearTimeout(again);
  const done = await oneAtATime(sendAll);
  pause = done ? AGAIN_MS : Math.min(pause * 1.5, SLOWEST_MS);
  if ((await taps()).some((tap) => tap.state === "waiting")) again = setTimeout(sendSoon, pause);
}

let busy = null;
// One page of the tablet sends at a time; without a lock in the browser, one call of this page does.
function oneAtATime(work) {
  if (navigator.locks) return navigator.locks.request("tablet-send", work);
  busy = (busy ?? Promise.resolve()).then(work, work);
  return busy;
}

async function sendAll() {
  for (;;) {
    const waiting = (await taps()).filter((one) => one.state === "waiting");
    const tap = waiting.find((one) => !one.late) ?? waiting[0]; // photos are long on a bad line: taps go before them
    if (!tap) return say(""), true;
    await change(tap.key, { tries: tap.tries + 1 });
    if (!(await settle(tap, await post(tap)))) return false;
  }
}

// No answer, 5xx, 429: it waits. Signed out: it waits and says so. Anything else is an answer.
async function settle(tap, answer) {
  if (!answer) return say("no network"), false;
  if (answer.status >= 500 || answer.status === 429) return say("the shop is not answering"), false;
  if (answer.type === "opaqueredirect" || answer.status === 401) return say("sign in to send"), false;
  const body = await answer.json().catch(() => null);
  if (!body?.state) return say(answer.status === 403 ? "load the page again to send" : "the answer broke off"), false;
  if (answer.ok && body.state !== "first") await drop(tap.key);
  else await change(tap.key, { state: body.code === "sign_on" ? "sign_on" : body.state, answer: body });
  say("");
  tell("answered", { tap, state: body.state, body });
  return true;
}

function say(words) {
  if (line.words === words) return;
  line.words = words;
  tell("changed");
}

// Those that wait for somebody to sign on again are tried anew when the page is loaded.
export async function retrySignOns() {
  for (const tap of await taps()) if (tap.state === "sign_on") await change(tap.key, { state: "waiting" });
}

addEventListener("online", sendSoon);
