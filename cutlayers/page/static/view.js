// A drawing in a room of the page: brought nearer, moved about, seen whole again.

const LEAST = 0.5;
const SHAKY = 4; // px that a pointer moves while it presses
const STEPS = 25; // so many presses of an arrow key go across what is seen

export class View {
  /**
   * @param {HTMLElement} room
   * @param {number} most how near it may be brought
   */
  constructor(room, most) {
    this.room = room;
    this.most = most;
    /** @type {SVGSVGElement | null} */
    this.drawing = null;
    this.width = this.height = 1;
    this.seen = { x: 0, y: 0, near: 1 };
    this.dragged = false; // whether the pointer that is let go has moved it, so that it is no press
    this.listen();
  }

  /**
   * Another drawing in the room, seen as the one before.
   * @param {SVGSVGElement} drawing
   * @param {number} width of all that is drawn, in the drawing's own units
   * @param {number} height
   */
  show(drawing, width, height) {
    Object.assign(this, { drawing, width, height });
    this.room.replaceChildren(drawing);
    this.look();
  }

  look() {
    if (!this.drawing) return;
    const { x, y, near } = this.seen;
    const [w, h] = [this.width / near, this.height / near];
    this.drawing.setAttribute("viewBox", `${(this.width - w) / 2 - x} ${(this.height - h) / 2 - y} ${w} ${h}`);
  }

  fit() {
    this.seen = { x: 0, y: 0, near: 1 };
    this.look();
  }

  /**
   * What lies at a place of the drawing stays where it is seen; without one, what is in the middle.
   * @param {number} by
   * @param {{x: number, y: number}} [place]
   */
  nearer(by, place) {
    const before = this.seen.near;
    const near = Math.min(this.most, Math.max(LEAST, before * by));
    this.seen.near = near;
    if (place) {
      const share = before / near;
      this.seen.x = (this.width / 2 - place.x) * (1 - share) + this.seen.x * share;
      this.seen.y = (this.height / 2 - place.y) * (1 - share) + this.seen.y * share;
    }
    this.look();
  }

  /** Bring a place into the middle.
   * @param {number} x
   * @param {number} y */
  centre(x, y) {
    this.seen.x = this.width / 2 - x;
    this.seen.y = this.height / 2 - y;
    this.look();
  }

  /** @param {number} x
   * @param {number} y */
  move(x, y) {
    this.seen.x += x;
    this.seen.y += y;
    this.look();
  }

  listen() {
    const { room } = this;
    /** @type {{x: number, y: number} | null} */
    let held = null;
    let way = 0;
    room.addEventListener("pointerdown", (event) => {
      held = { x: event.clientX, y: event.clientY };
      way = 0;
      this.dragged = false;
    });
    room.addEventListener("pointermove", (event) => {
      const matrix = this.drawing?.getScreenCTM();
      if (!held || !matrix) return;
      const [dx, dy] = [event.clientX - held.x, event.clientY - held.y];
      way += Math.abs(dx) + Math.abs(dy);
      this.dragged = way > SHAKY;
      // Not before: who holds the pointer hears of the press in place of what lies under it.
      if (this.dragged && !room.hasPointerCapture(event.pointerId)) room.setPointerCapture(event.pointerId);
      this.move(dx / matrix.a, dy / matrix.d);
      held = { x: event.clientX, y: event.clientY };
    });
    const let_go = () => (held = null);
    room.addEventListener("pointerup", let_go);
    room.addEventListener("pointercancel", let_go);
    room.addEventListener("wheel", (event) => {
      if (!event.ctrlKey && document.activeElement !== room) return;
      event.preventDefault();
      const place = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.drawing?.getScreenCTM()?.inverse());
      this.nearer(event.deltaY < 0 ? 1.25 : 1 / 1.25, place);
    }, { passive: false });
    room.addEventListener("keydown", (event) => {
      const step = Math.max(this.width, this.height) / this.seen.near / STEPS;
      const does = {
        ArrowLeft: () => this.move(step, 0), ArrowRight: () => this.move(-step, 0),
        ArrowUp: () => this.move(0, step), ArrowDown: () => this.move(0, -step),
        "+": () => this.nearer(1.25), "=": () => this.nearer(1.25), "-": () => this.nearer(1 / 1.25),
        Home: () => this.fit(),
      }[event.key];
      if (!does || event.ctrlKey || event.metaKey) return;
      event.preventDefault();
      does();
    });
  }
}
