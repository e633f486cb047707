// Read and write lengths as geometry/lengths/ does: one strict grammar, what can be read in two ways is refused.
// Kept the same as the Python by tests/vectors/lengths.json.

export const INCH_MM = 25.4;
export const FOOT_MM = 304.8;
const LONGEST_MM = 30480; // 100 ft
const LONGEST_TEXT = 60;
const MM_PER = { in: INCH_MM, ft: FOOT_MM, mm: 1, cm: 10, m: 1000 };
const TAPE_DENOMINATORS = [2, 4, 8, 16, 32, 64];
const TWO_WAYS = { in: '3\' 4-5/16" or 40-5/16"', ft: "3.36 ft or 3' 4\"", mm: "1024 mm or 1.024 m", m: "1.024 m or 1024 mm" };

const WHOLE = "[0-9]{1,9}";
const DECIMAL = "[0-9]{1,9}\\.[0-9]{1,12}";
const NUMBER = `(?:${DECIMAL}|${WHOLE}|\\.[0-9]{1,12})`;
const FRACTION = "[0-9]{1,3} ?/ ?[0-9]{1,3}";
const MIXED = `${WHOLE}(?:-| and | & | )${FRACTION}`;
const FOOT = " ?(?:'|(?:feet|foot|ft)(?![a-z])(?:\\.(?![0-9]))?)";
const INCH = ' ?(?:"|(?:inches|inch|ins|in)(?![a-z])\\.?)';
const JOIN = "(?: ?- ?| and | & | ?)";
const whole = (pattern) => new RegExp(`^(?:${pattern})$`);

const METRIC_FORM = whole(`(?<number>${NUMBER}) ?(?<unit>mm|cm|m|(?:milli|centi|)met(?:er|re)s?)\\.?`);
const FEET_FORM = whole(`(?<feet>${NUMBER})${FOOT}`);
const FEET_INCHES_FORM = whole(
  `(?<feet>${WHOLE})${FOOT}${JOIN}(?<inches>${MIXED}|${FRACTION}|${DECIMAL}|${WHOLE})(?:${INCH})?`,
);
const THREE_PARTS_FORM = whole(`(?<feet>${WHOLE})-(?<inches>${WHOLE}-${FRACTION})(?:${INCH})?`);
const INCHES_FORM = whole(`(?<inches>${MIXED}|${FRACTION}|${NUMBER})${INCH}`);
const FRACTION_FORM = whole(`${MIXED}|${FRACTION}`);
const NUMBER_FORM = whole(NUMBER);
const PARTS = whole(`(?:(?<whole>${WHOLE})(?:-| and | & | ))?(?<over>[0-9]+) ?/ ?(?<under>[0-9]+)`);

// What a keyboard puts in a length, brought down to plain ASCII; see geometry/lengths/typed.py.
const PLAIN = new Map();
const becomes = (signs, plain) => [...signs].forEach((sign) => PLAIN.set(sign, plain));
becomes("’‘‛′ʹʼʻ´`ˈ", "'");
becomes("”“„‟″ʺ˝〃", '"');
becomes("‐‑‒–—―−﹣", "-");
becomes("⁄∕", "/");
becomes("\t\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000", " ");
for (let wide = 0xff01; wide < 0xff5f; wide += 1) PLAIN.set(String.fromCharCode(wide), String.fromCharCode(wide - 0xfee0));
[["㎜", "mm"], ["㎝", "cm"], ["㍍", "m"], ["㏌", "in"]].forEach(([sign, plain]) => PLAIN.set(sign, plain));
const SMALL = "⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉";
const SIGNS = {
  "¼": "1/4", "½": "1/2", "¾": "3/4", "⅐": "1/7", "⅑": "1/9", "⅒": "1/10", "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5",
  "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅟": "1/",
};
const RAISED = new RegExp("(-?)([⁰¹²³⁴⁵⁶⁷⁸⁹]+)/([₀₁₂₃₄₅₆₇₈₉]+|[0-9]+)", "g");
const SIGN = new RegExp("(-?)([¼½¾⅐-⅞]|⅟(?=[0-9]))", "g");
const EDGES = /^[\s\u001c-\u001f\u0085]+|[\s\u001c-\u001f\u0085]+$/g;
const EDGE_MARKS = /^[\ufeff\u200b\u200e\u200f\u2060]+|[\ufeff\u200b\u200e\u200f\u2060]+$/g;
const digits = (small) => [...small].map((one) => (SMALL.includes(one) ? SMALL.indexOf(one) % 10 : one)).join("");

export class LengthError extends Error {}

