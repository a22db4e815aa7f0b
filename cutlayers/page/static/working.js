// A side of a sheet as it is worked: a slider of time, what is done by then, and where the tool is.
import { make, svg } from "./elements.js";
import { begun, drawn, minutes, placeAt, reached } from "./moves.js";
import { View } from "./view.js";

const NEAREST = 600; // times; a blade's turn of a quarter of a millimetre then fills the view
const MARGIN = 4; // mm
const FINE = 0.05; // seconds

const SPEEDS = [
  ["0.1", "ten times slower"],
  ["1", "as fast as it is"],
  ["10", "ten times faster"],
  ["60", "sixty times faster"],
];

export class Working {
  /**
   * @param {HTMLElement} room
   * @param {any} data
   * @param {string} title
   * @param {() => void} closed
   */
  constructor(room, data, title, closed) {
    this.data = data;
    this.now = 0;
    this.playing = 0;
    this.current = -1; // the line that is drawn in part
    const { seconds, moves } = data;

    this.stage = make("div", {
      class: "sheet", tabindex: 0, role: "group",
      "aria-label": `${title}, as it is worked. Arrow keys move it, plus and minus bring it nearer or farther.`,
    });
    this.play = make("button", { type: "button", class: "round", onclick: () => (this.playing ? this.stop() : this.start()) });
    this.range = make("input", { type: "range", min: 0, max: seconds, step: "any", value: 0, "aria-label": "Time" });
    this.range.addEventListener("input", () => this.go(Number(this.range.value)));
    this.range.addEventListener("keydown", (/** @type {KeyboardEvent} */ event) => this.pressed(event));
    this.speed = make("select", { "aria-label": "How fast" }, ...SPEEDS.map(([value, words]) => make("option", { value, selected: value === "10" }, words)));
    this.told = make("p", { class: "told-now" });
    this.follows = make("input", { type: "checkbox", onchange: () => this.draw() });
    this.ways = make("input", { type: "checkbox", onchange: () => this.drawing.classList.toggle("has-ways", this.ways.checked) });
    const press = (/** @type {string} */ words, /** @type {() => void} */ does, /** @type {string} */ name = words) =>
      make("button", { type: "button", "aria-label": name, onclick: does }, words);
    const caption = make("figcaption", {},
      make("p", {}, title),
      make("div", { class: "row" }, this.play, this.range, make("label", { class: "speed" }, this.speed)),
      this.told,
      make("div", { class: "legend" }, ...this.legend()),
      make("div", { class: "row" },
        press("‹ Line", () => this.step(-1), "The line before"), press("Line ›", () => this.step(1), "The next line"),
        make("label", { class: "pick" }, this.follows, "stay with the tool"),
        make("label", { class: "pick" }, this.ways, "ways with the tool up")),
      make("div", { class: "row end" },
        press("+", () => this.view.nearer(1.6), "Nearer"), press("−", () => this.view.nearer(1 / 1.6), "Farther"),
        press("Whole", () => this.view.fit()), press("Back to the picture", closed)),
      ...(data.kept ? [] : [make("p", { class: "quiet" }, "Your machine's program may take the lines in another order.")]));
    room.replaceChildren(this.stage, caption);

    /** @type {number[]} when the tool is set down, line by line */
    this.starts = [];
    this.view = this.paint();
    this.play.disabled = this.range.disabled = !moves.length;
    this.draw();
  }

  legend() {
    const { lines } = this.data;
    /** @type {Map<string, any>} */
    const layers = new Map();
    for (const line of lines) layers.set(`${line.work}, ${line.tool}`, line);
    const sample = (/** @type {Record<string, any>} */ how) => svg("svg", { viewBox: "0 0 26 6", class: "sample", "aria-hidden": "true" }, svg("path", { d: "M0 3H26", ...how }));
    const rows = [...layers].map(([words, line]) => make("span", { class: "pick" }, sample({ stroke: line.colour, "stroke-width": 2.4 }), words));
    if (this.trails()) rows.push(make("span", { class: "pick" }, sample({ class: "holder" }), "the holder ahead of the blade, as in the file"));
    return rows;
  }

