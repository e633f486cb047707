// What is on this phone: kept, sent, asking, set aside; send now, save as a file, whether the phone promises to keep it.

import { BY, plainQuestion, question } from "./asks.js";
import { button, clock, h, shape, strip } from "./dom.js";
import { handOverFile, save, takeOver } from "./handover.js";
import { countWords, line } from "./line.js";
import { stateOf } from "./list.js";
import { emptyDraft } from "./reading.js";
import { sendNow, sendSoon } from "./send.js";
import * as store from "./store.js";

const SENT_SHOWN = 50;

export async function openKept(root, { book, show }) {
  const [readings, counted, checks, refused, obstacles, fits] = await Promise.all([store.readings(), store.counts(), store.checks(), store.photosAsking(), store.obstacles(), store.fits()]);
  const others = {
    checks: checks.map((one) => [one, `Jig ${one.jig} checked`]), obstacles: obstacles.map((one) => [one, `${one.mark} can't be measured`]),
    fits: fits.map((one) => [one, `${one.label} ${one.how === "fits" ? "fits" : "doesn't fit"}`]),
  };
  const asking = Object.entries(others).flatMap(([name, all]) => all.filter(([one]) => one.state === "asks").map(([one, words]) => ({ name, one, words })));
  const having = (state) => readings.filter((one) => one.state === state).reverse();
  const decided = () => { sendNow().then(show); show(); }; // and what the shop answers
  const correct = async (reading) => {
    const tieIn = book.tie_ins.find((one) => one.id === reading.tie_in);
    const { texts, hand, up_mark, note, measured_to_a, measured_to_b } = reading;
    await store.keepDraft({ ...emptyDraft(tieIn), texts, hand, up_mark, note, measured_to_a, measured_to_b });
    await store.changeReading(reading.key, { state: "aside" });
    location.hash = `#/t/${reading.tie_in}`;
  };
  root.replaceChildren(...[
    h("h1", {}, "On this phone"),
    h("p", { class: "sentence" }, countWords(counted)),
    allAsMe([...having("asks").map((one) => ({ name: "readings", one })), ...asking], decided),
    ...having("asks").map((one) => question(one, { book, decided, correct })),
    ...asking.map((one) => plainQuestion({ ...one, decided })),
    ...refused.map((photo) => strip("look", "warning", "Photo", `${photo.answer?.words ?? ""} ${photo.answer?.fields?.photo ?? ""}`, button("Try again", async () => {
      await store.changePhoto(photo.key, { state: "kept", answer: null });
      decided();
    }))),
    h("div", { class: "actions" }, button("Send now", () => sendNow().then(show), { class: "main" })),
    ...signIn(),
    part("Kept, not sent", having("kept")), saidList("Said, not sent", others, "kept"),
    part("Sent", having("sent").slice(0, SENT_SHOWN)), aside(having("aside"), show), saidList("Said, set aside, not sent", others, "aside", decided),
    handOver(book), await thisPhone(), await promise(),
  ].filter(Boolean));
}

const signIn = () => (line.signIn ? [h("a", { class: "button main", href: `/sign-in/?next=${encodeURIComponent("/field/book/#/phone")}` }, "Sign in to send")] : []);

function part(words, readings) {
  if (!readings.length) return h("p", { class: "soft" }, `${words}: none`);
  return h("section", {}, h("h2", {}, `${words} `, h("span", { class: "count" }, String(readings.length))), h("ul", { class: "walk kept" }, readings.map(row)));
}

// What was said here that isn't a reading, while the shop doesn't have it.
function saidList(head, others, state, decided) {
  const rows = Object.entries(others).flatMap(([name, all]) => all.filter(([one]) => one.state === state).map(([one, words]) => [name, one, words]));
  if (!rows.length) return null;
  const when = (one) => `${clock(one.seen_at ?? one.checked_at)}${one.seen_by_name ? ` by ${one.seen_by_name}` : ""}`;
  const back = (name, one) => button("Put back", async () => { await store.changeOne(name, one.key, { state: "kept", answer: null }); decided(); });
  const row = ([name, one, words]) => h("li", {}, shape(state === "kept" ? "not_sent" : "not_needed"), h("span", {}, `${words}, ${when(one)}`), decided ? back(name, one) : null);
  return h("section", {}, h("h2", {}, head), h("ul", { class: "this-phone" }, rows.map(row)));
}

