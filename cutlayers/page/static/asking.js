// Changes on their way to the server: one at a time, the newest of each place behind it.
import { key } from "./fields.js";
import { post } from "./talk.js";

export class Asking {
  /**
   * @param {() => {base: number, piece: number, other: boolean}} seen
   * @param {(told: any, typing: boolean) => void} heard
   * @param {() => void} outside once nothing is on its way, where an editor or another page changed something
   * @param {(error: unknown) => void} failed
   */
  constructor(seen, heard, outside, failed) {
    this.seen = seen;
    this.heard = heard;
    this.outside = outside;
    this.failed = failed;
    /** @type {Map<string, any>} */
    this.queued = new Map();
    this.busy = false;
    this.typing = false;
    this.newest = 0; // revision that was told of, if only while a change was on its way
    /** @type {(() => void)[]} */
    this.waiting = [];
  }

  /**
   * @param {any} change
   * @param {boolean} again whether it goes on with the last one, so that both are undone together
   */
  send(change, again) {
    const place = change.set ?? change.step;
    const own = place ? key(place) : `${this.queued.size}`;
    const before = this.queued.get(own);
    if (before && change.step && before.step) change.by += before.by;
    this.queued.delete(own);
    this.queued.set(own, { ...change, again });
    this.typing = Boolean(change.set && change.kind !== "flag");
    this.flush();
  }

  /** @returns {Promise<void>} */
  async flush() {
    if (this.busy || !this.queued.size) return;
    const changes = [...this.queued.values()];
    this.queued.clear();
    await this.now({ changes, again: changes.every((each) => each.again) });
  }

  /** What is no change of one value, after those that are on their way.
   * @param {any} what */
  async ask(what) {
    while (this.busy) await this.settled();
    this.typing = false;
    await this.now(what);
  }

  /** Once every change has reached the file.
   * @returns {Promise<void>} */
  settled() {
    return this.busy ? new Promise((go) => this.waiting.push(go)) : Promise.resolve();
  }

  /** @param {any} what
   * @returns {Promise<void>} */
  async now(what) {
    const started = performance.now();
    this.busy = true;
    try {
      this.heard(await post("change", { ...this.seen(), ...what }), this.typing);
    } catch (error) {
      this.failed(error);
    }
    // Once what was changed is painted; a benchmark reads it.
    requestAnimationFrame(() => setTimeout(() => performance.measure("change", { start: started })));
    this.busy = false;
    if (this.queued.size) return this.flush();
    this.waiting.splice(0).forEach((go) => go());
    if (!this.busy && this.newest > this.seen().base) this.outside();
  }
}
