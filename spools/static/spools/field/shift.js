// Which jig this shift reads with, and how it stands.

import { clock } from "./dom.js";
import * as store from "./store.js";

export const today = () => new Date().toDateString();

// The jig that this shift reads with, or null: another day, a newer set point or a lock asks again.
export async function jigOfShift(book) {
  const kept = await store.fact("shift");
  if (!kept || kept.day !== today()) return null;
  const known = book.jigs.find((jig) => jig.serial === kept.jig.serial);
  return known && !(await lockedHere(known)) ? kept.jig : null;
}

export async function jigWords(jig, book) {
  const checked = await lastCheck(jig.serial);
  const newer = book.jigs.find((one) => one.serial === jig.serial && one.version > jig.version);
  if (newer) return `Jig ${jig.serial}: set points version ${newer.version} are here. Choose it again.`;
  if (checked) return `Jig ${jig.serial}, checked ${clock(checked.checked_at)}, good`;
  const known = book.jigs.find((one) => one.serial === jig.serial);
  return known?.checked_today ? `Jig ${jig.serial}, checked ${clock(known.checked_at)}, good` : `Jig ${jig.serial}, not checked today`;
}

export async function lastCheck(serial) {
  return (await store.checks()).filter((one) => one.jig === serial && new Date(one.checked_at).toDateString() === today()).pop() ?? null;
}

export async function lockedHere(jig) {
  const last = await lastCheck(jig.serial);
  return last ? !last.good : Boolean(jig.locked);
}
