// The page of a box that is a single file: all that it shows is written in it.
import { Box } from "./box.js";
import { at } from "./elements.js";
import { Time } from "./time.js";

/** @type {any[]} */
const boxes = JSON.parse(at("boxes").textContent);
const all = (/** @type {string} */ which) => /** @type {HTMLElement[]} */ ([...document.querySelectorAll(which)]);
const steps = all("[data-end]");
const box = new Box(at("stage"), at("canvas"), () => {});
const time = new Time(box, (now) => {
  const done = box.data.steps.find((/** @type {any} */ s) => now > s.start && now <= s.end)?.end;
  for (const step of steps) {
    if (Number(step.dataset.end) === done) step.setAttribute("aria-current", "step");
    else step.removeAttribute("aria-current");
  }
});

/** @param {number} number */
function show(number) {
  for (const each of [all(".told"), all(".still")]) each.forEach((one, own) => (one.hidden = own !== number));
  box.time = Infinity;
  box.show(boxes[number]);
  time.show();
}

for (const step of steps) step.addEventListener("click", () => time.go(Number(step.dataset.end)));
at("which")?.addEventListener("change", () => show(Number(at("which").value)));
document.documentElement.classList.add("is-live");
at("still").hidden = box.paint !== null;
show(0);
