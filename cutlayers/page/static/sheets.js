// The sheets of a job as they lie on the mat; each opens to show how it is worked.
import { make } from "./elements.js";
import { get } from "./talk.js";

export class Sheets {
  /**
   * @param {HTMLElement} room
   * @param {(error: any) => void} failed
   */
  constructor(room, failed) {
    this.room = room;
    this.failed = failed;
    this.revision = -1;
    /** @type {{number: number, working: import("./working.js").Working} | null} */
    this.opened = null;
  }

  /** What is shown is of a job that has changed. */
  wait() {
    this.opened?.working.stop();
    this.room.classList.add("is-old");
    if (!this.room.childElementCount) this.say("Looking at the sheets …");
  }

  /** @param {string} words */
  say(words) {
    this.room.replaceChildren(make("p", { class: "quiet" }, words));
  }

  /**
   * @param {any} told
   * @param {number} revision
   * @param {HTMLElement[]} kit where all rows of a kit lie, in place of pictures
   */
  show(told, revision, kit) {
    this.revision = revision;
    this.titles = told.pictures;
    this.room.classList.remove("is-old");
    if (kit.length) return this.room.replaceChildren(...kit);
    if (!told.pictures.length) return this.say("There are no sheets yet.");
    const rows = told.rows.map((/** @type {any} */ row) =>
      make("li", {}, `${row.copies} × ${row.size} ${row.stock}, ${row.used} % used${row.minutes === null ? "" : `, about ${row.minutes} min each`}: ${Object.entries(row.pieces).map(([name, count]) => `${count} ${name}`).join(", ")}`));
    const needs = told.stocks.map((/** @type {any} */ s) =>
      make("li", {}, `${s.stock}: ${s.sheets} ${s.sheets === 1 ? "sheet" : "sheets"}${s.weight === null ? "" : `, ${s.weight} g`}${s.cost === null ? "" : `, ${s.cost} in all`}`));
    this.figures = told.pictures.map(() => make("figure"));
    this.figures.forEach((/** @type {any} */ _, /** @type {number} */ number) => this.picture(number));
    this.room.replaceChildren(make("ul", { class: "told" }, ...needs, ...rows), ...this.figures);
    const before = this.opened;
    this.opened = null;
    if (before && before.number < this.figures.length && this.room.checkVisibility()) this.open(before.number, before.working);
  }

  /** @param {number} number */
  picture(number) {
    const title = this.titles[number];
    const open = make("button", { type: "button", onclick: () => this.open(number) }, "See it worked, line by line");
    this.figures[number].replaceChildren(
      make("img", { src: `sheets/${number}.svg?revision=${this.revision}`, alt: title, loading: "lazy" }),
      make("figcaption", { class: "row" }, make("span", {}, title), open));
    return open;
  }

  /**
   * @param {number} number
   * @param {import("./working.js").Working} [before] how it was seen until the job changed
   */
  async open(number, before) {
    const { revision } = this;
    try {
      const [{ Working }, data] = await Promise.all([import("./working.js"), get(`sheets/${number}/working?revision=${revision}`)]);
      if (!data || revision !== this.revision) return;
      this.close();
      const working = new Working(this.figures[number], data, this.titles[number], () => this.close()?.focus());
      this.opened = { number, working };
      if (before) working.likeBefore(before);
      else {
        working.play.focus({ preventScroll: true });
        this.figures[number].scrollIntoView({ block: "nearest" });
      }
    } catch (error) {
      this.failed(error);
    }
  }

  /** Show the picture again of the one that is open. */
  close() {
    if (!this.opened) return null;
    const { number, working } = this.opened;
    working.halt();
    this.opened = null;
    return this.picture(number);
  }
}
