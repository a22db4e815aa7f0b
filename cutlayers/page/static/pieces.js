// The boxes of a job: which of them is seen, one more, one less; and the kinds of card they are made of.
import { at, make } from "./elements.js";
import { gallery } from "./gallery.js";

/**
 * @typedef {object} Doing what a person may do with the boxes
 * @property {(piece: number) => void} turnTo
 * @property {(change: any, again: boolean) => void} send
 * @property {(change: any) => void} add a change by which there is one box more
 */

/**
 * Which box is seen, and buttons to add, copy and remove one.
 * @param {any} state
 * @param {Doing} doing
 */
export function boxes(state, doing) {
  const { piece, pieces } = state;
  const inside = [];
  if (pieces.length > 1) {
    const pick = make("select", { id: "piece", "data-key": "piece", onchange: () => doing.turnTo(Number(pick.value)) });
    pieces.forEach((/** @type {string} */ name, /** @type {number} */ index) =>
      pick.append(make("option", { value: index, selected: index === piece }, name)));
    inside.push(make("label", { for: "piece" }, "Box"), pick);
  } else inside.push(make("p", { class: "one" }, "Box: ", make("strong", {}, pieces[0])));
  const button = (/** @type {string} */ own, /** @type {string} */ words, /** @type {() => void} */ does) =>
    make("button", { type: "button", "data-key": own, onclick: does }, words);
  const row = make("div", { class: "row" },
    button("add-box", "Add a box", () => choose("Which box comes with it?", (style) => doing.add({ add: "box", style }))),
    button("copy-box", "Copy this one", () => doing.add({ add: "box", like: piece })));
  if (pieces.length > 1)
    row.append(button("remove-box", "Remove", () => doing.send({ remove: ["piece", piece] }, false)));
  return make("div", { class: "group field boxes", role: "group", "aria-label": "Boxes of this job" }, ...inside, row);
}

/**
 * One kind of card more, which the box that is seen is made of from then on.
 * @param {any} state
 * @param {(change: any, again: boolean) => void} send
 */
export function moreCard(state, send) {
  const name = make("input", { type: "text", id: "card-name", autocomplete: "off", "data-key": "card-name", placeholder: "such as gold card" });
  return make("form", { class: "group field", onsubmit: (/** @type {Event} */ event) => {
    event.preventDefault();
    if (name.value.trim()) send({ add: "stock", name: name.value, piece: state.piece }, false);
    else name.focus();
  } },
    make("label", { for: "card-name" }, "Another card for this box"),
    make("span", { class: "entry" }, name, make("button", {}, "Add it")),
    make("p", { class: "help" }, "It begins like the card of this box; then say how thick and how large it is."));
}

/**
 * Ask for a style: the gallery in a dialog.
 * @param {string} words
 * @param {(style: string) => void} chosen
 */
export async function choose(words, chosen) {
  const dialog = at("choosing");
  at("choosing-head").textContent = words;
  const room = at("choosing-room");
  if (!room.childElementCount) {
    const found = new DOMParser().parseFromString(await (await fetch("../../gallery")).text(), "text/html");
    room.replaceChildren(...[...found.body.childNodes].map((each) => document.importNode(each, true)));
    gallery(room, (style) => {
      dialog.close();
      taking(style);
    });
    at("choosing-close").addEventListener("click", () => dialog.close());
  }
  taking = chosen;
  dialog.showModal();
  at("search").focus();
}

/** @type {(style: string) => void} */
let taking = () => {};
