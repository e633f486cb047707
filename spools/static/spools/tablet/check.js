// The check dimension C as it is typed: good, or how much over or under; and its pad.

import { formatLength, parseLength } from "../field/lengths.js";
import { pad, typed } from "../field/pad.js";

export function checkReads(field) {
  if (!field.dataset?.checkMm) return;
  const said = field.closest(".c-is").querySelector(".reads");
  const { checkMm, toleranceMm, units } = field.dataset;
  try {
    const off = parseLength(field.value, units === "metric" ? "mm" : "in") - Number(checkMm);
    const good = Math.abs(off) <= Number(toleranceMm);
    said.textContent = good ? "Good." : `${formatLength(Math.abs(off), units)} ${off > 0 ? "over" : "under"}.`;
    said.dataset.good = String(good);
  } catch {
    said.textContent = "";
  }
}

export function openPad(field) {
  const there = field.querySelector(".pad");
  if (there) return there.remove();
  const box = field.querySelector("input");
  const keys = pad(box.dataset.units === "metric" ? "metric" : "us", {
    onkey(key) {
      box.value = typed(box.value, key);
      box.dispatchEvent(new Event("input", { bubbles: true }));
    },
    onnext: () => keys.remove(),
    next: "Close the pad",
  });
  return field.append(keys);
}
