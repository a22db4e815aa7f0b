// The start page: choose a style, and a job file is made for it.
import { Gone, listen, post } from "./talk.js";

const said = /** @type {HTMLElement} */ (document.getElementById("said"));
const search = /** @type {HTMLInputElement} */ (document.getElementById("search"));
const machine = /** @type {HTMLSelectElement} */ (document.getElementById("machine"));

const ENDED = "The page has ended. Start it again with: cutlayers open";

/** @param {string} words */
function tell(words) {
  said.textContent = words;
  said.hidden = false;
  said.scrollIntoView({ block: "nearest" });
}

document.getElementById("gallery")?.addEventListener("click", async (event) => {
  const card = /** @type {Element} */ (event.target).closest("button");
  if (!card) return;
  const units = /** @type {HTMLInputElement} */ (document.querySelector("[name=units]:checked")).value;
  card.disabled = true;
  try {
    const made = await post("new", { style: card.dataset.style, units, machine: machine.value });
    if (made.refused) tell(made.refused);
    else location.assign(`jobs/${encodeURIComponent(made.file)}/`);
  } catch (error) {
    tell(error instanceof Gone ? ENDED : "That did not work; no file was made.");
  }
  card.disabled = false;
});

search.addEventListener("input", () => {
  const words = search.value.toLowerCase().split(/\s+/).filter(Boolean);
  let any = false;
  for (const item of document.querySelectorAll(".gallery li")) {
    const text = (item.textContent ?? "").toLowerCase();
    const fits = words.every((word) => text.includes(word));
    /** @type {HTMLElement} */ (item).hidden = !fits;
    any ||= fits;
  }
  /** @type {HTMLElement} */ (document.getElementById("none")).hidden = any;
});

listen("presence", () => {}, () => tell(ENDED));
