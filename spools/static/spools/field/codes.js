// Unsent readings from screen to camera, phone to phone, where there is no signal and nothing to plug in.

import decodeQR from "../../vendor/qr-0.7.0/decode.js";
import encodeQR from "../../vendor/qr-0.7.0/index.js";
import { button, h, s, strip } from "./dom.js";
import { handOverText, save, takeOverText } from "./handover.js";
import { collector, pagesOf } from "./pages.js";

const TURN_MS = 1600;
const LOOK_MS = 150;
const WIDEST_PX = 900;

export async function openShow(root, { book }) {
  if (!("CompressionStream" in globalThis)) return openTooOld(root, "Show to a second phone", "This phone is too old to show codes.", () => save(book));
  const pages = await pagesOf(await handOverText(book.person));
  const count = h("p", { class: "sentence", role: "status" });
  const frame = h("div", { class: "code" });
  let [at, timer] = [0, null];
  const draw = () => {
    frame.replaceChildren(drawing(encodeQR(pages[at], "raw", { ecc: "low", border: 4 }), pages[at]));
    count.replaceChildren(`Page ${at + 1} of ${pages.length}`);
  };
  const turn = (by) => { at = (at + by + pages.length) % pages.length; draw(); };
  const play = () => { timer = setInterval(() => (root.contains(frame) ? turn(1) : stop()), TURN_MS); };
  const stop = () => { clearInterval(timer); timer = null; };
  const hold = button("Hold", () => { if (timer) stop(); else play(); hold.replaceChildren(timer ? "Hold" : "Go on"); });
  root.replaceChildren(
    h("h1", {}, "Show to a second phone"), h("p", {}, "Numbers only: photos stay here until this phone sends them, or go along as a file."), frame, count,
    h("div", { class: "two" }, button("Page before", () => turn(-1)), button("Next page", () => turn(1))), h("div", { class: "actions" }, hold, h("a", { class: "button quiet", href: "#/phone" }, "Done")),
  );
  draw();
  if (pages.length > 1) play();
  else hold.hidden = true;
}

function drawing(rows, text) {
  const way = rows.flatMap((row, y) => row.map((dark, x) => (dark ? `M${x} ${y}h1v1h-1z` : ""))).join("");
  return s("svg", { viewBox: `0 0 ${rows.length} ${rows.length}`, role: "img", "aria-label": `QR code, ${text.split(":").slice(2, 4).join(" of ")}` }, s("path", { d: way }));
}

// Packing is what an older phone can't do; a file needs none.
function openTooOld(root, head, words, onsave) {
  root.replaceChildren(
    h("h1", {}, head), strip("look", "warning", "No codes", `${words} Hand it over as a file instead: it takes the photos along too.`),
    h("div", { class: "actions" }, onsave ? button("Save as a file", onsave, { class: "main" }) : null, h("a", { class: "button", href: "#/phone" }, onsave ? "Done" : "Take over a file")),
  );
}

export async function openScan(root) {
  if (!("DecompressionStream" in globalThis)) return openTooOld(root, "Scan a second phone", "This phone is too old to read codes.", null);
  const told = h("p", { class: "sentence", role: "status" }, "Hold the camera to the other phone's code.");
  const video = h("video", { class: "camera", playsinline: true, muted: true });
  root.replaceChildren(h("h1", {}, "Scan a second phone"), video, told, h("p", { class: "actions" }, h("a", { class: "button quiet", href: "#/phone" }, "Stop")));
  try {
    const stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment", width: { ideal: 1280 } } });
    video.srcObject = stream;
    await video.play();
    const text = await scanned(video, decodeQR, (words) => told.replaceChildren(words), () => root.contains(video));
    stream.getTracks().forEach((track) => track.stop());
    if (text === null) return;
    const { readings, obstacles, fits, known } = await takeOverText(text);
    told.replaceChildren(`Taken over: ${readings} reading${readings === 1 ? "" : "s"}${obstacles ? `, ${obstacles} that can't be measured` : ""}${fits ? `, ${fits} hung` : ""}${known ? `; ${known} were here already` : ""}.`);
  } catch (trouble) {
    told.replaceChildren(["NotAllowedError", "NotFoundError", "TypeError"].includes(trouble.name) ? "There is no camera to scan with here: hand it over as a file." : trouble.message);
  }
}

async function scanned(video, decodeQR, say, goesOn) {
  const pages = collector();
  const canvas = document.createElement("canvas");
  const pen = canvas.getContext("2d", { willReadFrequently: true });
  while (goesOn()) {
    const scale = Math.min(1, WIDEST_PX / Math.max(video.videoWidth, video.videoHeight, 1));
    canvas.width = Math.max(1, Math.round(video.videoWidth * scale));
    canvas.height = Math.max(1, Math.round(video.videoHeight * scale));
    pen.drawImage(video, 0, 0, canvas.width, canvas.height);
    const is = pages.take(read(decodeQR, pen.getImageData(0, 0, canvas.width, canvas.height)));
    if (is) say(`${is.have} of ${is.of} pages`);
    if (is && is.have === is.of) return pages.text();
    await new Promise((done) => { setTimeout(done, LOOK_MS); });
  }
  return null;
}

function read(decodeQR, image) {
  try {
    return decodeQR(image);
  } catch {
    return ""; // no code in this picture
  }
}
