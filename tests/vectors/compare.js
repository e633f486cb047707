// Runs every vector through the phone's own modules and returns what differs; for a browser.

const NEAR = 1e-6;

function differs(want, got, path) {
  if (typeof want === "number" && typeof got === "number") {
    return Math.abs(want - got) <= NEAR * Math.max(1, path.endsWith("statistic") ? Math.abs(want) : 1) ? [] : [`${path}: ${want} and ${got}`];
  }
  if (Array.isArray(want) || (want && typeof want === "object")) {
    if (!got || typeof got !== "object") return [`${path}: ${JSON.stringify(want)} and ${got}`];
    const keys = new Set([...Object.keys(want), ...Object.keys(got)]);
    return [...keys].flatMap((key) => differs(want[key], got[key], `${path}.${key}`));
  }
  return Object.is(want, got) ? [] : [`${path}: ${JSON.stringify(want)} and ${JSON.stringify(got)}`];
}

function refusable(read) {
  try {
    return read();
  } catch (trouble) {
    if (trouble.constructor === Error || trouble instanceof TypeError) throw trouble;
    return { refused: true };
  }
}

export function answersOf({ lengths, angles, closes, room, compare }) {
  return {
    lengths: ({ text, unit }) => refusable(() => ({ mm: lengths.parseLength(text, unit) })),
    angles: ({ text }) => refusable(() => ({ deg: angles.parseAngle(text) })),
    said: (given) => ("mm" in given
      ? { us: lengths.formatLength(given.mm), metric: lengths.formatLength(given.mm, "metric") }
      : { words: angles.sayTurn(given.included_deg) }),
    checks: (given) => closes.checkReading(given) ?? { refused: true },
    jigs: ({ jig, ...read }) => {
      const { findings, ...legs } = closes.legsOf(read, jig);
      return { ...legs, codes: findings.map((one) => one.code) };
    },
    seconds: ({ first, second }) => {
      const { level, code, likely } = compare.compareReadings({ ...first, letter: "A", by: "Ruiz" }, second);
      return { level, code, likely };
    },
    rooms: (given, { facts, references }) => {
      const read = { ...given, measured_to_a: references[0], measured_to_b: references[1] };
      const made = room.roomOf(read, facts);
      if (made === null) return null;
      return { too_short: made.findings.map((one) => one.text.slice(4, 5)), left: [made.left_a_mm, made.left_b_mm] };
    },
  };
}

// The build gives the pipe left of the short legs, or the cuts of a spool that can be made; either must be ours.
function roomDiffers({ too_short, left_mm, cuts_mm }, got, path) {
  if (got === null) return [];
  const left = got.too_short.length ? got.left.filter((_, place) => got.too_short.includes("AB"[place])) : got.left;
  const want = too_short.length ? left_mm : cuts_mm;
  return differs({ too_short, left: want.length ? want : left }, { too_short: got.too_short, left }, path);
}

export function disagreements(vectors, modules) {
  const answers = answersOf(modules);
  return Object.entries(vectors).flatMap(([name, rows]) => rows.flatMap(({ given, answer }, place) => {
    const path = `${name}[${place}]`;
    if (name === "rooms") return roomDiffers(answer, answers.rooms(given, answer), path);
    return differs(answer, answers[name](given), path);
  }));
}
