// Asked by picture: what each leg was measured to, which way the drain leg turns, where the up mark is.

import { h, picture } from "./dom.js";

const HANDS = [["left", "turns left"], ["right", "turns right"], ["up", "turns up"], ["down", "turns down"]];
const UP_MARKS = [["up mark on leg A", "on leg A"], ["up mark on leg B", "on leg B"]];

export function chooser(legend, name, choices, chosen, onchoose) {
  return h(
    "fieldset", { class: "asked" }, h("legend", {}, legend),
    h("div", { class: "choices" }, choices.map(([value, words, image]) => h(
      "label", {},
      h("input", { type: "radio", name, value, checked: value === chosen, onchange: () => onchoose(value) }),
      image ? picture(image) : null, h("span", {}, words),
    ))),
  );
}

export function endChoosers(draft, tieIn, book, onchange) {
  const side = (leg, prep, where) => {
    const codes = book.ends[prep]?.measured_to ?? [];
    const choices = codes.map((code) => [code, `to the ${book.references[code]}`, code]);
    const legend = `Leg ${leg.toUpperCase()} was measured, ${where} (${book.ends[prep]?.word ?? prep})`;
    return chooser(legend, `measured_to_${leg}`, choices, draft[`measured_to_${leg}`], (value) => onchange({ [`measured_to_${leg}`]: value }));
  };
  return [side("a", tieIn.end_a, "at the main"), side("b", tieIn.end_b, "at the drain")];
}

export const handChooser = (draft, onchange) => chooser(
  "Seen from the main, up mark on top, the drain leg", "hand", HANDS.map(([value, words]) => [value, words, `hand-${value}`]), draft.hand,
  (hand) => onchange({ hand }),
);

export const upMarkChooser = (draft, onchange) => chooser(
  "The up mark is painted", "up_mark", UP_MARKS.map(([value, words], place) => [value, words, `up-${"ab"[place]}`]), draft.up_mark,
  (up_mark) => onchange({ up_mark }),
);
