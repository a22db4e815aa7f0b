// The dialog in which the files of a job are made: how far it has come, and what came of it.
import { at, make } from "./elements.js";
import { post } from "./talk.js";

export class Making {
  /**
   * @param {() => Promise<any>} settled once every change has reached the file
   * @param {(error: unknown) => void} failed
   */
  constructor(settled, failed) {
    this.settled = settled;
    this.failed = failed;
    this.dialog = at("making");
    this.ended = false;
    at("anyway").addEventListener("click", () => this.start(true));
    at("cancel").addEventListener("click", () => this.stop());
    at("close").addEventListener("click", () => this.dialog.close());
    this.dialog.addEventListener("cancel", (/** @type {Event} */ event) => {
      if (this.ended) return;
      event.preventDefault();
      this.stop();
    });
    at("folder").addEventListener("click", () => this.showFolder().catch(failed));
  }

  /** @param {boolean} anyway */
  start(anyway) {
    this.ended = false;
    at("progress").hidden = false;
    at("progress").value = 0;
    at("made").replaceChildren();
    for (const [id, hidden] of Object.entries({ cancel: false, folder: true, anyway: true, close: true })) at(id).hidden = hidden;
    at("making-head").textContent = "Making the files";
    if (!this.dialog.open) this.dialog.showModal();
    this.settled().then(() => post("make", { anyway })).catch(this.failed);
  }

  stop() {
    post("make", { cancel: true }).catch(this.failed);
  }

  async showFolder() {
    const told = await post("folder", {});
    if (!told.opened) at("made").append(make("p", { class: "quiet" }, `They are in ${told.folder}`));
  }

  /** @param {any} told */
  hear(told) {
    if (!this.dialog.open) return;
    if (told.stage === "working") {
      at("progress").value = told.share;
      return;
    }
    this.ended = true;
    at("progress").hidden = true;
    at("cancel").hidden = true;
    at("close").hidden = false;
    const head = at("making-head");
    const room = at("made");
    if (told.stage === "cancelled") {
      head.textContent = "Stopped";
      room.replaceChildren(make("p", {}, "Nothing was written."));
    } else if (told.stage === "refused") {
      head.textContent = "The files were not made";
      room.replaceChildren(make("p", { class: "refused" }, told.words));
    } else if (!told.written) {
      head.textContent = "It does not work as it stands";
      room.replaceChildren(make("p", {}, "Nothing was written. See what stands under “Will it work?”; with some of it one press mends it."));
      at("anyway").hidden = false;
    } else {
      head.textContent = "Your files are ready";
      at("folder").hidden = false;
      const pictures = told.files.filter((/** @type {any} */ f) => f.name.endsWith(".png") && !f.name.includes("-print"));
      const sorted = [...told.files].sort((/** @type {any} */ one, /** @type {any} */ other) => rank(one.name) - rank(other.name));
      const rest = sorted.map((/** @type {any} */ f) => make("li", {}, make("code", {}, f.name), ` ${FOR[rank(f.name)][1]}`));
      room.replaceChildren(
        make("p", {}, "They are in ", make("code", {}, told.folder)),
        make("div", { class: "pictures" }, ...pictures.map((/** @type {any} */ f) => make("img", { src: `made/${encodeURIComponent(f.name)}`, alt: f.name }))),
        make("ul", { class: "files" }, ...rest));
    }
    at("close").focus();
    this.dialog.scrollTop = 0;
  }
}

/** What files are for, in the order in which they are needed.
 * @type {[RegExp, string][]} */
const FOR = [
  [/-print\./, "to print"],
  [/\.(dxf|svg)$/, "for your machine"],
  [/^guide\.html$/, "what to do, step by step"],
  [/^box\.html$/, "the box to turn and fold, for a friend"],
  [/^folded/, "the box to look at"],
  [/^report/, "what each layer holds"],
  [/./, "the sheet to look at"],
];

/** @param {string} name */
const rank = (name) => FOR.findIndex(([which]) => which.test(name));
