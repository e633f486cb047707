// A text as pages of QR codes and back: packed, in base 45 (RFC 9285), each page with its place among the others.

const SIGNS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";
const EACH = 560; // signs on a page: a code that a phone reads from another phone's screen
const HEAD = "FB1";

export async function pagesOf(text) {
  const data = base45(await through(new TextEncoder().encode(text), new CompressionStream("deflate")));
  const id = await nameOf(data);
  const count = Math.max(1, Math.ceil(data.length / EACH));
  return Array.from({ length: count }, (_, place) => [HEAD, id, place + 1, count, data.slice(place * EACH, (place + 1) * EACH)].join(":"));
}

// Collects pages in any order; `take` returns { have, of }, or null for a code that is no page of ours.
export function collector() {
  let of = null;
  let id = "";
  const parts = new Map();
  return {
    take(code) {
      const found = /^FB1:([0-9A-F]{8}):(\d{1,3}):(\d{1,3}):(.*)$/s.exec(code);
      if (!found || Number(found[2]) < 1 || Number(found[2]) > Number(found[3])) return null;
      if (found[1] !== id) { // another phone's pages, or newer ones: begin again
        [id, of] = [found[1], Number(found[3])];
        parts.clear();
      }
      parts.set(Number(found[2]), found[4]);
      return { have: parts.size, of };
    },
    async text() {
      const data = Array.from({ length: of }, (_, place) => parts.get(place + 1)).join("");
      if ((await nameOf(data)) !== id) throw new Error("The pages don't belong together: scan them once more.");
      return new TextDecoder().decode(await through(bytesOf45(data), new DecompressionStream("deflate")));
    },
  };
}

async function through(bytes, stream) {
  return new Uint8Array(await new Response(new Blob([bytes]).stream().pipeThrough(stream)).arrayBuffer());
}

async function nameOf(data) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", new TextEncoder().encode(data)));
  return [...digest.slice(0, 4)].map((byte) => byte.toString(16).padStart(2, "0")).join("").toUpperCase();
}

function base45(bytes) {
  let text = "";
  for (let at = 0; at < bytes.length; at += 2) {
    const pair = at + 1 < bytes.length;
    let value = pair ? bytes[at] * 256 + bytes[at + 1] : bytes[at];
    for (let sign = 0; sign < (pair ? 3 : 2); sign += 1) {
      text += SIGNS[value % 45];
      value = Math.floor(value / 45);
    }
  }
  return text;
}

function bytesOf45(text) {
  const bytes = [];
  for (let at = 0; at < text.length; at += 3) {
    const signs = [...text.slice(at, at + 3)].map((sign) => SIGNS.indexOf(sign));
    const value = signs.reduceRight((sum, sign) => sum * 45 + sign, 0);
    if (signs.length === 3) bytes.push(value >> 8, value & 255);
    else bytes.push(value);
  }
  return Uint8Array.from(bytes);
}