function row(reading, ...more) {
  const [mark] = stateOf(reading);
  const { leg_a, leg_b, included, closing } = reading.texts;
  return h(
    "li", {}, h("span", { class: "mark" }, reading.mark),
    h("span", {}, `A ${leg_a}, B ${leg_b}, ${included} included${closing ? `, C ${closing}` : ""}`, h("small", {}, `${clock(reading.taken_at)} by ${reading.measured_by_name}, jig ${reading.jig}`), h("small", {}, fate(reading))),
    h("span", { class: "state" }, shape(mark)), ...more.filter((one) => one instanceof Node),
  );
}

function fate({ state, answer, closes }) {
  if (state !== "sent") return closes ? "closes" : "kept for the foreman";
  if (answer.spool) return `reading ${answer.letter}: closes, its spool is released`;
  const why = answer.findings.find((one) => one.level !== "caution")?.text ?? "";
  return `reading ${answer.letter}: kept for the foreman. ${why}`;
}

function aside(readings, show) {
  if (!readings.length) return null;
  const back = (reading) => button("Put back", async () => { await store.changeReading(reading.key, { state: "kept", answer: null }); show(); });
  return h("section", {}, h("h2", {}, "Set aside, not sent"), h("ul", { class: "walk kept" }, readings.map((one) => row(one, back(one)))));
}

// What a phone must be able to do for a day without signal, and whether this one does.
async function thisPhone() {
  const secure = globalThis.isSecureContext;
  const stored = secure && Boolean((await navigator.serviceWorker?.getRegistration("/field/"))?.active);
  const facts = [
    [secure, "the address is secure", "the address is not secure: no offline page, no camera. Ask the office for the https address"],
    [stored, "the page is stored: it opens with no signal", "the page is not stored: keep this tab open, or load it once more where there is signal"],
  ];
  return h("section", {}, h("h2", {}, "This phone"), h("ul", { class: "this-phone" }, facts.map(([is, yes, no]) => h("li", {}, shape(is ? "done" : "warning"), ` ${is ? yes : no}`))));
}

async function promise() {
  const kept = (await navigator.storage?.persisted?.()) ?? false;
  if (kept) return h("p", { class: "soft" }, "This phone promises to keep what is here until you clear it.");
  const ask = button("Ask this phone to keep it", async (event) => {
    const given = await navigator.storage?.persist?.();
    event.target.replaceWith(given ? "This phone promises to keep it." : "It gives no promise: add this page to the home screen, and send as soon as there is signal.");
  });
  return h("div", {}, h("p", { class: "soft" }, "The phone has not promised to keep this through weeks without use."), navigator.storage?.persist ? ask : null);
}

// For a phone that is left behind, wet or out of battery: what it kept goes on from another one.
function handOver(book) {
  const told = h("p", { role: "status" });
  const input = h("input", {
    type: "file", accept: "application/json,.json", id: "take-over", class: "spoken",
    onchange: async () => {
      try {
        told.replaceChildren();
        const { readings, obstacles, fits, photos, known } = await takeOver(input.files[0]);
        told.replaceChildren(`Taken over: ${readings} reading${readings === 1 ? "" : "s"}, ${photos} photo${photos === 1 ? "" : "s"}${obstacles ? `, ${obstacles} that can't be measured` : ""}${fits ? `, ${fits} hung` : ""}${known ? `; ${known} were here already` : ""}.`);
        sendSoon();
      } catch (trouble) {
        told.replaceChildren(trouble.message);
      }
      input.value = "";
    },
  });
  const share = async () => {
    try {
      await navigator.share({ files: [await handOverFile(book.person)] });
    } catch (trouble) {
      if (trouble.name !== "AbortError") told.replaceChildren("This phone can't share it: save it as a file.");
    }
  };
  return h(
    "section", {}, h("h2", {}, "Second phone"),
    h("p", { class: "soft" }, "Give what is not sent to another phone, photos too. Both may send it: it counts once."),
    h("div", { class: "actions" },
      button("Save as a file", () => save(book)), navigator.share ? button("Share it", share) : null,
      input, h("label", { for: "take-over", class: "button" }, "Take over a file"),
      h("a", { class: "button", href: "#/show" }, "Show as codes"), h("a", { class: "button", href: "#/scan" }, "Scan codes")),
    told,
  );
}

// Many of one kind are one decision: what another one measured, sent from here.
function allAsMe(asking, decided) {
  const others = asking.filter(({ one }) => one.answer?.code === "other_person");
  if (others.length < 2) return null;
  const me = others[0].one.answer.facts.signed_in;
  return button(`Send all ${others.length} as ${me}`, async () => {
    for (const [name, by] of Object.entries(BY)) {
      await store.changeAll(name, others.filter((one) => one.name === name).map(({ one }) => [one.key, { state: "kept", answer: null, [by]: me }]));
    }
    decided();
  }, { class: "main" });
}
