// A box of panels that hang on each other. The browser folds it: one number, the time, from which
// each panel's angle follows in the style of its element.
import { picture, svg } from "./talk.js";

const FIRST = { azimuth: -32, elevation: -26, near: 1 };
const STEP = 8; // degrees for a press of an arrow key
const DISTANCE = 7; // of the eye, in reaches of the box

/** @param {number} value */
const short = (value) => Math.round(value * 1000) / 1000;

/**
 * What the swings come to, as a sum that the browser works out from --t.
 * @param {any[]} swings
 * @param {number} start
 */
function sum(swings, start) {
  const parts = swings.map(
    (s) =>
      `clamp(0, (var(--t) - ${short(s.start)}) / ${short(s.end - s.start)}, 1) * ${short(s.last - s.first)}`,
  );
  return `calc(${[short(start), ...parts].join(" + ")})`;
}

/** @param {number} millimetres */
const px = (millimetres) => `calc(${short(millimetres)} * var(--s))`;

/**
 * Axes of a sheet, turned right-handed about a direction that lies in it (Rodrigues' formula).
 * @param {number[][]} axes
 * @param {number[]} along
 * @param {number} degrees
 */
function about([right, up, normal], [ux, uy], degrees) {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  const k = 1 - c;
  const mix = (/** @type {number} */ x, /** @type {number} */ y, /** @type {number} */ z) =>
    [0, 1, 2].map((i) => x * right[i] + y * up[i] + z * normal[i]);
  return [
    mix(c + ux * ux * k, ux * uy * k, -uy * s),
    mix(ux * uy * k, c + uy * uy * k, ux * s),
    mix(uy * s, -ux * s, c),
  ];
}

export class Box {
  /**
   * @param {HTMLElement} stage
   * @param {HTMLElement} world
   * @param {(net: string, name: string) => void} pressed
   */
  constructor(stage, world, pressed) {
    this.stage = stage;
    this.world = world;
    this.pressed = pressed;
    this.seen = { ...FIRST };
    this.time = Infinity;
    /** @type {any} */
    this.data = null;
    /** @type {SVGElement[]} */
    this.sides = [];
    /** @type {SVGElement[]} */
    this.shades = [];
    new ResizeObserver(() => this.place()).observe(stage);
    this.listen();
  }

  /** Show a box, at the same time of its folding as the one before if it has as many steps.
   * @param {any} data */
  show(data) {
    const before = this.data;
    const finished = !before || this.time >= before.end;
    this.data = data;
    this.time = finished || before.end !== data.end ? data.end : this.time;
    this.build();
    this.place();
  }

  build() {
    const elements = /** @type {HTMLElement[]} */ ([]);
    this.sides = [];
    const roots = document.createDocumentFragment();
    this.data.panels.forEach((/** @type {any} */ panel, /** @type {number} */ index) => {
      const element = document.createElement("div");
      element.className = "panel";
      elements.push(element);
      this.hang(element, panel);
      const [left, top, width, height] = panel.box;
      for (const outside of [true, false]) {
        const side = this.side(panel, index, outside);
        side.style.left = px(left);
        side.style.top = px(top);
        side.style.width = px(width);
        side.style.height = px(height);
        side.style.transform = `translateZ(${px(panel.apart)})${outside ? "" : " rotateY(180deg)"}`;
        element.append(side);
        this.sides.push(side);
      }
      if (panel.hung) elements[panel.hung.carrier].append(element);
      else roots.append(element);
    });
    this.shades = this.sides.map((side) => /** @type {SVGElement} */ (side.querySelector(".shade")));
    this.shade();
    this.world.replaceChildren(roots);
  }

