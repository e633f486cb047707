// Hanging: which spools are on site or on the way, and of each one tap that it fits, or two how it doesn't.

import { button, h, sayPipe, saySize, shape, strip } from "./dom.js";
import { photoPart } from "./photos.js";
import { emptyDraft } from "./reading.js";
import * as store from "./store.js";

const AT_A_TIME = 40;
const FITS = "fits";
const key = (text) => text.normalize("NFKC").toUpperCase().replace(/\s/g, "");

const saidHere = async () => new Map((await store.fits()).filter((one) => one.state !== "aside").map((one) => [one.spool, one]));
const placed = (book) => {
  const order = new Map(book.tie_ins.map((one, place) => [one.id, [one, place]]));
  return (book.hang ?? []).filter((one) => order.has(one.tie_in)).map((one) => ({ ...one, tieIn: order.get(one.tie_in)[0], place: order.get(one.tie_in)[1] }))
    .sort((one, other) => one.place - other.place);
};

// Along the main: what nobody has said anything of yet, and any mark or tag by typing it.
export async function openHangList(root, { book }) {
  const mine = await saidHere();
  const all = placed(book);
  const screen = { find: "", count: AT_A_TIME, all: false };
  const find = h("input", { id: "find", type: "search", inputmode: "search", autocomplete: "off", oninput: () => { screen.find = find.value; draw(); } });
  const rows = h("div", { class: "rows" });
  const draw = () => {
    const wanted = key(screen.find);
    const open = all.filter((one) => (wanted ? key(one.label).includes(wanted) || one.tag.startsWith(wanted) || key(one.tieIn.station).startsWith(wanted) : screen.all || !answered(one, mine)));
    const left = all.filter((one) => !answered(one, mine)).length;
    const words = wanted && !open.length ? `No mark or tag like ${screen.find}` : all.length ? `${left} of ${all.length} to hang` : "No spool is on site or on the way.";
    rows.replaceChildren(...[
      h("p", { class: "soft", "aria-live": "polite" }, words), h("ul", { class: "walk" }, open.slice(0, screen.count).map((one) => row(one, mine.get(one.id)))),
      open.length > screen.count ? button(`Show ${Math.min(AT_A_TIME, open.length - screen.count)} more`, () => { screen.count += AT_A_TIME; draw(); }) : null,
      left < all.length ? button(screen.all ? "Only what is to hang" : "Show answered ones too", () => { screen.all = !screen.all; draw(); }, { class: "quiet" }) : null,
    ].filter(Boolean));
  };
  root.replaceChildren(h("h1", {}, "To hang"), h("p", { class: "actions" }, h("a", { class: "button quiet", href: "#/" }, "To measure")), h("div", { class: "find-mark" }, h("label", { for: "find" }, "Mark, tag or station"), find), rows);
  draw();
}

const answered = (one, mine) => Boolean(one.said) || mine.has(one.id);

function row(one, fit) {
  const { tieIn } = one;
  const state = fit ? [fit.state === "asks" ? "warning" : fit.state === "sent" ? "done" : "not_sent", fit.how === FITS ? "fits" : "doesn't fit"] : one.said ? ["warning", "doesn't fit"] : null;
  return h("li", {}, h("a", { href: `#/hang/${one.id}` },
    h("span", { class: "mark" }, one.label),
    h("span", {}, `${tieIn.station} ${tieIn.side}${one.tag ? ` · tag ${one.tag}` : ""}`, h("small", {}, `${saySize(tieIn)} · ${tieIn.main} · ${one.stands}`)),
    state ? h("span", { class: "state" }, shape(state[0]), state[1]) : null));
}

