// Unsent readings as a file for a second phone: a lost phone is then no lost day. Both may send: a key counts once.

import { h } from "./dom.js";
import * as store from "./store.js";

const KIND = "field-book hand-over";
const MOST_BYTES = 100_000_000;
const TEXT = (value, most) => typeof value === "string" && value.length <= most;

// Everything that the shop doesn't have yet, photos too, in pieces, so that no phone has to hold it as one text.
export async function handOverFile(person) {
  const head = JSON.stringify(await unsent(person));
  const parts = [`${head.slice(0, -1)},"photos":[`];
  let separator = "";
  for (const key of await store.unsentPhotos()) {
    const { bytes, state: _, ...photo } = await store.photo(key);
    parts.push(separator, JSON.stringify({ ...photo, base64: base64Of(bytes) }));
    separator = ",";
  }
  parts.push("]}");
  const name = `field-book-${new Date().toISOString().slice(0, 16).replace(/[:T]/g, "-")}.json`;
  return new File(parts, name, { type: "application/json" });
}

export async function save(book) {
  const file = await handOverFile(book.person);
  const address = URL.createObjectURL(file);
  h("a", { href: address, download: file.name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}

async function unsent(person) {
  const open = (rows) => rows.filter((one) => one.state !== "sent");
  const [readings, obstacles, fits] = [open(await store.readings()), open(await store.obstacles()), open(await store.fits())];
  return { kind: KIND, version: 1, made_at: new Date().toISOString(), by: person.name, readings, obstacles, fits };
}

// The same without photos, and without what the other phone works out again: few enough signs for a screen.
export async function handOverText(person) {
  const { readings, ...rest } = await unsent(person);
  return JSON.stringify({ ...rest, readings: readings.map(({ said: _, answer: __, ...one }) => one), photos: [] });
}

const refuse = () => { throw new Error("This is no hand-over file of a field book: save it once more on the other phone."); };

// Returns what was taken over and what was here already. Throws Error with words for the person.
export async function takeOver(file) {
  if (file.size > MOST_BYTES) refuse();
  return takeOverText(await file.text());
}

export async function takeOverText(text) {
  let given = null;
  try {
    given = JSON.parse(text);
  } catch {
    refuse();
  }
  if (given?.kind !== KIND || given.version !== 1 || ![given.readings, given.obstacles, given.photos].every(Array.isArray)) refuse();
  given.fits ??= []; // a field book that is not up to date has none
  if (!Array.isArray(given.fits) || !given.fits.every(isFit)) refuse();
  if (!given.readings.every(isReading) || !given.obstacles.every(isObstacle) || !given.photos.every(isPhoto)) refuse();
  return store.takeOver({
    readings: given.readings.map((one) => ({ said: [], ...one, state: "kept", answer: null })),
    obstacles: given.obstacles.map((one) => ({ ...one, state: "kept", answer: null })),
    fits: given.fits.map((one) => ({ ...one, state: "kept", answer: null })),
    photos: given.photos.map(({ base64, ...one }) => ({ ...one, bytes: bytesOf(base64), state: "kept" })),
  });
}

const isKey = (key) => TEXT(key, 60) && /^[\x21-\x7e]{8,60}$/.test(key);
const isTime = (text) => TEXT(text, 40) && !Number.isNaN(Date.parse(text));

function isReading(one) {
  return isKey(one?.key) && TEXT(one.mark, 16) && TEXT(one.job, 20) && TEXT(one.jig, 20) && isTime(one.taken_at) && typeof one.seen === "object"
    && one.texts && Object.values(one.texts).every((text) => TEXT(text, 40)) && TEXT(one.note, 300);
}

const isObstacle = (one) => isKey(one?.key) && TEXT(one.mark, 16) && TEXT(one.job, 20) && TEXT(one.why, 10) && TEXT(one.note, 300) && isTime(one.seen_at);
const isFit = (one) => isKey(one?.key) && Number.isInteger(one.spool) && TEXT(one.label, 20) && TEXT(one.how, 12) && TEXT(one.note, 200) && isTime(one.seen_at);
const isPhoto = (one) => isKey(one?.key) && isKey(one.reading_key) && isTime(one.taken_at) && /^image\/(jpeg|png|webp)$/.test(one.type) && TEXT(one.base64, 8_000_000);

function base64Of(bytes) {
  const all = new Uint8Array(bytes);
  let text = "";
  for (let from = 0; from < all.length; from += 0x8000) text += String.fromCharCode(...all.subarray(from, from + 0x8000));
  return btoa(text);
}

const bytesOf = (base64) => Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0)).buffer;
