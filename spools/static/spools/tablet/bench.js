// The bench page: a tap is kept on the tablet, the next thing to do comes up at once, and the shop hears of it when it can.

import * as outbox from "./outbox.js";
import { checkReads, openPad } from "./check.js";
import { showOutbox } from "./kept.js";
import { startScanner } from "./scan.js";
import { no, stayAwake, yes } from "./signs.js";

const live = document.getElementById("live");
const names = document.querySelector("[data-names]");
const look = document.getElementById("look-up");
let shown = null; // the spool in hand
let sought = ""; // what was typed or scanned and the shop has not answered yet
let touched = 0; // when somebody last laid a finger on the page
let pending = [];

const cards = () => [...live.querySelectorAll(".hand")];
const stepsOf = (card) => [...card.querySelectorAll("form[data-step]")];
const who = () => names?.querySelector("[aria-pressed=true]")?.form?.dataset.press ?? "";

// Only steps that are not tapped yet are offered; a card with nothing left makes room for the next.
function place() {
  for (const card of cards()) {
    const mine = pending.filter((tap) => tap.spool === card.dataset.spool && ["waiting", "sign_on"].includes(tap.state));
    const tapped = new Set(mine.filter((tap) => !tap.target).map((tap) => tap.step));
    const forms = stepsOf(card);
    const head = forms.find((form) => !tapped.has(form.dataset.step));
    forms.forEach((form) => { form.hidden = form !== head; });
    for (const button of card.querySelectorAll("button[name=target]")) {
      button.disabled = mine.some((tap) => tap.target === button.value && tap.step === button.form.dataset.step);
    }
    card.toggleAttribute("data-done", tapped.size > 0 && !head);
  }
  const open = cards().filter((card) => !card.hasAttribute("data-done"));
  const inHand = open.find((card) => card.dataset.spool === shown) ?? open[0];
  shown = inHand?.dataset.spool ?? null;
  cards().forEach((card) => { card.hidden = card !== inHand; });
  const empty = document.getElementById("no-hand");
  if (empty) empty.hidden = Boolean(inHand);
  if (inHand) ask(inHand);
}

async function renew() {
  pending = await outbox.taps();
  showOutbox(document.getElementById("outbox"), pending, inFront);
  place();
}

// The spool of a tap comes back in hand, because the shop asks something about it.
function inFront(tap) {
  shown = tap.spool;
  place();
  if (shown !== tap.spool) take(tap.words.split(":")[0]);
}

async function tapped(form, submitter) {
  const data = new FormData(form, submitter);
  const target = submitter?.name === "target" ? submitter.value : "";
  const skip = new Set(["csrfmiddlewaretoken", "key"]);
  const tap = {
    key: target ? `${data.get("key")}-${target}` : data.get("key"),
    path: form.action,
    fields: [...data].filter(([name]) => !skip.has(name)),
    who: who(), spool: data.get("spool"), step: data.get("step") ?? "", target,
    words: target ? `${form.dataset.words} ${target}` : form.dataset.words,
    done_at: new Date().toISOString(),
  };
  if (await outbox.keep(tap)) yes();
  delete live.dataset.path;
  sought = "";
  if (data.get("undo")) form.querySelector("button").disabled = true;
  outbox.sendSoon();
}

// A question that came back: it stands on the card, under the deed, until it is answered.
function ask(card) {
  const place = card.querySelector("[data-asked]");
  const tap = pending.find((one) => one.spool === card.dataset.spool && one.state === "asks");
  if (!tap) return place.replaceChildren();
  if (place.dataset.key === tap.key) return undefined;
  place.dataset.key = tap.key;
  const reason = tap.answer.code === "check_off";
  place.innerHTML = `<div class="strip look" role="alert"><b></b><span class="rest"></span></div>
    ${reason ? '<label>Because <input name="reason" maxlength="300"></label>' : ""}
    <p class="actions"><button class="main" type="button" data-yes></button><button type="button" data-no></button></p>`;
  place.querySelector("b").textContent = tap.answer.words;
  place.querySelector(".rest").textContent = tap.answer.what_to_do;
  place.querySelector("[data-yes]").textContent = tap.answer.yes || "Accept it all the same";
  place.querySelector("[data-no]").textContent = tap.answer.no || "Measure again";
  place.querySelector("[data-yes]").addEventListener("click", () => answerYes(tap, place));
  place.querySelector("[data-no]").addEventListener("click", () => { delete place.dataset.key; outbox.drop(tap.key); });
  return undefined;
}

