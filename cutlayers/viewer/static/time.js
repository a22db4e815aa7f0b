// The slider of time: the box folded by hand or by itself, and which step of it that is.
import { at } from "./elements.js";

const WHOLE = 9; // seconds for all of a long assembly, at most one for each of its moves
const BACK = 1.6; // so much faster it is opened

export class Time {
  /**
   * @param {import("./box.js").Box} box
   * @param {(time: number) => void} [passed] is told of each time that is shown
   */
  constructor(box, passed = () => {}) {
    this.box = box;
    this.passed = passed;
    this.range = at("time");
    this.play = at("play");
    this.playing = 0;
    this.range.addEventListener("input", () => this.go(Number(this.range.value)));
    this.play.addEventListener("click", () => (this.playing ? this.stop() : this.start()));
    at("front").addEventListener("click", () => box.first());
  }

  /** Show the time of a box that is shown anew. */
  show() {
    const { end } = this.box.data;
    this.range.max = String(end);
    this.range.disabled = !end;
    this.play.disabled = !end;
    this.range.value = String(this.box.time);
    this.tell();
  }

  /** Show the box at a time.
   * @param {number} time */
  go(time) {
    this.halt();
    this.to(time);
  }

  /** @param {number} time */
  to(time) {
    this.range.value = String(time);
    this.box.fold(time);
    this.tell();
  }

  tell() {
    const { steps, end } = this.box.data;
    const now = Number(this.range.value);
    const step = steps.find((/** @type {any} */ s) => now > s.start && now <= s.end);
    at("step").textContent = !end ? "It stays flat." : now >= end ? "Finished." : now <= 0 ? "Flat, as it is cut." : (step?.words ?? "Folding.");
    this.play.textContent = this.playing ? "❚❚" : "▶";
    this.play.setAttribute("aria-label", this.playing ? "Stop" : now >= end ? "Open it" : "Fold it");
    this.passed(now);
  }

  halt() {
    cancelAnimationFrame(this.playing);
    this.playing = 0;
  }

  stop() {
    this.halt();
    this.tell();
  }

  /** Fold it, or open it where it is finished: at once for who wants less motion. */
  start() {
    const { end } = this.box.data;
    const from = Number(this.range.value);
    const to = from >= end ? 0 : end;
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) return this.to(to);
    const began = performance.now();
    const speed = Math.max(1, end / WHOLE) / 1000;
    const frame = (/** @type {number} */ now) => {
      const gone = Math.max(0, now - began) * speed;
      const time = to > from ? Math.min(to, from + gone) : Math.max(to, from - BACK * gone);
      this.playing = time === to ? 0 : requestAnimationFrame(frame);
      this.to(time);
    };
    this.playing = requestAnimationFrame(frame);
  }
}
