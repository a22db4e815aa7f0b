// Tabs: on a wide screen folded and flat stand side by side.
import { at } from "./elements.js";

const TABS = ["box", "flat", "sheets"];

export class Tabs {
  /** @param {() => void} turned */
  constructor(turned) {
    this.turned = turned;
    this.tab = "box";
    for (const name of TABS) at(`tab-${name}`).addEventListener("click", () => this.open(name));
    document.querySelector(".tabs")?.addEventListener("keydown", (event) => {
      const by = { ArrowRight: 1, ArrowLeft: -1 }[/** @type {KeyboardEvent} */ (event).key];
      if (!by) return;
      event.preventDefault();
      const seen = TABS.filter((each) => at(`tab-${each}`).checkVisibility());
      this.open(seen[(seen.indexOf(this.tab) + by + seen.length) % seen.length]);
      at(`tab-${this.tab}`).focus();
    });
  }

  /** @param {string} name */
  open(name) {
    this.tab = name;
    document.body.dataset.tab = name;
    for (const each of TABS) {
      const button = at(`tab-${each}`);
      button.setAttribute("aria-selected", String(each === name));
      button.tabIndex = each === name ? 0 : -1;
      at(`pane-${each}`).hidden = each === "sheets" ? name !== "sheets" : false;
    }
    this.turned();
  }
}
