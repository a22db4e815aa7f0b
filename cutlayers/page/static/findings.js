// What was found: whether the job works, in one sentence, and each finding with its place and its cure.
import { at, make } from "./elements.js";
import { say } from "./fields.js";

const WORD = { error: "does not work", warning: "take care", note: "worth knowing" };

/**
 * @typedef {object} Doing what a person may do with a finding
 * @property {(finding: any) => void} go to its place and its control
 * @property {(number: number) => void} cure
 * @property {(piece: number) => void} angles of folds that have none
 * @property {() => void} machine to be chosen
 */

/**
 * @param {any} state with the findings as far as they are known
 * @param {any} kit how the rows of a kit lie on sheets; null for others and before it is known
 * @param {boolean} all whether the sheets were looked at as well
 * @param {Doing} doing
 */
export function showFindings(state, kit, all, doing) {
  const { findings, trouble, flat } = state;
  const errors = findings.filter((/** @type {any} */ each) => each.severity === "error").length;
  const verdict = at("verdict");
  verdict.className = `verdict ${errors ? "error" : findings.length || trouble.length || flat.length ? "warning" : "good"}`;
  verdict.textContent = errors
    ? `Not yet: ${errors === 1 ? "one thing does" : `${errors} things do`} not work.`
    : flat.length ? unfolded(flat, state.pieces.length)
    : trouble.length ? "The box folds. Something else is missing:"
    : !all && !findings.length ? "The box folds and closes. Looking at the sheets …"
    : kit ? `${findings.length ? "It works" : "Yes"}: all ${kit.rows} rows fold and close, ${many(kit.pieces, "piece")} on ${many(kit.sheets.length, "sheet")}.`
    : findings.length ? "It works. A few things are worth knowing." : "Yes. It folds, closes and fits on your sheets.";
  if (!errors && flat.length)
    verdict.append(make("span", { class: "more" }, "Its lines, sheets and tools were looked at. Whether it closes, its tabs land and its panels pass each other was not."));
  const troubles = trouble.map((/** @type {any} */ each) => make("li", { class: "finding error" },
    make("span", { class: "kind" }, "missing"),
    make("p", {}, `${say(each.place)} ${each.words}`),
    ...(each.place[0] === "profile" ? [make("button", { type: "button", onclick: doing.machine }, "Choose a machine")] : [])));
  at("findings").replaceChildren(...troubles, ...alike(findings).map(([first, ...rest]) => {
    const shown = item(first, doing);
    if (rest.length) shown.append(make("details", { class: "more", open: opened.has(first.code), ontoggle: (/** @type {any} */ event) => opened[event.target.open ? "add" : "delete"](first.code) },
      make("summary", {}, `and ${rest.length} more like this`),
      make("ol", {}, ...rest.map((each) => item(each, doing)))));
    return shown;
  }));
}

/** @type {Set<string>} codes of which a person has asked to see each */
const opened = new Set();

/**
 * Findings of which the first may stand for all: art on every panel has one for each. What does not
 * work stands by itself.
 * @param {any[]} findings
 * @returns {any[][]}
 */
function alike(findings) {
  /** @type {Map<any, any[]>} */
  const found = new Map();
  for (const each of findings) {
    const own = each.severity === "error" ? each.number : `${each.severity} ${each.code}`;
    found.set(own, [...(found.get(own) ?? []), each]);
  }
  return [...found.values()];
}

/**
 * That a drawn net is not folded, and why.
 * @param {any[]} flat
 * @param {number} pieces of the job
 */
function unfolded(flat, pieces) {
  const unknown = flat.reduce((sum, each) => sum + each.unknown, 0);
  const which = pieces > 1 ? flat.map((each) => each.name).join(" and ") : "This box";
  return unknown
    ? `${which} was not folded: ${unknown === 1 ? "one fold has" : `${unknown} folds have`} no angle.`
    : `${which} stays flat: nothing in the drawing folds.`;
}

/**
 * @param {any} each
 * @param {Doing} doing
 */
function item(each, doing) {
  const found = make("li", { class: `finding ${each.severity}` },
    make("span", { class: "kind" }, WORD[/** @type {keyof typeof WORD} */ (each.severity)]),
    make("button", { type: "button", class: "plain where", onclick: () => doing.go(each) }, each.words));
  const button = (/** @type {string} */ words, /** @type {() => void} */ does) =>
    found.append(make("button", { type: "button", class: "cure", onclick: does }, words));
  if (each.cure) button(`Mend it: ${each.cure}`, () => doing.cure(each.number));
  if (each.code === "drawing-not-folded") button("Find the angles", () => doing.angles(each.piece ?? 0));
  return found;
}

/**
 * @param {number} count
 * @param {string} word
 */
export const many = (count, word) => `${count} ${word}${count === 1 ? "" : "s"}`;
