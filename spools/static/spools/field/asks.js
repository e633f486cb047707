// Questions that only a person can answer: another reading arrived, the tie-in changed, its mark is gone.

import { button, h, strip } from "./dom.js";
import * as store from "./store.js";

export function question(reading, { book, decided, correct }) {
  const { code, words, what_to_do } = reading.answer ?? {};
  const decide = (news) => async () => {
    await store.changeReading(reading.key, { state: "kept", answer: null, ...news });
    decided();
  };
  const choosing = h("div", {});
  const otherMark = button("Different place: choose its mark", () => choosing.replaceChildren(markChooser(reading, { book, decide })));
  const aside = button("Set aside", async () => { await store.changeReading(reading.key, { state: "aside" }); decided(); }, { class: "quiet" });
  return h(
    "div", { class: "asks", role: "group", "aria-label": `${reading.mark} asks` },
    strip("look", "warning", reading.mark, `${words ?? ""} ${what_to_do ?? ""}`.trim()), changes(reading, book),
    h("div", { class: "two" }, ...answers(reading, code, decide, correct), otherMark, aside), choosing,
  );
}

// What isn't a reading: whose word it is, what was said before, or what the shop refuses.
export function plainQuestion({ name, one, words, decided }) {
  const { code, words: said, what_to_do, facts } = one.answer ?? {};
  const decide = (news) => async () => { await store.changeOne(name, one.key, news); decided(); };
  const again = { state: "kept", answer: null };
  const yes = code === "other_person" ? [`Send it as ${facts.signed_in}`, { ...again, [BY[name]]: facts.signed_in }] : code === "fit_said" ? ["Say it all the same", { ...again, anyway: true }] : ["Try again", again];
  return h(
    "div", { class: "asks", role: "group", "aria-label": `${words} asks` },
    strip("look", "warning", words, `${said ?? ""} ${what_to_do ?? ""}`.trim()),
    h("div", { class: "two" }, button(yes[0], decide(yes[1])), button("Set aside", decide({ state: "aside" }), { class: "quiet" })),
  );
}

// Under which name each kind of thing keeps whose it is.
export const BY = { readings: "measured_by", checks: "checked_by", obstacles: "seen_by", fits: "seen_by" };

function answers(reading, code, decide, correct) {
  const { facts } = reading.answer ?? {};
  const seen = (news) => ({ seen: { ...reading.seen, ...news } });
  if (code === "measured_before") {
    return [
      button("Same place, measured again", decide({ again: true, as_second: false, ...seen({ revision: facts.revision }) })),
      button("Second reading, to compare", decide({ as_second: true, again: false, ...seen({ revision: facts.revision }) })),
    ];
  }
  if (code === "tie_in_changed") return [button("Still right: send it", decide(seen({ stamp: facts.stamp })))];
  if (code === "other_person") return [button(`Send it as ${facts.signed_in}`, decide({ measured_by: facts.signed_in }))];
  if (code === "invalid") return [button("Correct it", () => correct(reading))];
  return [button("Try again", decide({}))];
}

// What is different from when it was measured, as far as this phone knows both.
function changes(reading, book) {
  const now = book.tie_ins.find((one) => one.id === reading.tie_in);
  if (reading.answer?.code !== "tie_in_changed" || !now) return null;
  const rows = [["NPS", "nps"], ["Schedule", "schedule"], ["End at the main", "end_a"], ["End at the drain", "end_b"]];
  const told = rows.filter(([, name]) => reading.seen[name] !== now[name]).map(([words, name]) => `${words}: ${reading.seen[name]}, now ${now[name]}`);
  return told.length ? h("p", {}, told.join("; ")) : null;
}

function markChooser(reading, { book, decide }) {
  const list = h("ul", { class: "walk" });
  const find = h("input", { id: `find-${reading.key}`, autocomplete: "off", oninput: () => draw() });
  const draw = () => {
    const wanted = find.value.trim().toUpperCase();
    const found = book.tie_ins.filter((one) => book.jobs[one.job]?.number === reading.job && one.mark.toUpperCase().includes(wanted)).slice(0, 12);
    list.replaceChildren(...found.map((one) => h("li", {}, button(`${one.mark}, ${one.station} ${one.side}`, decide({
      mark: one.mark, tie_in: one.id, again: false, as_second: false, seen: { ...reading.seen, revision: one.revision, stamp: one.stamp },
    })))));
  };
  draw();
  return h("div", { class: "field" }, h("label", { for: `find-${reading.key}` }, "Its own mark"), find, list);
}
