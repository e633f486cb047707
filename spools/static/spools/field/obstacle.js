// Can't measure: four reasons by one tap, what is there in words or as a photo, and on to the next one.

import { button, h, sayPipe, strip } from "./dom.js";
import { photoPart } from "./photos.js";
import * as store from "./store.js";

const ASKS = { wrong_size: "What size is there?" };

export async function openObstacle(root, { book, tieIn, afterReport }) {
  const name = `cant/${tieIn.id}`;
  let said = (await store.draftOf(name)) ?? { tie_in: name, of: "obstacle", key: store.freshKey(), why: "", note: "" };
  const foot = h("div", { class: "foot" });
  const photos = h("div", {});
  const note = h("input", { id: "obstacle-note", maxlength: 300, autocomplete: "off", value: said.note, oninput: () => change({ note: note.value }) });
  const label = h("label", { for: "obstacle-note" });
  const change = (news) => { said = { ...said, ...news }; draw(); return store.keepDraft(said); };
  const choices = Object.entries(book.whys).map(([why, words]) => button(words[0].toUpperCase() + words.slice(1), () => change({ why }), { "data-why": why }));
  const draw = () => {
    choices.forEach((one) => one.setAttribute("aria-pressed", String(one.dataset.why === said.why)));
    label.replaceChildren(ASKS[said.why] ?? "What is there (if there is more to say)");
    foot.replaceChildren(h("div", { class: "keep" }, button("Say so, next", report, { class: "deed open", id: "report" })));
  };
  const told = h("div", {});
  const say = (words) => told.replaceChildren(strip("look", "warning", "Look", words));
  const drawPhotos = async () => photos.replaceChildren(await photoPart(() => said, { say, redraw: drawPhotos }));
  const report = async () => {
    const missing = missingWords(said);
    if (missing) return say(missing);
    const obstacle = {
      key: said.key, draft: name, tie_in: tieIn.id, job: book.jobs[tieIn.job].number, mark: tieIn.mark, why: said.why,
      note: said.note.trim(), seen_at: new Date().toISOString(), seen_by: book.person.username, seen_by_name: book.person.name, state: "kept",
    };
    try {
      await store.keepObstacle(obstacle);
    } catch (trouble) {
      return say(`Not kept: this phone refused (${trouble.name}). Free some space, then tap again.`);
    }
    return afterReport(obstacle);
  };
  root.replaceChildren(
    h("div", { class: "tie-in" }, h("h1", { class: "mark" }, tieIn.mark), h("p", { class: "where" }, h("b", {}, `${tieIn.station} ${tieIn.side}`), ` ${tieIn.main} · ${sayPipe(tieIn)}`)),
    h("h2", {}, "Why can't it be measured?"), h("div", { class: "two whys", role: "group", "aria-label": "Why" }, choices),
    h("div", { class: "field" }, label, note), photos, told,
    h("p", { class: "actions" }, h("a", { class: "button quiet", href: `#/t/${tieIn.id}` }, "Measure it after all")),
    foot,
  );
  draw();
  await drawPhotos();
}

function missingWords({ why, note }) {
  if (!why) return "Tap what stands in the way.";
  return why === "wrong_size" && !note.trim() ? "Write the size that is there, so that the office can change it." : "";
}
