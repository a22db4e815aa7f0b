// The line across the page: what went wrong, what two people changed at once, and what to do then.
import { at, make } from "./elements.js";
import { key, say } from "./fields.js";

/**
 * @param {string} words none to take the line away
 * @param {HTMLElement[]} buttons
 */
export function notice(words, buttons = []) {
  const room = at("notice");
  if (!words && document.body.classList.contains("is-broken")) return;
  room.hidden = !words;
  room.replaceChildren(...(words ? [make("p", {}, words), ...buttons] : []));
}

/**
 * A file that makes no box as an editor has left it.
 * @param {any} told
 * @param {boolean} seen whether a box of before is on the screen
 * @param {() => void} undo
 */
export function tellBroken(told, seen, undo) {
  const lines = (told.broken ?? []).map((/** @type {any} */ each) =>
    `${each.line ? `line ${each.line}: ` : ""}${each.place.length ? `${say(each.place)} ` : ""}${each.words}`);
  document.body.classList.toggle("is-broken", lines.length > 0);
  if (!lines.length) return notice("");
  const back = make("button", { type: "button", onclick: undo }, "Back to what it was");
  const last = seen ? " What you see is the last that did." : "";
  notice(`${told.file} does not make a box as it stands.${last} ${lines.join("; ")}`, told.canUndo ? [back] : []);
}

/**
 * A value that an editor and a person on the page changed at once.
 * @param {any} conflict
 * @param {any} controls
 * @param {(change: any, again: boolean) => void} send
 */
export function tellConflict(conflict, controls, send) {
  const { place, theirs, yours } = conflict;
  const [file, you] = [theirs, yours].map((each) => (each === null || each === "" ? "nothing" : each));
  const name = place.filter((/** @type {any} */ step) => typeof step === "string").at(-1);
  const mine = make("button", { type: "button", onclick: () => { notice(""); send({ set: place, to: yours, kind: "text", was: theirs, ...kindOf(place, controls) }, false); } }, `Take mine, ${you}`);
  const keep = make("button", { type: "button", onclick: () => notice("") }, `Keep the file's, ${file}`);
  notice(`${name} was changed in an editor at the same time. The file says ${file}, you said ${you}.`, [keep, mine]);
}

/**
 * @param {any} place
 * @param {any} controls
 */
function kindOf(place, controls) {
  for (const groups of Object.values(controls ?? {}))
    for (const group of /** @type {any} */ (groups))
      for (const control of group.controls) if (key(control.place) === key(place)) return { kind: control.kind };
  return {};
}
