// The folded box: where its panels are at a time of the folding, and how somebody looks at it.
import { Paint } from "./paint.js";
import { after, matrix, placed, poses, projection, room } from "./space.js";

const FIRST = { azimuth: 32, elevation: 26, near: 1 };
const STEP = 8; // degrees for a press of an arrow key
const DISTANCE = 7; // of the eye, in reaches of the box
const DEPTH = 4; // reaches before and behind the middle that are drawn
const FILLS = 0.92; // share of the stage that the box fills

export class Box {
  /**
   * @param {HTMLElement} stage
   * @param {HTMLCanvasElement} canvas
   * @param {(net: string, name: string) => void} pressed
   */
  constructor(stage, canvas, pressed) {
    this.stage = stage;
    this.canvas = canvas;
    this.pressed = pressed;
    this.seen = { ...FIRST };
    this.time = Infinity;
    /** @type {any} */
    this.data = null;
    /** @type {Set<string>} */
    this.lit = new Set();
    /** @type {number[][]} */
    this.ontos = [];
    this.frame = 0;
    try {
      this.paint = new Paint(canvas);
      this.paint.again = () => this.look();
    } catch {
      this.paint = null;
    }
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
    this.paint?.take(data.panels);
    this.place();
  }

  /** @param {[string, string][]} panels */
  light(panels) {
    this.lit = new Set(panels.map((each) => each.join("\n")));
    this.look();
  }

  /** @param {number} time */
  fold(time) {
    this.time = time;
    this.look();
  }

  /** Give the picture as many dots as there is room, and paint it. */
  place() {
    const dots = Math.min(2, devicePixelRatio || 1);
    const { clientWidth, clientHeight } = this.stage;
    const [width, height] = [Math.round(clientWidth * dots), Math.round(clientHeight * dots)];
    if (this.canvas.width !== width) this.canvas.width = width;
    if (this.canvas.height !== height) this.canvas.height = height;
    if (this.data && width && height) this.now();
  }

  /** Paint before the next frame. */
  look() {
    if (!this.frame) this.frame = requestAnimationFrame(() => this.now());
  }

  now() {
    cancelAnimationFrame(this.frame);
    this.frame = 0;
    if (!this.data || !this.paint) return;
    const { panels, reaches, lamp, ambient } = this.data;
    const { middle, size } = room(reaches, this.time);
    const reach = Math.max(...reaches.map((/** @type {any} */ r) => r.size), 1);
    const { clientWidth, clientHeight } = this.stage;
    const scale = (FILLS * Math.min(clientWidth, clientHeight)) / (2 * (size || 1));
    const view = projection(this.seen, middle, DISTANCE * reach, DEPTH * reach,
      [(2 * scale) / clientWidth, (2 * scale) / clientHeight]);
    const now = poses(panels, this.time);
    this.ontos = now.map((pose, index) => {
      const raised = placed(pose, [0, 0, panels[index].apart, 1]);
      return after(view, matrix([pose[0], pose[1], pose[2], raised]));
    });
    const darks = now.map((pose) => {
      const facing = pose[2].reduce((sum, c, i) => sum + c * lamp[i], 0);
      return /** @type {[number, number]} */ ([facing, -facing].map((cosine, inside) => {
        const light = ambient + (1 - ambient) * Math.max(0, (cosine + 0.35) / 1.35);
        return 1 - Math.min(1, light * (inside ? 0.94 : 1));
      }));
    });
    this.paint.draw(this.ontos, darks, panels.map((/** @type {any} */ p) => this.lit.has(`${p.net}\n${p.name}`)));
  }

  /** The panel at a place of the stage, the nearest of several.
   * @param {number} x
   * @param {number} y */
  panelAt(x, y) {
    const { clientWidth, clientHeight } = this.stage;
    const [px, py] = [(2 * x) / clientWidth - 1, 1 - (2 * y) / clientHeight];
    let found = null;
    let nearest = Infinity;
    this.data.panels.forEach((/** @type {any} */ panel, /** @type {number} */ index) => {
      const m = this.ontos[index];
      const [left, top] = panel.box;
      const corners = [];
      for (let i = 0; i < panel.triangles.length; i += 2) {
        const [fx, fy] = [panel.triangles[i] + left, -panel.triangles[i + 1] - top];
        const [cx, cy, cz, cw] = [0, 1, 2, 3].map((r) => m[r] * fx + m[4 + r] * fy + m[12 + r]);
        corners.push([cx / cw, cy / cw, cz / cw]);
      }
      for (let i = 0; i < corners.length; i += 3) {
        const [a, b, c] = corners.slice(i, i + 3);
        const whole = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
        const u = ((px - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (py - a[1])) / whole;
        const v = ((b[0] - a[0]) * (py - a[1]) - (px - a[0]) * (b[1] - a[1])) / whole;
        if (!(u >= 0 && v >= 0 && u + v <= 1)) continue;
        const depth = a[2] + u * (b[2] - a[2]) + v * (c[2] - a[2]);
        if (depth < nearest) [nearest, found] = [depth, panel];
      }
    });
    return /** @type {any} */ (found);
  }

  first() {
    this.seen = { ...FIRST };
    this.look();
  }

  /** @param {number} by */
  nearer(by) {
    this.seen.near = Math.min(4, Math.max(0.4, this.seen.near * by));
    this.look();
  }

  /**
   * @param {number} across
   * @param {number} up
   */
  round(across, up) {
    this.seen.azimuth -= across;
    this.seen.elevation = Math.min(90, Math.max(-90, this.seen.elevation + up));
    this.look();
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
      if (moved > 4 || !this.data) return;
      const box = stage.getBoundingClientRect();
      const panel = this.panelAt(event.clientX - box.left, event.clientY - box.top);
      this.pressed(panel?.net ?? "", panel?.name ?? "");
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
