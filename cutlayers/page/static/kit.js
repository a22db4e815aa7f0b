// A kit: the rows of its table, of which one is seen, and how all of them lie on sheets.
import { at, make } from "./elements.js";
import { many } from "./findings.js";
import { get } from "./talk.js";

export class Kit {
  /**
   * @param {(row: number) => void} turnTo
   * @param {(error: unknown) => void} failed
   */
  constructor(turnTo, failed) {
    this.turnTo = turnTo;
    this.failed = failed;
    this.room = at("kit");
    this.asked = -1;
    /** @type {any} */
    this.now = null;
  }

  /**
   * @param {any} kit the row that is seen; null for a job without a table
   * @param {number} revision
   */
  show(kit, revision) {
    this.room.hidden = !kit;
    this.now = kit;
    if (!kit || this.asked === revision) return;
    this.asked = revision;
    get("rows").then((told) => told && this.table(told)).catch(this.failed);
  }

  /** @param {any} told */
  table(told) {
    const { file, count, row } = this.now;
    const kept = this.room.contains(document.activeElement);
    const before = this.room.querySelector(".rows")?.scrollTop ?? 0;
    const head = make("tr", {}, ...told.columns.map((/** @type {string} */ name) => make("th", { scope: "col" }, name)));
    const rows = told.rows.map((/** @type {string[]} */ cells, /** @type {number} */ number) => {
      const [first, ...rest] = cells;
      const press = make("button", { type: "button", class: "plain", "aria-pressed": String(number === row), onclick: () => this.turnTo(number) }, first || "(empty)");
      return make("tr", { class: number === row ? "is-seen" : null }, make("th", { scope: "row" }, press), ...rest.map((each) => make("td", {}, each)));
    });
    const step = (/** @type {number} */ by, /** @type {string} */ words) =>
      make("button", { type: "button", disabled: row + by < 0 || row + by >= count, onclick: () => this.turnTo(row + by) }, words);
    const left = count - told.rows.length;
    this.room.replaceChildren(
      make("div", { class: "row" },
        make("h2", {}, `Row ${row + 1} of ${count}`), make("span", { class: "quiet" }, `of ${file}`),
        make("span", { class: "row" }, step(-1, "Row before"), step(1, "Next row"))),
      make("p", { class: "quiet" }, "You see the box of one row. A word in braces, such as {name}, takes what stands in that column. “Make the files” makes all rows."),
      make("div", { class: "rows", tabindex: 0, role: "group", "aria-label": `Rows of ${file}` }, make("table", {}, make("thead", {}, head), make("tbody", {}, ...rows))),
      ...(left > 0 ? [make("p", { class: "quiet" }, `and ${left} more rows`)] : []));
    const list = /** @type {HTMLElement} */ (this.room.querySelector(".rows"));
    list.scrollTop = before;
    if (kept) /** @type {HTMLElement | null} */ (list.querySelector("[aria-pressed=true]"))?.focus();
  }

  /**
   * All rows on their sheets, in words.
   * @param {any} plan
   * @returns {HTMLElement[]}
   */
  sheets(plan) {
    const of = (/** @type {any} */ sheet) => make("li", {}, make("strong", {}, `Sheet ${sheet.number}`), ` ${sheet.stock}: `,
      ...sheet.rows.flatMap((/** @type {any} */ each, /** @type {number} */ at) => [at ? ", " : "",
        make("button", { type: "button", class: "plain link", onclick: () => this.turnTo(each.row) }, each.words)]));
    return [make("p", {}, `${many(plan.rows, "row")} make ${many(plan.pieces, "piece")} on ${many(plan.sheets.length, "sheet")}.`),
      make("ol", { class: "told" }, ...plan.sheets.map(of))];
  }
}
