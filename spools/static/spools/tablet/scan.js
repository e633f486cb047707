// The tablet's camera reads a ticket's code where the browser can; where it can't, the mark is typed.

const EVERY_MS = 150;

export async function startScanner(button, place, found) {
  if (!("BarcodeDetector" in window) || !navigator.mediaDevices) return;
  const formats = await BarcodeDetector.getSupportedFormats().catch(() => []);
  if (!formats.includes("qr_code")) return;
  const detector = new BarcodeDetector({ formats: ["qr_code"] });
  const video = place.querySelector("video");
  let stream = null;

  function close() {
    stream?.getTracks().forEach((track) => track.stop());
    stream = null;
    place.hidden = true;
  }

  async function look() {
    if (!stream) return;
    const codes = await detector.detect(video).catch(() => []);
    if (!codes.length) return void setTimeout(look, EVERY_MS);
    close();
    found(codes[0].rawValue);
  }

  button.hidden = false;
  button.addEventListener("click", async () => {
    try {
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
    } catch {
      button.textContent = "No camera: type the mark";
      return;
    }
    place.hidden = false;
    video.srcObject = stream;
    await video.play();
    look();
  });
  place.querySelector("button").addEventListener("click", close);
}
