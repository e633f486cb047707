// Included and turn, as geometry/angles.py reads and says them; kept the same by tests/vectors/angles.json.

const DEGREES =
  /^(?<whole>[0-9]{1,3})(?:(?<decimal>\.[0-9]{1,9})|(?: |-)(?<over>[0-9]{1,2})\/(?<under>[0-9]{1,2}))? ?(?:°|º|˚|deg\.?|degrees?)?$/;
const SEXAGESIMAL =
  /^(?<whole>[0-9]{1,3}) ?(?:°|º|˚|d|deg\.?|degrees?) ?(?<minutes>[0-9]{1,2}) ?(?:'|′|’|min\.?)(?: ?(?<seconds>[0-9]{1,2}) ?(?:"|″|”|''|sec\.?))?$/;
const PARTS = [2, 3, 4, 6, 8, 10, 12];

export class AngleError extends Error {}

// Returns degrees from 0 to 180.
export function parseAngle(text) {
  if ([...text].length > 30) throw new AngleError("Degrees must be one short number: write 142.5 or 142 1/2.");
  const degrees = degreesOf(plain(text));
  if (degrees === null) throw new AngleError(`"${text.trim()}" is not degrees we can read for sure: write 142.5 or 142 1/2.`);
  if (degrees > 180) throw new AngleError(`"${text.trim()}" is over 180 degrees: write the included angle, such as 142.5.`);
  return degrees;
}

function plain(text) {
  const spaced = text.replaceAll("½", " 1/2 ").replaceAll("¼", " 1/4 ").replaceAll("¾", " 3/4 ");
  return spaced.replace(/\s+/g, " ").trim().toLowerCase().replaceAll(" °", "°");
}

function degreesOf(text) {
  let found = SEXAGESIMAL.exec(text);
  if (found) {
    const [minutes, seconds] = [Number(found.groups.minutes), Number(found.groups.seconds ?? 0)];
    return minutes < 60 && seconds < 60 ? Number(found.groups.whole) + minutes / 60 + seconds / 3600 : null;
  }
  found = DEGREES.exec(text);
  if (!found) return null;
  const { whole, decimal, over, under } = found.groups;
  if (!over) return Number(whole + (decimal ?? ""));
  return PARTS.includes(Number(under)) && Number(over) < Number(under) ? Number(whole) + over / under : null;
}

export const say = (degrees) => String(Number(degrees.toPrecision(10)));

// The turn in words, so that a supplement read off the jig is heard.
export function sayTurn(included) {
  const turn = 180 - included;
  const figures = `turns ${say(turn)} degrees (included ${say(included)})`;
  if (turn < 1e-9) return "straight: no turn (included 180)";
  if (Math.abs(turn - 90) < 1e-9) return `square: ${figures}`;
  return turn < 90 ? `gentle bend: ${figures}` : `sharp bend: ${figures}, more than square`;
}