  trails() {
    return this.data.moves.some((/** @type {any} */ move) => move.tip.length);
  }

  /** All that is ever seen; what is not done yet is hidden. */
  paint() {
    const { width, height, marks, lines, moves } = this.data;
    /** @type {any[][]} */
    const of = lines.map(() => []);
    for (const move of moves) of[move.line].push(move);
    this.starts = of.map((each) => each.find((move) => !move.lifted).start);
    const edge = (/** @type {any} */ move) => (move.tip.length ? move.tip : move.axis);
    const path = (/** @type {string} */ kind, /** @type {string} */ d, given = {}) => svg("path", { class: kind, d, ...given });
    const worked = moves.filter((/** @type {any} */ move) => !move.lifted);
    this.parts = lines.map((/** @type {any} */ line, /** @type {number} */ number) => {
      const own = of[number].filter((move) => !move.lifted);
      const up = of[number].filter((move) => move.lifted);
      return [
        { element: path("way", "", { display: "none" }), moves: up, points: (/** @type {any} */ m) => m.axis },
        { element: path("done", "", { display: "none", stroke: line.colour }), moves: own, points: edge },
        { element: path("holder", "", { display: "none" }), moves: own.filter((move) => move.tip.length), points: (/** @type {any} */ m) => m.axis },
      ];
    });
    for (const part of this.parts.flat()) part.element.setAttribute("d", part.moves.map((/** @type {any} */ m) => drawn(part.points(m))).join(""));
    this.blade = path("blade", "");
    this.spot = path("spot", "");
    const kinds = [0, 1, 2].map((kind) => svg("g", {}, ...this.parts.map((/** @type {any} */ parts) => parts[kind].element)));
    const upright = svg("g", { transform: `translate(${MARGIN} ${height + MARGIN}) scale(1 -1)` },
      svg("rect", { class: "stock", width, height }),
      path("mark", `M0 0H${width}V${height}H0Z`),
      path("mark", marks.map((/** @type {number[]} */ each) => drawn(each)).join("")),
      path("coming", worked.map((/** @type {any} */ move) => drawn(edge(move))).join("")),
      ...kinds, this.blade, this.spot);
    this.drawing = svg("svg", { role: "img", "aria-label": "The lines worked so far, and the tool", class: "worked" }, upright);
    const view = new View(this.stage, NEAREST);
    view.show(this.drawing, width + 2 * MARGIN, height + 2 * MARGIN);
    return view;
  }

  draw() {
    const { moves, lines, seconds, height } = this.data;
    const number = begun(moves, this.now);
    const move = moves[Math.max(number, 0)];
    if (!move) return this.tell("Nothing is worked on this side.");
    const to = reached(move, this.now, lines[move.line].gains);
    const before = this.current;
    this.current = number < 0 ? -1 : move.line;
    const [low, high] = [Math.max(0, Math.min(before, this.current)), Math.max(before, this.current)];
    for (let line = low; line <= high; line += 1) this.reveal(line, move, to);
    const axis = placeAt(move.axis, to);
    const tip = move.tip.length ? placeAt(move.tip, to) : axis;
    this.spot.setAttribute("d", `M${axis.x} ${axis.y}h0`);
    this.spot.classList.toggle("is-up", move.lifted || number < 0);
    this.blade.setAttribute("d", `M${tip.x} ${tip.y}L${axis.x} ${axis.y}`);
    if (this.follows.checked) this.view.centre(axis.x + MARGIN, height + MARGIN - axis.y);
    this.tell(this.now >= seconds ? "finished" : this.words(number));
  }

