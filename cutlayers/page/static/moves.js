// Where a tool is at a moment: along the moves of one side of a sheet, which stand in order of time.

/**
 * @typedef {{line: number, lifted: boolean, start: number, end: number, axis: number[], tip: number[]}} Move
 * @typedef {{x: number, y: number}} Place
 */

/** The number of the last move that has begun by then, -1 before the first.
 * @param {Move[]} moves
 * @param {number} time */
export function begun(moves, time) {
  let [low, high] = [0, moves.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (moves[middle].start <= time) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/**
 * How far a tool has come that gains and loses speed evenly, from rest to rest. With d = v·(T − t)
 * and v = a·t for the time t of gaining speed, t = (T − √(T² − 4d/a))/2.
 * @param {number} way all of it, in mm
 * @param {number} whole seconds for all of it
 * @param {number} gains mm/s²
 * @param {number} gone seconds
 */
export function along(way, whole, gains, gone) {
  if (gone >= whole) return way;
  const gaining = (whole - Math.sqrt(Math.max(0, whole * whole - (4 * way) / gains))) / 2;
  const left = whole - gone;
  const far =
    gone < gaining ? (gains * gone * gone) / 2
    : left < gaining ? way - (gains * left * left) / 2
    : (gains * gaining * gaining) / 2 + gains * gaining * (gone - gaining);
  return Math.min(way, Math.max(0, far));
}

/** How many whole steps of a way a tool has made, and what share of the next one.
 * @param {Move} move
 * @param {number} time
 * @param {number} gains */
export function reached(move, time, gains) {
  const { axis } = move;
  const steps = [];
  let way = 0;
  for (let at = 2; at < axis.length; at += 2) {
    steps.push(Math.hypot(axis[at] - axis[at - 2], axis[at + 1] - axis[at - 1]));
    way += steps[steps.length - 1];
  }
  let left = along(way, move.end - move.start, gains, Math.max(0, time - move.start));
  for (let step = 0; step < steps.length; step += 1) {
    if (left < steps[step]) return { step, share: left / steps[step] };
    left -= steps[step];
  }
  return { step: steps.length, share: 0 };
}

/** @param {number[]} points x, y, x, y …
 * @param {{step: number, share: number}} to
 * @returns {Place} */
export function placeAt(points, { step, share }) {
  const at = 2 * step;
  const next = share ? at + 2 : at;
  const between = (/** @type {number} */ i) => points[at + i] + share * (points[next + i] - points[at + i]);
  return { x: between(0), y: between(1) };
}

/** @param {number[]} points
 * @param {{step: number, share: number}} [to] how far; all of it without
 * @returns {string} path data */
export function drawn(points, to) {
  const kept = to ? points.slice(0, 2 * to.step + 2) : points;
  if (to?.share) {
    const { x, y } = placeAt(points, to);
    kept.push(x, y);
  }
  return `M${kept.join(" ")}`;
}

/** @param {number} seconds */
export function minutes(seconds) {
  const whole = Math.floor(seconds + 1e-6);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
}
