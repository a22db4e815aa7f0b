// The panel, line or fold that was pressed, and what may be done with it.
import { asked } from "./drawn.js";
import { at, make } from "./elements.js";

/**
 * @typedef {object} Doing
 * @property {(change: any, again: boolean) => void} send
 * @property {(what: import("./drawn.js").Pointed | null) => void} point
 * @property {(net: string, name: string) => void} choose
 */

/**
 * @param {any} box
 * @param {number} piece
 * @param {[string, string] | null} panel by its net and its name
 * @param {import("./drawn.js").Pointed | null} pointed at a line or a fold
 * @param {Doing} doing
 */
export function showChosen(box, piece, panel, pointed, { send, point, choose }) {
  const room = at("chosen");
  if (pointed) {
    const active = /** @type {HTMLElement | null} */ (document.activeElement);
    const kept = active && room.contains(active) ? active.dataset.key : undefined;
    const shown = box.drawn ? asked(box.drawn, pointed, piece, send, point) : [];
    room.hidden = !shown.length;
    room.replaceChildren(...shown);
    if (kept) /** @type {HTMLElement | null} */ (room.querySelector(`[data-key="${CSS.escape(kept)}"]`))?.focus();
    return;
  }
  const found = panel && box.panels.find((/** @type {any} */ p) => p.net === panel[0] && p.name === panel[1]);
  room.hidden = !found;
  if (!found) return;
  const several = box.blanks.length > 1;
  const on = { piece, panels: [found.name], net: several ? found.net : null };
  const add = (/** @type {string} */ what, /** @type {string} */ words) =>
    make("button", { type: "button", onclick: () => send({ add: what, ...on }, false) }, words);
  room.replaceChildren(
    make("div", { class: "row" },
      make("h2", {}, `${several ? `${found.net}: ` : ""}${found.name}`),
      make("button", { type: "button", class: "plain", "aria-label": "Choose no panel", onclick: () => choose("", "") }, "×")),
    make("p", { class: "quiet" }, `A ${found.role}. Put something on it:`),
    make("div", { class: "row" }, add("pattern", "Pattern"), add("words", "Words"), add("colour", "Colour"), add("paper", "Paper to glue on"), add("letters", "Drawn letters")),
  );
}
