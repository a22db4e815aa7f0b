// The flat blank in true proportion: card, art, and the lines in layers told apart.
import { drawing, kindsOf, pens } from "./drawn.js";
import { make, picture, svg } from "./elements.js";
import { View } from "./view.js";

const GAP = 12; // mm between blanks
const MARGIN = 9;
const NEAREST = 12;

const WORDS = {
  cut: "cut",
  mountain: "fold away from you",
  valley: "fold towards you",
  perforate: "perforate",
  draw: "draw",
  score: "score",
  open: "fold without an angle",
  ignore: "left out",
  register: "register mark, left out",
};

export class Flat {
  /**
   * @param {HTMLElement} room
   * @param {HTMLElement} legend
   * @param {(net: string, name: string) => void} pressed
   * @param {(size: number) => string} sizes a length in mm, in words
   * @param {(what: import("./drawn.js").Pointed) => void} pointed at a line of a drawing
   */
  constructor(room, legend, pressed, sizes, pointed) {
    this.room = room;
    this.legend = legend;
    this.pressed = pressed;
    this.sizes = sizes;
    this.pointed = pointed;
    /** @type {import("./drawn.js").Pointed[]} */
    this.marked = [];
    /** @type {Set<string>} */
    this.hidden = new Set();
    this.sized = false;
    /** @type {[string, string][]} */
    this.lit = [];
    this.view = new View(room, NEAREST);
    /** @type {any} */
    this.data = null;
    this.listen();
  }

  /** @param {any} data */
  show(data) {
    this.data = data;
    this.draw();
    this.explain();
  }

  draw() {
    const margin = MARGIN + (this.sized ? 8 : 0);
    const { everything, width, height } = this.data.drawn ? this.asDrawn(margin) : this.asCut(margin);
    const label = this.data.drawn ? "The drawing" : "The flat blank";
    this.view.show(svg("svg", { role: "img", "aria-label": label }, ...everything), width, height);
    this.light(this.lit);
    this.mark(this.marked);
  }

  /** @param {number} margin */
  asDrawn(margin) {
    const [left, top, width, height] = this.data.drawn.box;
    const group = svg("g", { transform: `translate(${margin - left} ${margin - top})` }, ...drawing(this.data, this.hidden));
    if (this.sized) group.append(this.measured(left, top, width, height));
    return { everything: [group], width: width + 2 * margin, height: height + 2 * margin };
  }

  /** @param {number} margin */
  asCut(margin) {
    const { blanks, panels, pens } = this.data;
    let at = margin;
    const tall = Math.max(...blanks.map((/** @type {any} */ b) => b.box[3]));
    const everything = [];
    for (const blank of blanks) {
      const [left, top, width, height] = blank.box;
      const group = svg("g", { transform: `translate(${at - left} ${margin - top + (tall - height) / 2})` });
      const card = svg("g", {});
      for (const panel of panels) {
        if (panel.net !== blank.net) continue;
        const own = svg("g", { transform: `translate(${panel.box[0]} ${panel.box[1]})`, class: "piece" });
        own.dataset.net = panel.net;
        own.dataset.name = panel.name;
        own.append(svg("path", { d: panel.shape, fill: panel.outside, "fill-rule": "evenodd" }));
        if (panel.art) own.append(picture(panel.art));
        own.append(svg("path", { d: panel.shape, class: "lit", "fill-rule": "evenodd" }));
        const title = svg("title");
        title.textContent = panel.name;
        own.append(title);
        card.append(own);
      }
      group.append(card);
      const lines = Object.fromEntries(blank.lines);
      for (const [kind, colour, dash] of [...pens].reverse()) {
        if (!lines[kind] || this.hidden.has(kind)) continue;
        group.append(
          svg("path", {
            d: lines[kind], class: `line ${kind}`, stroke: colour,
            "stroke-dasharray": dash.map((/** @type {number} */ d) => d * 3).join(" ") || "none",
          }),
        );
      }
      if (this.sized) group.append(this.measured(left, top, width, height));
      everything.push(group);
      at += width + GAP;
    }
    return { everything, width: at - GAP + margin, height: tall + 2 * margin };
  }

  /**
   * @param {number} left
   * @param {number} top
   * @param {number} width
   * @param {number} height
   */
  measured(left, top, width, height) {
    const group = svg("g", { class: "measured" });
    const [below, beside] = [top + height + 5, left - 5];
    group.append(
      svg("path", { d: `M${left} ${below}H${left + width}M${left} ${below - 2}v4M${left + width} ${below - 2}v4` }),
      svg("path", { d: `M${beside} ${top}V${top + height}M${beside - 2} ${top}h4M${beside - 2} ${top + height}h4` }),
    );
    const across = svg("text", { x: left + width / 2, y: below + 6, "text-anchor": "middle" });
    across.textContent = this.sizes(width);
    const along = svg("text", {
      x: 0, y: 0, "text-anchor": "middle", transform: `translate(${beside - 3} ${top + height / 2}) rotate(-90)`,
    });
    along.textContent = this.sizes(height);
    group.append(across, along);
    return group;
  }

  explain() {
    const there = this.data.drawn
      ? kindsOf(this.data)
      : new Set(this.data.blanks.flatMap((/** @type {any} */ b) => b.lines.map((/** @type {any} */ l) => l[0])));
    const rows = (this.data.drawn ? pens(this.data) : this.data.pens)
      .filter((/** @type {any} */ pen) => there.has(pen[0]))
      .map((/** @type {any} */ [kind, colour, dash]) => {
        const box = make("input", { type: "checkbox", onchange: () => this.toggle(kind) });
        box.checked = !this.hidden.has(kind);
        const sample = svg("svg", { viewBox: "0 0 26 6", class: "sample", "aria-hidden": "true" },
          svg("path", { d: "M0 3H26", stroke: colour, "stroke-width": 2, "stroke-dasharray": dash.map((/** @type {number} */ d) => d * 2.4).join(" ") || "none" }));
        return make("label", { class: "pick" }, box, sample, WORDS[/** @type {keyof typeof WORDS} */ (kind)] ?? kind);
      });
    this.legend.replaceChildren(...rows);
  }

  /** @param {string} kind */
  toggle(kind) {
    if (!this.hidden.delete(kind)) this.hidden.add(kind);
    this.draw();
  }

  /** @param {[string, string][]} panels */
  light(panels) {
    this.lit = panels;
    const lit = new Set(panels.map((each) => each.join("\n")));
    for (const each of this.room.querySelectorAll(".piece")) {
      const own = /** @type {SVGElement} */ (each);
      own.classList.toggle("is-lit", lit.has(`${own.dataset.net}\n${own.dataset.name}`));
    }
  }

  /** @param {import("./drawn.js").Pointed[]} marked lines and folds of a drawing */
  mark(marked) {
    this.marked = marked;
    for (const each of this.room.querySelectorAll(".mark")) {
      const { line, fold } = /** @type {SVGElement} */ (each).dataset;
      each.classList.toggle("is-marked", marked.some((one) => (one.fold === undefined ? String(one.line) === line : one.fold === fold)));
    }
  }

  /** What is pressed: a panel, or a line or fold of a drawing. */
  listen() {
    this.room.addEventListener("click", (event) => {
      if (this.view.dragged) return;
      const own = /** @type {Element} */ (event.target).closest(".piece, .mark");
      const data = own instanceof SVGElement ? own.dataset : {};
      if (data.fold !== undefined) this.pointed({ fold: data.fold });
      else if (data.line !== undefined) this.pointed({ line: Number(data.line) });
      else this.pressed(data.net ?? "", data.name ?? "");
    });
  }
}
