// The drawing that a box is made from: its lines and folds to be pressed, and what they are.
import { make, picture, svg } from "./elements.js";

/** @typedef {{fold?: string, line?: number}} Pointed */

const KINDS = { cut: "Cut", score: "Score", perforate: "Perforate", draw: "Draw", ignore: "Leave out" };
const LEFT_OUT = "#7a7a7a";
const ROUND = 18; // mm about the drawing that are seen with it
const ANGLE = 90; // degrees, of a fold that was none yet

/**
 * The notation of a drawing's lines: kind, colour, dashes in mm of a small picture.
 * @param {any} data
 */
export function pens(data) {
  const of = Object.fromEntries(data.pens.map((/** @type {any} */ pen) => [pen[0], pen[1]]));
  return [...data.pens, ["score", of.mountain, [0.4, 0.4]], ["open", of.mountain, [0.4, 1.2]], ["ignore", LEFT_OUT, [0.3, 0.9]], ["register", LEFT_OUT, []]];
}

/** @param {number | null} angle */
const folded = (angle) => (angle === null ? "open" : angle < 0 ? "valley" : "mountain");

/**
 * Whether a line is seen as the folds that it makes.
 * @param {any} drawn
 * @returns {(line: any) => boolean}
 */
function makesFolds(drawn) {
  const those = new Set(drawn.folds.flatMap((/** @type {any} */ f) => f.lines));
  return (line) => line.kind === "score" && !line.loose && those.has(line.number);
}

/** @param {any} data */
export function kindsOf(data) {
  const { lines, folds } = data.drawn;
  const folding = makesFolds(data.drawn);
  return new Set([
    ...lines.filter((/** @type {any} */ l) => !folding(l)).map((/** @type {any} */ l) => l.kind),
    ...folds.map((/** @type {any} */ f) => folded(f.angle)),
  ]);
}

/**
 * What stands in the flat view, in the coordinates of the drawing.
 * @param {any} data
 * @param {Set<string>} hidden
 */
export function drawing(data, hidden) {
  const { panels, lines, folds, box } = data.drawn;
  const letters = (Math.max(box[2], box[3]) + ROUND) / 45;
  const notation = Object.fromEntries(pens(data).map(([kind, colour, dash]) => [kind, { stroke: colour, "stroke-dasharray": dash.map((/** @type {number} */ d) => d * 3).join(" ") || "none" }]));
  const [under, middle, over] = [svg("g"), svg("g"), svg("g", { class: "said-of", "font-size": letters })];
  for (const panel of panels) under.append(card(panel, data));
  const put = (/** @type {Pointed} */ what, /** @type {any} */ each, /** @type {string} */ kind, /** @type {string} */ words, /** @type {boolean} */ doubtful) => {
    const own = svg("g", { class: `mark${doubtful ? " is-doubtful" : ""}` });
    Object.assign(own.dataset, what);
    own.append(svg("path", { d: each.path, class: "halo" }), svg("path", { d: each.path, class: `line ${kind}`, ...notation[kind] }), svg("path", { d: each.path, class: "hold" }));
    const title = svg("title");
    title.textContent = words;
    own.append(title);
    middle.append(own);
  };
  const write = (/** @type {number[]} */ [x, y], /** @type {string} */ words, /** @type {string} */ kind) => {
    const text = svg("text", { x, y: y + letters * 0.35, "text-anchor": "middle", class: kind });
    text.textContent = words;
    over.append(text);
  };
  const folding = makesFolds(data.drawn);
  for (const each of lines) {
    if (hidden.has(each.kind) || (folding(each) && !each.doubtful)) continue;
    put({ line: each.number }, each, each.kind, `line ${each.number}: ${said(each)}`, each.doubtful || each.loose);
    if (each.doubtful || each.loose) write(each.at, each.doubtful ? `${each.number}?` : "loose end", "doubt");
  }
  for (const each of folds) {
    const kind = folded(each.angle);
    if (hidden.has(kind)) continue;
    put({ fold: each.name }, each, kind, `${each.name}: ${turned(each.angle)}`, each.angle === null);
    write(each.at, each.angle === null ? "angle?" : `${round(Math.abs(each.angle))}°`, each.angle === null ? "doubt" : "angle");
  }
  return [under, middle, over];
}

/**
 * A panel with its art, which stays at home where the box was made another size.
 * @param {any} panel
 * @param {any} data
 */
function card(panel, data) {
  const own = svg("g", { class: "piece" });
  Object.assign(own.dataset, { net: panel.net, name: panel.name });
  const found = data.panels.find((/** @type {any} */ p) => p.net === panel.net && p.name === panel.name);
  own.append(svg("path", { d: panel.shape, fill: found?.outside ?? "none", "fill-rule": "evenodd" }));
  if (found?.art && found.box.every((/** @type {number} */ each, /** @type {number} */ at) => Math.abs(each - panel.box[at]) < 0.05))
    own.append(svg("g", { transform: `translate(${panel.box[0]} ${panel.box[1]})` }, picture(found.art)));
  own.append(svg("path", { d: panel.shape, class: "lit", "fill-rule": "evenodd" }));
  const title = svg("title");
  title.textContent = panel.name;
  own.append(title);
  return own;
}