function plainText(text) {
  const count = [...text].length;
  if (count > LONGEST_TEXT) throw new LengthError(`That is ${count} characters, more than one length: write ${TWO_WAYS.in}.`);
  const bare = text.replace(EDGES, "").replace(EDGE_MARKS, "").replace(EDGES, "");
  if (!bare) throw new LengthError(`Nothing is written: write ${TWO_WAYS.in}.`);
  const ascii = [...bare].map((sign) => PLAIN.get(sign) ?? sign).join("");
  const plain = ascii
    .replace(RAISED, (_, minus, over, under) => `${minus || " "}${digits(over)}/${digits(under)} `)
    .replace(SIGN, (_, minus, sign) => `${minus || " "}${SIGNS[sign]}${sign === "⅟" ? "" : " "}`);
  if ([...plain].some((sign) => sign < " " || sign > "~")) {
    throw new LengthError(`This can't be read in a length: write ${TWO_WAYS.in}.`);
  }
  return plain.replaceAll("''", '"').replace(/ +/g, " ").trim().toLowerCase();
}

// Returns mm. A bare number is in `unit`: "in", "ft", "mm" or "m".
export function parseLength(text, unit = "in") {
  const plain = plainText(text);
  const mm = exactMm(plain, unit);
  if (mm === null) throw new LengthError(`"${plain}" is not a length we can read for sure: write ${TWO_WAYS[unit]}.`);
  if (mm > LONGEST_MM + 1e-9) throw new LengthError(`"${plain}" is longer than 100 ft: check the unit.`);
  return mm;
}

function exactMm(plain, unit) {
  let found = METRIC_FORM.exec(plain);
  if (found) return Number(found.groups.number) * MM_PER[metricUnit(found.groups.unit)];
  found = FEET_FORM.exec(plain);
  if (found) return Number(found.groups.feet) * FOOT_MM;
  found = FEET_INCHES_FORM.exec(plain);
  if (found) return feetInchesMm(found.groups);
  found = INCHES_FORM.exec(plain);
  if (found) return inchesMm(found.groups.inches);
  if (NUMBER_FORM.test(plain)) return Number(plain) * MM_PER[unit];
  found = unit === "in" || unit === "ft" ? THREE_PARTS_FORM.exec(plain) : null;
  if (found) return feetInchesMm(found.groups);
  return unit === "in" && FRACTION_FORM.test(plain) ? inchesMm(plain) : null;
}

function metricUnit(written) {
  if (written in MM_PER) return written;
  return { milli: "mm", centi: "cm" }[written.slice(0, 5)] ?? "m";
}

function feetInchesMm({ feet, inches }) {
  const mm = inchesMm(inches);
  return mm === null || mm >= FOOT_MM - 1e-9 ? null : Number(feet) * FOOT_MM + mm;
}

function inchesMm(written) {
  const found = PARTS.exec(written);
  if (!found) return Number(written) * INCH_MM;
  const [over, under] = [Number(found.groups.over), Number(found.groups.under)];
  if (!TAPE_DENOMINATORS.includes(under) || over >= under) return null;
  return (Number(found.groups.whole ?? 0) + over / under) * INCH_MM;
}

export function reduced(over, under) {
  const shared = (a, b) => (b ? shared(b, a % b) : a);
  const by = shared(over, under) || 1;
  return [over / by, under / by];
}

// Rounded once to 16ths: feet, inches and a reduced fraction; a half goes away from zero.
export function splitFeetInches(mm) {
  const marks = mm / (INCH_MM / 16);
  const half = Math.floor(2 * Math.abs(marks) + 0.5) / 2;
  const snapped = Math.abs(Math.abs(marks) - half) * (INCH_MM / 16) <= 1e-9 ? half : Math.abs(marks);
  const count = Math.floor(snapped + 0.5);
  const inches = Math.floor(count / 16);
  const [numerator, denominator] = reduced(count % 16, 16);
  return {
    negative: mm < 0 && count > 0, feet: Math.floor(inches / 12), inches: inches % 12,
    numerator, denominator: numerator ? denominator : 1,
  };
}

// 3' 4-5/16" on a job in feet and inches, 1024 mm on a metric one.
export function formatLength(mm, units = "us") {
  if (units === "metric") return `${Math.sign(mm) * Math.floor(Math.abs(mm) + 0.5 + 1e-9) || 0} mm`;
  const { negative, feet, inches, numerator, denominator } = splitFeetInches(mm);
  const part = numerator ? `${numerator}/${denominator}` : "";
  const rest = part ? (inches || feet ? `${inches}-${part}` : part) : `${inches}`;
  return `${negative ? "-" : ""}${feet ? `${feet}' ` : ""}${rest}"`;
}
