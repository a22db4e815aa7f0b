// Two ways to make a box side by side: as it is, and with another size or style; nothing is changed
// until one of them is taken.
import { at, make } from "./elements.js";
import { many } from "./findings.js";
import { choose } from "./pieces.js";
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
    /** @type {Map<string, any>} */
    this.sizes = new Map();
    /** @type {any} */
    this.now = null;
    /** @type {any} */
    this.other = null;
    /** @type {any} */
    this.resting = null;
    this.asked = 0;
    at("comparing-close").addEventListener("click", () => this.dialog.close());
    at("comparing-take").addEventListener("click", () => {
      this.dialog.close();
      this.take(this.changes());
    });
    at("comparing-style").addEventListener("click", () =>
      choose("Which style instead?", (style) => {
        this.style = style;
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
    this.dialog.showModal();
    this.work(true);
  }

  /** What would make the one that is seen the other one. */
  changes() {
    const { piece } = this.seen();
    const style = this.style ? [{ style: this.style, piece }] : [];
    return [...style, ...this.sizes.values()];
  }

  /** @param {boolean} fields whether the sizes to be given are others now */
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
      at("comparing-wrong").textContent = (refused ?? []).map((/** @type {any} */ each) => `${each.place.filter((/** @type {any} */ s) => typeof s === "string").slice(-1)} ${each.words}`).join("; ");
      at("comparing-wrong").hidden = !refused;
      at("comparing-take").disabled = Boolean(refused) || !changes.length;
      if (refused) return;
      this.other = told;
      if (fields) this.fields();
      this.table();
    } catch (error) {
      this.failed(error);
    }
  }

  fields() {
    const controls = this.other.controls.flatMap((/** @type {any} */ group) => group.controls).filter((/** @type {any} */ each) => each.kind === "length");
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

  table() {
    const { now, other } = this;
    const row = (/** @type {string} */ words, /** @type {(one: any) => string | HTMLElement} */ of) =>
      make("tr", {}, make("th", { scope: "row" }, words), make("td", {}, of(now)), make("td", {}, of(other)));
    const unknown = (/** @type {string} */ why) => make("span", { class: "quiet" }, why);
    const better = (/** @type {string} */ words, /** @type {string} */ name, /** @type {(value: number) => string} */ say, /** @type {string} */ why) =>
      row(words, (one) => {
        if (one[name] === null) return unknown(why);
        const rival = (one === now ? other : now)[name];
        return rival !== null && one[name] < rival ? make("strong", {}, say(one[name])) : say(one[name]);
      });
    at("comparing-table").replaceChildren(make("table", { class: "compared" },
      make("thead", {}, make("tr", {}, make("td"), make("th", { scope: "col" }, "As it is"), make("th", { scope: "col" }, "Instead"))),
      make("tbody", {},
        row("Folded", (one) => make("img", { src: `data:image/svg+xml,${encodeURIComponent(one.picture)}`, alt: `${one.style}, folded` })),
        row("Style", (one) => one.style),
        row("Size", (one) => one.sizes.map((/** @type {string[]} */ [name, size]) => `${name} ${size}`).join(", ") || "as drawn"),
        row("Blank", (one) => one.blank.join(", ")),
        row("Sheets", (one) => one.sheets.join(", ") || "none yet"),
        better("Cutting", "minutes", (value) => value < 1 ? "under a minute" : `about ${many(Math.round(value), "minute")}`, "not known for this machine"),
        better("Cost", "cost", (value) => value.toFixed(2), "give the card a price"),
        better("Weight of the sheets", "weight", (value) => `${Math.round(value)} g`, "give the card’s g/m²"),
        row("Does it work?", (one) => one.works ? "yes" : make("span", { class: "refused" }, one.wrong.join("; ") || "no")))));
  }
}