  /**
   * @param {number} line
   * @param {any} move the one that is under way, or was last
   * @param {{step: number, share: number}} to how far it has come
   */
  reveal(line, move, to) {
    for (const { element, moves, points } of this.parts[line]) {
      const parts = [];
      for (const each of line > this.current ? [] : moves)
        if (line < this.current || each.start < move.start) parts.push(drawn(points(each)));
        else if (each === move) parts.push(drawn(points(each), to));
      if (parts.length) {
        element.setAttribute("d", parts.join(""));
        element.removeAttribute("display");
      } else element.setAttribute("display", "none");
    }
  }

  /** @param {number} number of the move that has begun last */
  words(number) {
    const { moves, lines } = this.data;
    const move = moves[number];
    const next = moves[number + 1];
    const stands = !move || (this.now >= move.end && next?.start > this.now);
    const line = lines[(stands && next ? next : move).line];
    const own = `${line.work}${line.turns > 1 ? `, pass ${line.turn} of ${line.turns}` : ""}, ${line.tool}`;
    if (stands && next && move && lines[move.line].tool !== line.tool) return `${own}: the tool is changed`;
    const what =
      stands && next ? (next.lifted ? "being lifted" : "being set down")
      : move.lifted ? "on its way, lifted" : `line ${move.line + 1} of ${lines.length}, ${line.name}`;
    return `${own}: ${what}`;
  }

  /** @param {string} words */
  tell(words) {
    const { seconds } = this.data;
    const time = `${minutes(this.now)} of ${minutes(seconds)}`;
    this.range.value = String(this.now);
    this.range.setAttribute("aria-valuetext", `${time}, ${words}`);
    this.told.replaceChildren(make("strong", {}, time), ` ${words}`);
    this.play.textContent = this.playing ? "❚❚" : "▶";
    this.play.setAttribute("aria-label", this.playing ? "Stop" : "Play");
  }

  /** @param {number} time */
  go(time) {
    this.halt();
    this.to(time);
  }

  /** @param {number} time */
  to(time) {
    this.now = Math.min(this.data.seconds, Math.max(0, time));
    this.draw();
  }

  /** Go to where a line begins: that which is before or after, or under way.
   * @param {number} by */
  step(by) {
    const starts = this.starts;
    const at = by > 0 ? starts.find((time) => time > this.now + 1e-6) : starts.findLast((time) => time < this.now - 1e-6);
    this.go(at ?? (by > 0 ? this.data.seconds : 0));
  }

  /** @param {KeyboardEvent} event */
  pressed(event) {
    const by = event.shiftKey ? FINE : 1;
    const does = {
      ArrowLeft: () => this.go(this.now - by), ArrowDown: () => this.go(this.now - by),
      ArrowRight: () => this.go(this.now + by), ArrowUp: () => this.go(this.now + by),
      PageUp: () => this.step(1), PageDown: () => this.step(-1),
    }[event.key];
    if (!does || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    does();
  }

  /** Show the same time and place as another did.
   * @param {Working} other */
  likeBefore(other) {
    this.view.seen = other.view.seen;
    this.view.look();
    this.speed.value = other.speed.value;
    this.follows.checked = other.follows.checked;
    this.ways.checked = other.ways.checked;
    this.drawing.classList.toggle("has-ways", this.ways.checked);
    this.to(other.now);
  }

  halt() {
    cancelAnimationFrame(this.playing);
    this.playing = 0;
  }

  stop() {
    this.halt();
    this.draw();
  }

  /** Let time go on; for who wants less motion, from line to line. */
  start() {
    if (this.now >= this.data.seconds) this.now = 0;
    const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
    const starts = still ? [0, ...this.starts, this.data.seconds] : [];
    let time = this.now;
    let last = performance.now();
    const frame = (/** @type {number} */ now) => {
      time += (Math.max(0, now - last) / 1000) * Number(this.speed.value);
      last = now;
      this.playing = time < this.data.seconds ? requestAnimationFrame(frame) : 0;
      const shown = still ? (starts.findLast((start) => start <= time) ?? 0) : time;
      if (shown !== this.now || !this.playing) this.to(shown);
    };
    this.playing = requestAnimationFrame(frame);
    this.draw();
  }
}