  /**
   * @param {HTMLElement} element
   * @param {any} panel
   */
  hang(element, panel) {
    const { hung, pose, swings } = panel;
    element.style.setProperty("--a", sum(swings, swings.length ? swings[0].first : 0));
    if (!hung) {
      // Space has z up and y away from the viewer; the screen has y down and z towards them.
      const [r, u, n, o] = pose.map((/** @type {number[]} */ v) => [v[0], -v[2], -v[1]]);
      const turn = [...r, 0, ...u.map((/** @type {number} */ c) => -c), 0, ...n, 0, 0, 0, 0, 1];
      element.style.transform =
        `translate3d(${px(o[0])}, calc(${short(o[1])} * var(--s) - var(--a) * var(--s)), ${px(o[2])})` +
        ` matrix3d(${turn.map(short).join(",")})`;
      return;
    }
    const [x, y] = hung.at;
    const [ux, uy] = hung.along;
    const [ax, ay] = hung.aside;
    const eased = hung.eased
      ? `translate(calc(var(--a) * ${hung.eased * ax} * var(--s)), calc(var(--a) * ${-hung.eased * ay} * var(--s)))`
      : "";
    element.style.transform = [
      hung.before ? eased : "",
      `translate(${px(x)}, ${px(-y)})`,
      `rotate3d(${short(ux)}, ${short(-uy)}, 0, calc(var(--a) * -1deg))`,
      `translate(${px(-x)}, ${px(y)})`,
      hung.before ? "" : eased,
    ].join(" ");
  }

  /**
   * @param {any} panel
   * @param {number} index
   * @param {boolean} outside
   */
  side(panel, index, outside) {
    const [, , width, height] = panel.box;
    const inner = svg("g", outside ? {} : { transform: `translate(${width} 0) scale(-1 1)` });
    inner.append(
      svg("path", {
        d: panel.shape, class: "face", "fill-rule": "evenodd",
        fill: outside ? panel.outside : panel.inside, stroke: outside ? panel.outside : panel.inside,
      }),
    );
    if (outside && panel.art) inner.append(picture(panel.art));
    if (outside && panel.guides)
      inner.append(svg("path", { d: panel.guides, class: "guide" }));
    inner.append(
      svg("path", { d: panel.shape, class: "lit", "fill-rule": "evenodd" }),
      svg("path", { d: panel.shape, class: "shade", "fill-rule": "evenodd" }),
      svg("path", { d: panel.folds, class: "edge fold", stroke: panel.edge }),
      svg("path", { d: panel.tears, class: "edge tear", stroke: panel.edge }),
      svg("path", { d: panel.cuts, class: "edge", stroke: panel.edge }),
    );
    const side = svg(
      "svg",
      { viewBox: `0 0 ${short(width)} ${short(height)}`, preserveAspectRatio: "none", "data-panel": index, "aria-hidden": "true" },
      inner,
    );
    side.dataset.net = panel.net;
    side.dataset.name = panel.name;
    return side;
  }

  /** @param {[string, string][]} panels */
  light(panels) {
    const lit = new Set(panels.map((each) => each.join("\n")));
    for (const side of this.sides)
      side.classList.toggle("is-lit", lit.has(`${side.dataset.net}\n${side.dataset.name}`));
  }

  /** @param {number} time */
  fold(time) {
    this.time = time;
    this.turn();
    this.shade();
  }

  /** Let the light fall on every panel as it stands now. */
  shade() {
    const { panels, lamp, ambient } = this.data;
    /** @type {number[][][]} */
    const turned = [];
    panels.forEach((/** @type {any} */ panel, /** @type {number} */ index) => {
      const { hung, pose, swings } = panel;
      if (!hung) turned.push(pose.slice(0, 3));
      else {
        const angle = swings.reduce((/** @type {number} */ sum, /** @type {any} */ s) =>
          sum + Math.min(1, Math.max(0, (this.time - s.start) / (s.end - s.start))) * (s.last - s.first),
          swings.length ? swings[0].first : 0);
        turned.push(about(turned[hung.carrier], hung.along, angle));
      }
      const facing = turned[index][2].reduce((sum, c, i) => sum + c * lamp[i], 0);
      [facing, -facing].forEach((cosine, side) => {
        const light = ambient + (1 - ambient) * Math.max(0, (cosine + 0.35) / 1.35) * (side ? 0.92 : 1);
        const dark = Math.round((1 - Math.min(1, light)) * 50) / 50;
        const path = this.shades[2 * index + side];
        if (path.dataset.dark === String(dark)) return;
        path.dataset.dark = String(dark);
        path.setAttribute("fill-opacity", String(dark));
        path.setAttribute("stroke-opacity", String(dark));
      });
    });
  }

