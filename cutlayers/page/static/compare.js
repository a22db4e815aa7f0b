// Two ways to make a box side by side: as it is, and with another size or style; nothing is changed
// until one of them is taken.
import { Box } from "./box.js";
import { at, make } from "./elements.js";
import { many } from "./findings.js";
import { choose } from "./pieces.js";
import { room } from "./space.js";
import { post } from "./talk.js";

const REST = 300; // ms without a key press before it is worked out

export class Compare {
  /**
   * @param {() => {state: any, piece: number}} seen
   * @param {(changes: any[]) => void} take
   * @param {(error: unknown) => void} failed
   */
  constructor(seen, take, failed) {
    this.seen = seen;
    this.take = take;
    this.failed = failed;
    this.dialog = at("comparing");
    this.style = "";
    this.usual = false; // whether that style comes in its usual size, since this one does not suit it
    /** @type {Map<string, any>} */
    this.sizes = new Map();
    /** @type {any} */
    this.now = null;
    /** @type {any} */
    this.other = null;
    /** @type {any} */
    this.resting = null;
    this.asked = 0;
    /** @type {Box[] | undefined} */
    this.boxes = undefined;
    at("comparing-close").addEventListener("click", () => this.dialog.close());
    at("comparing-take").addEventListener("click", () => {
      this.dialog.close();
      this.take(this.changes());
    });
    at("comparing-style").addEventListener("click", () =>
      choose("Which style instead?", (style) => {
        this.style = style;
        this.usual = false;
        at("comparing-said").textContent = `Instead: ${style.replaceAll("-", " ")}`;
        this.sizes.clear();
        this.work(true);
      }));
  }

  open() {
    this.style = "";
    this.sizes.clear();
    this.now = this.other = null;
    at("comparing-table").replaceChildren(make("p", { class: "quiet" }, "Working it out …"));
    at("comparing-sizes").replaceChildren();
    at("comparing-said").textContent = this.seen().state.kit ? "For the row that you see, by itself." : "";
    at("comparing-wrong").hidden = true;
    this.dialog.showModal();
    this.work(true);
  }

  /** What would make the one that is seen the other one. */
  changes() {
    const { piece } = this.seen();
    const style = this.style ? [{ style: this.style, piece, usual: this.usual }] : [];
    return [...style, ...this.sizes.values()];
  }

  /**
   * @param {boolean} fields whether the sizes to be given are others now
   * @returns {Promise<void>}
   */
  async work(fields) {
    const own = ++this.asked;
    const { piece } = this.seen();
    const changes = this.changes();
    try {
      this.now ??= await post("compare", { changes: [], piece });
      const told = changes.length ? await post("compare", { changes, piece }) : this.now;
      if (own !== this.asked) return;
      if (!told || !this.now) return; // somebody changed the job meanwhile
      const refused = told.refused ?? this.now.refused;
      if (refused && this.style && !this.usual && !this.sizes.size) {
        this.usual = true;
        return this.work(fields);
      }
      for (const room of [at("comparing-table"), this.dialog.querySelector(".folded")]) room.classList.toggle("is-old", Boolean(refused));
      at("comparing-wrong").textContent = (refused ?? []).map((/** @type {any} */ each) => `${each.place.filter((/** @type {any} */ s) => typeof s === "string").slice(-1)} ${each.words}`).join("; ");
      at("comparing-wrong").hidden = !refused;
      at("comparing-take").disabled = Boolean(refused) || !changes.length;
      if (refused) return fields && told.controls ? this.fields(told.controls) : undefined;
      this.other = told;
      if (fields) this.fields(told.controls);
      this.folded();
      this.table();
    } catch (error) {
      this.dialog.close();
      this.failed(error);
    }
  }

  /** @param {any[]} groups */
  fields(groups) {
    const controls = groups.flatMap((/** @type {any} */ group) => group.controls).filter((/** @type {any} */ each) => each.kind === "length");
    at("comparing-sizes").replaceChildren(...controls.map((/** @type {any} */ each) => {
      const id = `compare-${each.place.at(-1)}`;
      const input = make("input", { type: "text", id, autocomplete: "off", value: each.value ?? "", placeholder: each.default, oninput: () => {
        this.sizes.set(id, { set: each.place, to: input.value, kind: each.kind, was: null });
        clearTimeout(this.resting);
        this.resting = setTimeout(() => this.work(false), REST);
      } });
      return make("div", { class: "field" }, make("label", { for: id }, each.label), input);
    }));
  }

  /** Both boxes at one scale, seen from where they were. */
  folded() {
    const stages = /** @type {HTMLElement[]} */ ([...this.dialog.querySelectorAll(".stage")]);
    this.boxes ??= stages.map((stage) => new Box(stage, /** @type {HTMLCanvasElement} */ (stage.querySelector("canvas")), () => {}));
    this.dialog.querySelector(".folded").hidden = !this.boxes[0].paint;
    const both = [this.now.box, this.other.box];
    const sizes = both.map((data) => room(data.reaches, data.end).size || 1);
    both.forEach((data, index) => {
      const box = /** @type {Box[]} */ (this.boxes)[index];
      box.seen.near = sizes[index] / Math.max(...sizes);
      box.time = Infinity;
      box.show(data);
    });
  }

  table() {
    const { now, other } = this;
    const lines = (/** @type {string[]} */ each, /** @type {string} */ none) => make("span", {}, ...(each.length ? each.map((one) => make("div", {}, one)) : [none]));
    const row = (/** @type {string} */ words, /** @type {(one: any) => string | HTMLElement} */ of) =>
      make("tr", {}, make("th", { scope: "row" }, words), make("td", {}, of(now)), make("td", {}, of(other)));
    const unknown = (/** @type {string} */ why) => make("span", { class: "quiet" }, why);
    const better = (/** @type {string} */ words, /** @type {string} */ name, /** @type {(value: number) => string} */ say, /** @type {string} */ why) =>
      row(words, (one) => {
        if (!one.sheets.length) return unknown("no sheets");
        if (one[name] === null) return unknown(why);
        const rival = (one === now ? other : now)[name];
        return rival !== null && one[name] < rival ? make("strong", {}, say(one[name])) : say(one[name]);
      });
    at("comparing-table").replaceChildren(make("table", { class: "compared" },
      make("colgroup", {}, make("col", { class: "named" }), make("col", { span: 2 })),
      make("thead", { class: "hidden" }, make("tr", {}, make("td"), make("th", { scope: "col" }, "As it is"), make("th", { scope: "col" }, "Instead"))),
      make("tbody", {},
        row("Style", (one) => one.style),
        row("Size", (one) => lines(one.sizes.map((/** @type {string[]} */ [name, size]) => `${name} ${size}`), "as drawn")),
        row("Cut out, flat", (one) => lines(one.blank, "")),
        row("Sheets", (one) => lines(one.sheets, "none yet")),
        better("Cutting", "minutes", (value) => value < 1 ? "under a minute" : `about ${many(Math.round(value), "minute")}`, "not known for this machine"),
        better("Cost", "cost", (value) => value.toFixed(2), "give the card a price"),
        better("Weight of the sheets", "weight", (value) => `${Math.round(value)} g`, "give the card’s g/m²"),
        row("Does it work?", (one) => one.works ? "yes" : make("span", { class: "refused" }, one.wrong.join("; ") || "no")))));
  }
}
