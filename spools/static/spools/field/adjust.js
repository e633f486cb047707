// Weighted least squares of one tie-in's readings, as geometry/adjust.py. Lengths in mm, included angle in radians.

export const USUAL = { tape_mm: 25.4 / 16, protractor_deg: 0.5, closing_mm: 0.08 * 25.4 };
export const FOOT_MM = 304.8;
const ROUNDS = 4;

export const radians = (degrees) => (degrees * Math.PI) / 180;
export const degrees = (angle) => (angle * 180) / Math.PI;

// Where a check says no at a significance of 0.01: geometry/thresholds.py.
export const CRITICAL_ALONE = [6.634897, 9.21034, 11.344867];
export const CRITICAL = [7.879439, 10.596635, 12.838156];
export const LONG_LEG = [2.144411, 2.408916];
export const POWER_80 = [11.678968, 13.8807, 15.457657];

export const readingsOf = (m) => ({
  a: m.leg_a_mm, b: m.leg_b_mm, g: radians(m.included_deg), taken: [m.closing_mm, m.d_mm, m.e_mm].map((length) => length ?? null),
});
export const variancesOf = () => [USUAL.tape_mm ** 2, USUAL.tape_mm ** 2, radians(USUAL.protractor_deg) ** 2];

// The third side and its slopes for a, b and the included angle; a below 0 is a mark beyond the pivot.
export function distanceWithSlopes(a, b, g) {
  const half = Math.sin(g / 2);
  const third = Math.sqrt(Math.max((a - b) ** 2 + 4 * a * b * half * half, 0));
  if (third < 1e-9) return [third, 0, 0, 0];
  const across = Math.cos(g);
  return [third, (a - b * across) / third, (b - a * across) / third, (a * b * Math.sin(g)) / third];
}

// C, D and E from legs and included angle, each with its slopes.
export function computedChecks({ a, b, g }, mark = FOOT_MM) {
  const [d, , dB, dG] = distanceWithSlopes(mark, b, g);
  return [distanceWithSlopes(a, b, g), [d, 0, dB, dG], distanceWithSlopes(a - mark, b, g)];
}

// Takes in one linear check after the other: corrections, covariance, weighted sum of squares.
export function absorb(rows, variances, checkVariance) {
  let [x, y, z, xy, xz, yz, statistic] = [0, 0, 0, 0, 0, 0, 0];
  let [xx, yy, zz] = variances;
  for (const [a, b, g, leftOver] of rows) {
    const withX = xx * a + xy * b + xz * g;
    const withY = xy * a + yy * b + yz * g;
    const withZ = xz * a + yz * b + zz * g;
    const variance = a * withX + b * withY + g * withZ + checkVariance;
    const news = leftOver - a * x - b * y - g * z;
    const [gainX, gainY, gainZ] = [withX / variance, withY / variance, withZ / variance];
    [x, y, z] = [x + gainX * news, y + gainY * news, z + gainZ * news];
    [xx, yy, zz] = [xx - gainX * withX, yy - gainY * withY, zz - gainZ * withZ];
    [xy, xz, yz] = [xy - gainX * withY, xz - gainX * withZ, yz - gainY * withZ];
    statistic += (news * news) / variance;
  }
  return { moved: [x, y, z], spread: [xx, yy, zz], statistic };
}

export function adjust(readings, variances = variancesOf()) {
  const start = [readings.a, readings.b, readings.g];
  let made = { moved: [0, 0, 0], spread: variances, statistic: 0 };
  let point = start;
  for (let round = 0; round < ROUNDS; round += 1) {
    made = absorb(rowsAt(point, start, readings.taken), variances, USUAL.closing_mm ** 2);
    point = start.map((value, place) => value + made.moved[place]);
  }
  return {
    a: point[0], b: point[1], g: point[2], sigma_a: Math.sqrt(made.spread[0]), sigma_b: Math.sqrt(made.spread[1]),
    sigma_g: Math.sqrt(made.spread[2]), statistic: made.statistic,
  };
}

function rowsAt(here, start, taken) {
  const back = start.map((value, place) => value - here[place]);
  const rows = [];
  computedChecks({ a: here[0], b: here[1], g: here[2] }).forEach(([value, a, b, g], place) => {
    if (taken[place] !== null) rows.push([a, b, g, taken[place] - value - a * back[0] - b * back[1] - g * back[2]]);
  });
  return rows;
}