/** @param {any} line */
const said = (line) => `${(KINDS[/** @type {keyof typeof KINDS} */ (line.kind)] ?? "register mark").toLowerCase()}${line.doubtful ? ", not sure" : ""}`;

/** @param {number} angle */
const round = (angle) => Math.round(angle * 100) / 100;

/** @param {number | null} angle */
function turned(angle) {
  if (angle === null) return "nobody has said how far it turns";
  return angle ? `${round(Math.abs(angle))}° ${angle < 0 ? "towards you, a valley" : "away from you, a mountain"}` : "stays flat";
}

/**
 * Ways to a line or a fold without pressing it.
 * @param {any} drawn
 * @param {(what: Pointed | null) => void} point
 */
export function pick(drawn, point) {
  const folds = make("select", { id: "pick-fold", onchange: () => point(folds.value ? { fold: folds.value } : null) },
    make("option", { value: "" }, "choose"),
    ...drawn.folds.map((/** @type {any} */ f) => make("option", { value: f.name }, `${f.name}${f.angle === null ? " (no angle)" : ""}`)));
  const lines = make("input", { id: "pick-line", type: "text", inputmode: "numeric", autocomplete: "off", placeholder: `1 to ${drawn.lines.length}`,
    onchange: () => point(drawn.lines.some((/** @type {any} */ l) => l.number === Number(lines.value)) ? { line: Number(lines.value) } : null) });
  return [make("label", { class: "pick" }, "Fold", folds), make("label", { class: "pick" }, "Line number", lines)];
}

/**
 * What is said of a line or a fold, to be changed; nothing where it is not there any more.
 * @param {any} drawn
 * @param {Pointed} what
 * @param {number} piece
 * @param {(change: any, again: boolean) => void} send
 * @param {(what: Pointed | null) => void} point
 * @returns {HTMLElement[]}
 */
export function asked(drawn, what, piece, send, point) {
  const head = (/** @type {string} */ words) =>
    make("div", { class: "row" }, make("h2", {}, words),
      make("button", { type: "button", class: "plain", "aria-label": "Choose no line", onclick: () => point(null) }, "×"));
  if (what.line !== undefined) {
    const line = drawn.lines.find((/** @type {any} */ l) => l.number === what.line);
    if (!line) return [];
    const say = (/** @type {string | null} */ kind) => send({ line: line.number, is: kind, piece }, false);
    const folds = drawn.folds.filter((/** @type {any} */ f) => f.lines.includes(line.number));
    return [
      head(`Line ${line.number}`),
      make("p", { class: "quiet" }, `${line.doubtful ? "Not sure, please say it. " : ""}${line.loose ? "An end of it meets no other line. " : ""}What it is for: ${said(line)}; ${line.evidence}.`),
      make("div", { class: "row", role: "group", "aria-label": "What it is for" },
        ...Object.entries(KINDS).map(([kind, words]) =>
          make("button", { type: "button", "data-key": `is ${kind}`, "aria-pressed": String(line.kind === kind), onclick: () => say(kind) }, words))),
      make("div", { class: "row" },
        make("button", { type: "button", "data-key": "is as it looks", onclick: () => say(null) }, "Go by how it looks"),
        ...folds.map((/** @type {any} */ f) => make("button", { type: "button", onclick: () => point({ fold: f.name }) }, `Its fold: ${f.name}`))),
    ];
  }
  const fold = drawn.folds.find((/** @type {any} */ f) => f.name === what.fold);
  if (!fold) return [];
  const size = () => Math.abs(Number(turns.value.trim().replace(",", ".").replace(/\s*°$/, "")));
  const turn = (/** @type {number} */ way) => {
    const to = turns.value.trim() === "" ? ANGLE : size();
    // What is no number is refused by whoever reads it, with what is allowed.
    send({ set: ["piece", piece, "folds", fold.name], to: Number.isNaN(to) ? turns.value : String(to ? way * to : 0), kind: "number" }, false);
  };
  const way = fold.angle < 0 ? -1 : 1;
  const turns = make("input", { type: "text", id: "turns", inputmode: "decimal", autocomplete: "off", "data-key": "turns", value: fold.angle === null ? "" : round(Math.abs(fold.angle)), onchange: () => turn(way) });
  const side = (/** @type {number} */ to, /** @type {string} */ words) =>
    make("button", { type: "button", "data-key": `way ${to}`, "aria-pressed": String(Boolean(fold.angle) && way === to), onclick: () => turn(to) }, words);
  return [
    head(`Fold ${fold.name}`),
    make("p", { class: "quiet" }, `${turned(fold.angle)[0].toUpperCase()}${turned(fold.angle).slice(1)}. 90 degrees make a corner, 180 lay one panel on the other, 0 stays flat.`),
    make("label", { for: "turns" }, "How far it turns"),
    make("span", { class: "entry" }, turns, make("span", { class: "unit" }, "degrees")),
    make("div", { class: "row", role: "group", "aria-label": "Which way it turns" },
      side(1, "Away from you (mountain)"), side(-1, "Towards you (valley)")),
    make("div", { class: "row" }, ...fold.lines.map((/** @type {number} */ number) =>
      make("button", { type: "button", onclick: () => point({ line: number }) }, `Its line: ${number}`))),
  ];
}