  /** Set the scale to the room that there is, and everything in it. */
  place() {
    if (!this.data) return;
    const { clientWidth, clientHeight } = this.stage;
    const reach = this.data.reaches.at(-1).size || 1;
    const scale = (0.46 * Math.min(clientWidth, clientHeight * 1.15)) / reach;
    this.world.style.setProperty("--s", `${short(scale)}px`);
    this.stage.style.perspective = `${short(DISTANCE * reach * scale)}px`;
    this.scale = scale;
    this.turn();
  }

  turn() {
    if (!this.data) return;
    const { reaches } = this.data;
    const whole = reaches.at(-1).size || 1;
    const before = reaches.findLast((/** @type {any} */ r) => r.time <= this.time) ?? reaches[0];
    const after = reaches.find((/** @type {any} */ r) => r.time > this.time) ?? before;
    const share = after === before ? 0 : (this.time - before.time) / (after.time - before.time);
    const mix = (/** @type {number} */ one, /** @type {number} */ other) => one + (other - one) * share;
    const [x, y, z] = before.middle.map((/** @type {number} */ c, /** @type {number} */ i) => mix(c, after.middle[i]));
    const near = (this.seen.near * whole) / Math.max(whole, mix(before.size, after.size));
    this.world.style.setProperty("--t", String(short(this.time)));
    this.world.style.transform =
      `scale3d(${short(near)}, ${short(near)}, ${short(near)})` +
      ` rotateX(${short(this.seen.elevation)}deg) rotateY(${short(this.seen.azimuth)}deg)` +
      ` translate3d(${px(-x)}, ${px(z)}, ${px(y)})`;
  }

  first() {
    this.seen = { ...FIRST };
    this.turn();
  }

  /** @param {number} by */
  nearer(by) {
    this.seen.near = Math.min(4, Math.max(0.4, this.seen.near * by));
    this.turn();
  }

  /**
   * @param {number} across
   * @param {number} up
   */
  round(across, up) {
    this.seen.azimuth += across;
    this.seen.elevation = Math.min(90, Math.max(-90, this.seen.elevation - up));
    this.turn();
  }

  listen() {
    const { stage } = this;
    /** @type {Map<number, {x: number, y: number}>} */
    const held = new Map();
    let moved = 0;
    let apart = 0;
    stage.addEventListener("pointerdown", (event) => {
      held.set(event.pointerId, { x: event.clientX, y: event.clientY });
      moved = 0;
      apart = 0;
    });
    stage.addEventListener("pointermove", (event) => {
      const last = held.get(event.pointerId);
      if (!last) return;
      const [dx, dy] = [event.clientX - last.x, event.clientY - last.y];
      held.set(event.pointerId, { x: event.clientX, y: event.clientY });
      moved += Math.abs(dx) + Math.abs(dy);
      if (moved > 4 && !stage.hasPointerCapture(event.pointerId)) stage.setPointerCapture(event.pointerId);
      if (held.size === 2) {
        const [one, other] = [...held.values()];
        const now = Math.hypot(one.x - other.x, one.y - other.y);
        if (apart) this.nearer(now / apart);
        apart = now;
      } else this.round(dx * 0.5, dy * 0.5);
    });
    const let_go = (/** @type {PointerEvent} */ event) => held.delete(event.pointerId);
    stage.addEventListener("pointerup", let_go);
    stage.addEventListener("pointercancel", let_go);
    stage.addEventListener("click", (event) => {
      const side = /** @type {Element} */ (event.target).closest("[data-panel]");
      if (moved <= 4) {
        const data = side instanceof SVGElement ? side.dataset : {};
        this.pressed(data.net ?? "", data.name ?? "");
      }
    });
    stage.addEventListener("wheel", (event) => {
      if (!event.ctrlKey && document.activeElement !== stage) return;
      event.preventDefault();
      this.nearer(event.deltaY < 0 ? 1.1 : 1 / 1.1);
    }, { passive: false });
    stage.addEventListener("keydown", (event) => {
      const does = {
        ArrowLeft: () => this.round(-STEP, 0),
        ArrowRight: () => this.round(STEP, 0),
        ArrowUp: () => this.round(0, -STEP),
        ArrowDown: () => this.round(0, STEP),
        "+": () => this.nearer(1.15),
        "=": () => this.nearer(1.15),
        "-": () => this.nearer(1 / 1.15),
        Home: () => this.first(),
      }[event.key];
      if (!does || event.ctrlKey || event.metaKey) return;
      event.preventDefault();
      does();
    });
  }
}
