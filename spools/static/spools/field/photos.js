// Photos, shrunk on the phone, kept before what they are of is and sent after it.

import { button, h } from "./dom.js";
import { shrunk } from "./shrink.js";
import * as store from "./store.js";

// `draft` is a function: the draft as it stands when a photo is taken, not when this was drawn.
export async function photoPart(draft, { say, redraw }) {
  const kept = await store.photosOf(draft().key);
  const input = h("input", {
    type: "file", accept: "image/*", capture: "environment", multiple: true, id: "photo", class: "spoken",
    onchange: async () => {
      for (const file of input.files) await keep(file, draft, say);
      redraw();
    },
  });
  return h(
    "div", { class: "photos" }, input, h("label", { for: "photo", class: "button" }, "Photo"),
    kept.map((photo) => thumbnail(photo, async () => {
      await store.forgetPhoto(photo.key);
      redraw();
    })),
  );
}

async function keep(file, draft, say) {
  try {
    const { bytes, type } = await shrunk(file);
    const photo = { key: store.freshKey(), of: draft().of ?? "reading", reading_key: draft().key, taken_at: new Date().toISOString(), bytes, type, state: "draft" };
    await store.keepPhoto(photo, draft());
  } catch (trouble) {
    say(trouble.message);
  }
}

function thumbnail(photo, onremove) {
  const address = URL.createObjectURL(new Blob([photo.bytes], { type: photo.type }));
  const image = h("img", { src: address, alt: "Photo taken here", onload: () => URL.revokeObjectURL(address) });
  return h("figure", {}, image, button("Remove", onremove, { class: "quiet" }));
}