// One spool: FITS, or DOESN'T FIT with how, what is seen and a photo; what is begun is kept as it is tapped.
export async function openHang(root, { book, id, afterSaid }) {
  const one = placed(book).find((found) => found.id === id);
  if (!one) return void (location.hash = "#/hang");
  const name = `hang/${id}`;
  let draft = (await store.draftOf(name)) ?? { tie_in: name, of: "fit", key: store.freshKey(), open: false, how: "", note: "" };
  const told = h("div", {});
  const lower = h("div", {});
  const change = async (news) => { draft = { ...draft, ...news }; await store.keepDraft(draft); };
  const say = (words) => told.replaceChildren(strip("look", "warning", "Look", words));
  const keep = async (how) => {
    const { tieIn } = one;
    const fit = {
      key: draft.key, draft: name, spool: one.id, tie_in: tieIn.id, job: book.jobs[tieIn.job].number, label: one.label, how, note: draft.note.trim(),
      seen_at: new Date().toISOString(), seen_by: book.person.username, seen_by_name: book.person.name, anyway: false, state: "kept",
    };
    try {
      await store.keepFit(fit);
      // Why it is measured again is said already.
      if (how !== FITS && !(await store.draftOf(tieIn.id))) await store.keepDraft({ ...emptyDraft(tieIn), as: "again" });
    } catch (trouble) {
      return say(`Not kept: this phone refused (${trouble.name}). Free some space, then tap again.`);
    }
    return afterSaid(fit, tieIn);
  };
  const mine = (await saidHere()).get(id);
  root.replaceChildren(...[heading(one), ...standing(one, mine, book), told, lower]);
  let asked = !mine || draft.open; // what was said here is said: saying otherwise is a tap of its own
  const otherwise = () => button("Say otherwise", () => { asked = true; draw(); }, { class: "quiet" });
  const draw = async () => lower.replaceChildren(...(!asked ? [otherwise()] : draft.open ? await misfit(() => draft, { book, change, draw, keep, say }) : choice({ change, draw, keep })));
  await draw();
}

const heading = (one) => h("div", { class: "tie-in" }, h("h1", { class: "mark" }, one.label), h("p", { class: "where" }, h("b", {}, `${one.tieIn.station} ${one.tieIn.side}`), ` ${one.tieIn.main} · ${sayPipe(one.tieIn)}`));

function standing(one, mine, book) {
  const facts = [`C ${one.c} end to end`, one.tag && `tag ${one.tag}`, one.stands].filter(Boolean).join(" · ");
  const said = mine ? strip("told", mine.state === "sent" ? "done" : "not_sent", mine.how === FITS ? "Fits" : "Doesn't fit", `${mine.how === FITS ? "" : `It is ${book.misfits[mine.how]}. `}${mine.state === "sent" ? "The shop has it." : "Kept on this phone, not sent yet."}`)
    : one.said ? strip("look", "warning", "Doesn't fit", `${one.said} said so. Measure it again, and the shop builds it anew.`) : null;
  return [h("p", {}, facts), said, said && mine?.how !== FITS ? h("p", { class: "actions" }, h("a", { class: "button", href: `#/t/${one.tie_in}` }, "Measure it again")) : null].filter(Boolean);
}

const choice = ({ change, draw, keep }) => [
  button("Fits", () => keep(FITS), { class: "deed", id: "fits" }),
  h("div", { class: "keep" }, button("Doesn't fit", async () => { await change({ open: true }); draw(); }, { class: "deed open", id: "misfit" })),
  h("p", { class: "actions" }, h("a", { class: "button quiet", href: "#/hang" }, "To hang")),
];

async function misfit(draft, { book, change, draw, keep, say }) {
  const note = h("input", { id: "fit-note", maxlength: 200, autocomplete: "off", value: draft().note, oninput: () => change({ note: note.value }) });
  const choices = Object.entries(book.misfits).map(([how, words]) => button(words[0].toUpperCase() + words.slice(1), async () => { await change({ how }); draw(); }, { "data-how": how, "aria-pressed": String(draft().how === how) }));
  const report = () => (draft().how ? keep(draft().how) : say("Tap how it doesn't fit."));
  return [
    h("h2", {}, "How doesn't it fit?"), h("div", { class: "two whys", role: "group", "aria-label": "How" }, choices),
    h("div", { class: "field" }, h("label", { for: "fit-note" }, "How much, where (if there is more to say)"), note),
    await photoPart(draft, { say, redraw: draw }),
    h("div", { class: "foot" }, h("div", { class: "keep" }, button("Doesn't fit: say so", report, { class: "deed open", id: "report" }))),
    h("p", { class: "actions" }, button("It fits after all", async () => { await change({ open: false }); draw(); }, { class: "quiet" })),
  ];
}
