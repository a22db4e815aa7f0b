// The start page: choose a style, and a job file is made for it.
import { gallery } from "./gallery.js";
import { Gone, listen, post } from "./talk.js";

const said = /** @type {HTMLElement} */ (document.getElementById("said"));
const machine = /** @type {HTMLSelectElement} */ (document.getElementById("machine"));

const ENDED = "The page has ended. Start it again with: cutlayers open";

/** @param {string} words */
function tell(words) {
  said.textContent = words;
  said.hidden = false;
  said.scrollIntoView({ block: "nearest" });
}

gallery(document, async (style, card) => {
  const units = /** @type {HTMLInputElement} */ (document.querySelector("[name=units]:checked")).value;
  card.disabled = true;
  try {
    const made = await post("new", { style, units, machine: machine.value });
    if (made.refused) tell(made.refused);
    else location.assign(`jobs/${encodeURIComponent(made.file)}/`);
  } catch (error) {
    tell(error instanceof Gone ? ENDED : "That did not work; no file was made.");
  }
  card.disabled = false;
});

// A drawing: where its file does not say how large it is, it is asked for.
const scale = /** @type {HTMLFormElement | null} */ (document.getElementById("scale"));
const scales = /** @type {HTMLSelectElement | null} */ (document.getElementById("scales"));
let drawing = "";

/** @param {string} [unit] */
async function bring(unit) {
  if (!scale || !scales) return;
  const units = /** @type {HTMLInputElement} */ (document.querySelector("[name=units]:checked")).value;
  said.hidden = true;
  try {
    const made = await post("bring", { drawing, unit, units, machine: machine.value });
    if (made.refused) return tell(made.refused);
    if (made.file) return location.assign(`jobs/${encodeURIComponent(made.file)}/`);
    /** @type {HTMLElement} */ (document.getElementById("scale-said")).textContent = `${drawing} does not say how large it is. Which is right?`;
    scales.replaceChildren(new Option("choose", ""), ...made.scales.map((/** @type {{unit: string, words: string}} */ each) => new Option(each.words, each.unit)));
    scale.hidden = false;
    scales.focus();
  } catch (error) {
    tell(error instanceof Gone ? ENDED : "That did not work; no file was made.");
  }
}

document.getElementById("drawings")?.addEventListener("click", async (event) => {
  const button = /** @type {Element} */ (event.target).closest("button");
  if (!button) return;
  drawing = button.dataset.drawing ?? "";
  if (scale) scale.hidden = true;
  button.disabled = true;
  await bring();
  button.disabled = false;
});
scale?.addEventListener("submit", (event) => {
  event.preventDefault();
  bring(scales?.value);
});

listen("presence", () => {}, () => tell(ENDED));
