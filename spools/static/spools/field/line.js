// The line to the shop: one question and its answer, or null where none came in time; what the page says of it.

const LIMIT_MS = 15000;

export const line = { words: "", signIn: false, online: null, signedIn: null };
const listeners = new Set();
export const whenLineChanges = (listener) => listeners.add(listener);

export function say(news) {
  Object.assign(line, news);
  listeners.forEach((listener) => listener());
}

const cookie = (name) => document.cookie.split("; ").find((one) => one.startsWith(`${name}=`))?.slice(name.length + 1) ?? "";

export async function ask(url, options = {}) {
  try {
    const headers = { Accept: "application/json", ...options.headers };
    if (options.method === "POST") headers["X-CSRFToken"] = cookie("csrftoken"); // read now: the page may be a week old
    const signal = AbortSignal.timeout ? AbortSignal.timeout(LIMIT_MS) : undefined;
    return await fetch(url, { credentials: "same-origin", redirect: "manual", signal, ...options, headers });
  } catch {
    return null;
  }
}

export async function content(answer) {
  try {
    return await answer.json();
  } catch {
    return null; // the line broke in the middle of the answer
  }
}

export function askForSignIn() {
  say({ online: true, signIn: true, words: "sign in to send" });
  return false;
}

export function noSignal() {
  say({ online: false, words: "no signal" });
  return { wait: true };
}

export function countWords({ kept, sent, asks, checks, photos, obstacles, fits }) {
  const also = [
    photos && `${photos} photo${photos > 1 ? "s" : ""}`, checks && `${checks} jig check${checks > 1 ? "s" : ""}`,
    obstacles && `${obstacles} that can't be measured`, fits && `${fits} spool${fits > 1 ? "s" : ""} hung`,
  ].filter(Boolean).join(" and ");
  const asking = asks ? `, ${asks} ask${asks > 1 ? "" : "s"} for a decision` : "";
  return `${kept} kept on this phone, ${sent} sent${asking}${also ? `; ${also} to send` : ""}`;
}

// What became of one thing: { sent, body }, { wait } to be tried again later, or a question for a person.
// 2xx: the shop has it. No answer, 5xx, 429: wait. 401, 403: sign in.
export async function settle(answer) {
  if (!answer) return noSignal();
  if (answer.type === "opaqueredirect") return askForSignIn(), { wait: true };
  const body = await content(answer);
  if (answer.ok && !body) return noSignal();
  if (answer.ok) say({ online: true, signIn: false, words: "" });
  return fateOf(answer.status, body);
}

export function fateOf(status, body) {
  if (status >= 500 || status === 429) return say({ words: "the shop is not answering" }), { wait: true };
  if (status === 401 || (status === 403 && body?.code !== "not_your_role")) return askForSignIn(), { wait: true };
  if (status < 300) return { sent: true, body };
  return { sent: false, body: body?.code ? body : { code: "refused", words: plain(body), what_to_do: "Show this to the office." } };
}

function plain(body) {
  const said = Object.entries(body ?? {}).map(([name, words]) => `${name}: ${[words].flat().join(" ")}`).join("; ");
  return said ? `The shop did not take it: ${said}`.slice(0, 300) : "The shop did not take it.";
}
