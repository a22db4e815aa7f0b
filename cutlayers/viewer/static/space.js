// Where flat panels are in space: hinges turn them, time says how far.

/** Where a flat sheet lies in space: its axes right, up and normal, and its origin.
 * @typedef {[number[], number[], number[], number[]]} Pose */

/**
 * What the swings of a panel come to at a time.
 * @param {any[]} swings
 * @param {number} time
 */
function swung(swings, time) {
  return swings.reduce(
    (sum, s) => sum + Math.min(1, Math.max(0, (time - s.start) / (s.end - s.start))) * (s.last - s.first),
    swings.length ? swings[0].first : 0,
  );
}

/**
 * A direction, or with 1 behind it a point, of a sheet as it lies in space.
 * @param {Pose} pose
 * @param {number[]} flat
 */
export function placed([right, up, normal, origin], [x, y, z, w = 0]) {
  return [0, 1, 2].map((i) => x * right[i] + y * up[i] + z * normal[i] + w * origin[i]);
}

/**
 * The pose of a panel on its hinge: its carrier's, turned right-handed about a line in it.
 * Source: Rodrigues' rotation formula for an axis with z = 0.
 * @param {Pose} carrier
 * @param {any} hung
 * @param {number} degrees
 * @returns {Pose}
 */
function turned(carrier, hung, degrees) {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  const [x, y] = hung.at;
  const [ux, uy] = hung.along;
  const k = 1 - c;
  const right = [c + ux * ux * k, ux * uy * k, -uy * s];
  const up = [ux * uy * k, c + uy * uy * k, ux * s];
  const normal = [uy * s, -ux * s, c];
  const origin = [x - x * right[0] - y * up[0], y - x * right[1] - y * up[1], -x * right[2] - y * up[2]];
  /** @type {Pose} */
  const pose = [placed(carrier, right), placed(carrier, up), placed(carrier, normal), placed(carrier, [...origin, 1])];
  if (hung.eased) {
    const away = placed(hung.before ? carrier : pose, [...hung.aside, 0]);
    pose[3] = pose[3].map((each, i) => each + away[i] * hung.eased * degrees);
  }
  if (hung.raised) pose[3] = pose[3].map((each, i) => each + carrier[2][i] * hung.raised);
  return pose;
}

/**
 * Where every panel is at a time.
 * @param {any[]} panels
 * @param {number} time
 */
export function poses(panels, time) {
  /** @type {Pose[]} */
  const found = [];
  for (const { hung, pose, away, swings } of panels) {
    const now = swung(swings, time);
    if (hung) found.push(turned(found[hung.carrier], hung, now));
    else found.push([pose[0], pose[1], pose[2], pose[3].map((/** @type {number} */ c, /** @type {number} */ i) => c + now * away[i])]);
  }
  return found;
}

/**
 * The middle of a box and how far it reaches from there, at a time.
 * @param {any[]} reaches
 * @param {number} time
 */
export function room(reaches, time) {
  const before = reaches.findLast((r) => r.time <= time) ?? reaches[0];
  const after = reaches.find((r) => r.time > time) ?? before;
  const share = after === before ? 0 : (time - before.time) / (after.time - before.time);
  const mix = (/** @type {number} */ one, /** @type {number} */ other) => one + (other - one) * share;
  return {
    middle: before.middle.map((/** @type {number} */ c, /** @type {number} */ i) => mix(c, after.middle[i])),
    size: mix(before.size, after.size),
  };
}

/** How somebody looks: turned round the box and up, in degrees, and how near.
 * @typedef {{azimuth: number, elevation: number, near: number}} View */

/**
 * From space to the screen: 16 numbers, column by column, for points with 1 behind them. The eye is
 * `distance` mm away, `scale` is in screen widths and heights for each mm at the middle.
 * @param {View} view
 * @param {number[]} middle
 * @param {number} distance
 * @param {number} depth
 * @param {[number, number]} scale
 */
export function projection(view, middle, distance, depth, scale) {
  const [a, e] = [view.azimuth, view.elevation].map((degrees) => (degrees * Math.PI) / 180);
  const [ca, sa, ce, se] = [Math.cos(a), Math.sin(a), Math.cos(e), Math.sin(e)];
  const rows = [[ca, sa, 0], [-sa * se, ca * se, ce], [sa * ce, -ca * ce, se]]; // right, up, toward
  const [right, up, toward] = rows.map((row) => [...row, -row.reduce((sum, c, i) => sum + c * middle[i], 0)]);
  const last = [0, 0, 0, 1];
  const x = right.map((c) => c * scale[0] * view.near);
  const y = up.map((c) => c * scale[1] * view.near);
  const w = toward.map((c, i) => last[i] - c / distance);
  const z = toward.map((c, i) => -c / depth + (last[i] * depth) / distance);
  return [0, 1, 2, 3].flatMap((i) => [x[i], y[i], z[i], w[i]]);
}

/**
 * One 4 × 4 matrix after another.
 * @param {number[]} one
 * @param {number[]} other
 */
export function after(one, other) {
  const found = [];
  for (let column = 0; column < 4; column++)
    for (let row = 0; row < 4; row++) {
      let sum = 0;
      for (let i = 0; i < 4; i++) sum += one[4 * i + row] * other[4 * column + i];
      found.push(sum);
    }
  return found;
}

/** A pose as a 4 × 4 matrix.
 * @param {Pose} pose */
export const matrix = ([r, u, n, o]) => [...r, 0, ...u, 0, ...n, 0, ...o, 1];