async function answerYes(tap, place) {
  const reason = place.querySelector("[name=reason]")?.value.trim();
  if (reason === "") return place.querySelector("[name=reason]").focus();
  const more = { check_off: ["reason", reason], depends: ["also", "yes"] }[tap.answer.code] ?? ["already", "yes"];
  delete place.dataset.key;
  place.replaceChildren();
  await outbox.change(tap.key, { state: "waiting", fields: [...tap.fields, more] });
  return outbox.sendSoon();
}

// A name on top is pressed: taps are theirs from now on, with or without the network.
async function press(form) {
  names.querySelectorAll("[aria-pressed]").forEach((button) => button.setAttribute("aria-pressed", String(button.form === form)));
  try {
    await fetch(form.action, { method: "POST", body: new FormData(form), redirect: "manual", credentials: "same-origin" });
  } catch {
    return; // each tap says whose it is
  }
  live.dispatchEvent(new Event("live-force"));
}

const cardOf = (code) => cards().find((one) => one.dataset.finds.split(" ").includes(code));

// Takes a spool in hand by what was typed or scanned: from the cards, else from the shop.
function take(text) {
  const found = text.trim().toLowerCase();
  if (!found) return;
  const code = /s\d+-[a-z]{1,3}/.exec(found)?.[0] ?? found;
  const card = cardOf(code);
  sought = card ? "" : code;
  if (card) {
    shown = card.dataset.spool;
    place();
  } else {
    shown = null;
    live.dataset.path = `?mark=${encodeURIComponent(code)}`;
    live.dispatchEvent(new Event("live-force"));
  }
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.matches("[data-tap]")) tapped(form, event.submitter);
  else if (form.matches("[data-press]")) press(form);
  else if (form === look) take(form.elements.mark.value), (form.elements.mark.value = "");
  else return;
  event.preventDefault();
});
live.addEventListener("click", (event) => {
  const card = event.target.closest(".hand");
  if (event.target.closest("[data-skip]")) {
    const open = cards().filter((one) => !one.hasAttribute("data-done"));
    shown = open[(open.indexOf(card) + 1) % open.length]?.dataset.spool;
    place();
  }
  const chosen = event.target.closest("[data-take]");
  const ready = chosen && cards().find((one) => one.dataset.spool === chosen.dataset.take);
  if (ready) {
    event.preventDefault();
    shown = ready.dataset.spool;
    place();
    ready.scrollIntoView();
  }
  if (event.target.closest("[data-pad]")) openPad(event.target.closest(".c-is"));
});
for (const kind of ["pointerdown", "keydown"]) {
  document.addEventListener(kind, () => { touched = Date.now(); }, { passive: true, capture: true });
}
live.addEventListener("input", (event) => checkReads(event.target));
live.addEventListener("live-renewed", (event) => {
  const { whole, asked } = event.detail;
  const card = sought && cardOf(sought);
  if (card) shown = card.dataset.spool;
  else if (whole && !cards().some((one) => one.dataset.spool === shown)) shown = null;
  if (card || asked) sought = "";
  place();
});
outbox.when("changed", renew);
outbox.when("answered", async ({ tap, state }) => {
  if (state === "kept" || state === "first") return live.dispatchEvent(new Event("live-force"));
  no();
  await renew();
  // Nobody has turned to the next spool yet: the question comes to them, however slow the line.
  return state === "asks" && touched <= Date.parse(tap.done_at) ? inFront(tap) : undefined;
});
startScanner(document.getElementById("scan"), document.getElementById("camera"), take);
stayAwake();
outbox.retrySignOns().then(renew).then(outbox.sendSoon);
