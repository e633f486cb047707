// What this tablet keeps and has not sent, and what came back: said in words until somebody has seen it.

import * as outbox from "./outbox.js";
import { button, h, strip } from "../field/dom.js";

const SOON_MS = 3000; // a tap on its way is no news
const seen = (tap) => button("Seen", () => outbox.drop(tap.key));

export function showOutbox(place, taps, answer, device = "tablet") {
  const waiting = taps.filter((tap) => tap.state === "waiting");
  const unsent = waiting.length && (outbox.line.words || waiting.some((tap) => Date.now() - Date.parse(tap.done_at) > SOON_MS));
  const lines = [];
  if (unsent) lines.push(notSent(waiting, device));
  for (const tap of taps.filter((one) => one.state === "sign_on")) {
    lines.push(strip("look", "not_sent", "Not sent", `${tap.words}: ${tap.answer.words} ${tap.answer.what_to_do}`));
  }
  for (const tap of taps.filter((one) => one.state === "asks")) {
    lines.push(strip("look", "warning", "Asks", `${tap.words}: ${tap.answer.words}`, button("Answer", () => answer(tap))));
  }
  for (const tap of taps.filter((one) => one.state === "refused")) {
    lines.push(strip("stop", "error", "Not done", `${tap.words}: ${tap.answer.words} ${tap.answer.what_to_do}`, seen(tap)));
  }
  for (const tap of taps.filter((one) => one.state === "first")) {
    lines.push(strip("told", "done", "Done already", tap.answer.words, seen(tap)));
  }
  place.replaceChildren(...lines);
}

function notSent(waiting, device) {
  const words = `${waiting.map((tap) => tap.words).join("; ")}. Kept on this ${device}${outbox.line.words ? `, ${outbox.line.words}` : ""}.`;
  const last = waiting.at(-1);
  const back = last.tries === 0 ? [button("Take the last one back", () => outbox.drop(last.key))] : [];
  return h("div", { "data-unsent": String(waiting.length) }, strip("look", "not_sent", `NOT SENT: ${waiting.length}`, words, ...back));
}
