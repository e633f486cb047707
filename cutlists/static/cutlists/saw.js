// The saw on the tablet: a tap is kept here first, the next piece comes up at once, and the shop hears of it when it can.

import * as outbox from "../spools/tablet/outbox.js";
import { showOutbox } from "../spools/tablet/kept.js";
import { no, stayAwake, yes } from "../spools/tablet/signs.js";

const names = document.querySelector("[data-names]");
const saw = () => document.getElementById("saw");
const waits = (tap) => ["waiting", "sign_on"].includes(tap.state);
let pending = [];

const who = () => names?.querySelector("[aria-pressed=true]")?.form?.dataset.press ?? "";

// What is tapped makes room for the next piece of the bar, with or without the network.
function place() {
  const tapped = new Set(pending.filter(waits).map((tap) => tap.cut));
  const cards = [...saw().querySelectorAll(".hand[data-cut]")];
  const next = cards.find((card) => !tapped.has(card.dataset.cut));
  for (const card of cards) card.hidden = card !== next;
  const done = document.getElementById("all-tapped");
  if (done) done.hidden = Boolean(next) || !cards.length;
  // What is about the next piece of the page as it was drawn waits until the page is drawn again.
  const about = document.getElementById("about-next");
  if (about) about.hidden = next !== cards[0];
}

async function renew() {
  pending = await outbox.taps();
  showOutbox(document.getElementById("outbox"), pending);
  place();
}

async function tapped(form) {
  const data = new FormData(form);
  const skip = new Set(["csrfmiddlewaretoken", "key"]);
  const tap = {
    key: data.get("key"),
    path: form.action,
    fields: [...data].filter(([name]) => !skip.has(name)),
    who: who(),
    cut: form.closest("[data-cut]").dataset.cut,
    words: form.dataset.words,
    done_at: new Date().toISOString(),
  };
  try {
    if (await outbox.keep(tap)) yes();
  } catch {
    HTMLFormElement.prototype.submit.call(form); // nothing can be kept on this tablet: it goes straight to the shop
    return;
  }
  outbox.sendSoon();
}

// Drawn anew once the shop has everything, never while something is on its way.
function drawAgain() {
  if (!pending.some(waits)) window.htmx.ajax("GET", saw().dataset.address, { target: "#saw", swap: "outerHTML show:none" });
}

async function press(form) {
  for (const button of names.querySelectorAll("[aria-pressed]")) {
    button.setAttribute("aria-pressed", String(button.form === form));
  }
  try {
    await fetch(form.action, { method: "POST", body: new FormData(form), redirect: "manual", credentials: "same-origin" });
  } catch {
    return; // each tap says whose it is
  }
  drawAgain();
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.matches("[data-tap]")) tapped(form);
  else if (form.matches("[data-press]")) press(form);
  else return;
  event.preventDefault();
});
document.addEventListener("htmx:afterSwap", place);
outbox.when("changed", renew);
outbox.when("answered", async ({ state }) => {
  if (state !== "kept" && state !== "first") no();
  await renew();
  drawAgain();
});
stayAwake();
outbox.retrySignOns().then(renew).then(outbox.sendSoon);
