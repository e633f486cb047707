// A photo made small enough for a bad line, on the phone that took it.

const LONGEST_PX = 1600;
const QUALITY = 0.8;
const MOST_BYTES = 4_000_000;
const SENT_AS_IS = ["image/jpeg", "image/png", "image/webp"];

// Returns { bytes, type }: a JPEG of at most that many px, or the file itself where this phone can't draw it.
export async function shrunk(file, longest = LONGEST_PX) {
  try {
    const image = await createImageBitmap(file, { imageOrientation: "from-image" });
    const scale = Math.min(1, longest / Math.max(image.width, image.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(image.width * scale);
    canvas.height = Math.round(image.height * scale);
    canvas.getContext("2d").drawImage(image, 0, 0, canvas.width, canvas.height);
    image.close();
    const blob = await new Promise((done) => { canvas.toBlob(done, "image/jpeg", QUALITY); });
    if (blob) return { bytes: await blob.arrayBuffer(), type: "image/jpeg" };
  } catch {
    // a kind of file that this phone can't draw: below
  }
  if (!SENT_AS_IS.includes(file.type) || file.size > MOST_BYTES) throw new Error("This photo can't be read: take it as JPEG.");
  return { bytes: await file.arrayBuffer(), type: file.type };
}
