// The controls of a job, made of what the server says may be set. Elements stay while a person
// types in them; only what they show is brought up to date.
import { make } from "./elements.js";
import { BARE, fieldFor, key, refuseAt, say } from "./fields.js";
import { boxes, moreCard } from "./pieces.js";

const PATIENCE = 450; // ms before a half typed value is called wrong

/** @typedef {import("./fields.js").Control} Control */

const PARTS = [
  { name: "size", open: true },
  { name: "details", open: false },
  { name: "drawing", open: true },
  { name: "looks", open: true },
  { name: "order", open: true },
  { name: "card", open: false },
  { name: "job", open: false },
];

export class Form {
  /**
   * @param {HTMLElement} room
   * @param {import("./pieces.js").Doing} doing
   */
  constructor(room, doing) {
    this.room = room;
    this.doing = doing;
    this.send = doing.send;
    this.shape = "";
    this.unit = "mm";
    /** @type {Map<string, import("./fields.js").Field>} */
    this.fields = new Map();
    /** @type {Map<string, boolean>} */
    this.opened = new Map();
    /** @type {any} */
    this.waiting = null;
    /** @type {HTMLElement | null} */
    this.found = null;
  }

  /** @param {any} state */
  show(state) {
    this.unit = state.unit ?? "mm";
    const shape = JSON.stringify([
      state.piece, state.pieces, state.style, state.unit, state.holds, state.profile === null,
      state.machines.map((/** @type {any} */ m) => m.name),
      Object.values(state.controls).map((/** @type {any} */ groups) =>
        groups.map((/** @type {any} */ g) => [g.title, g.item, g.controls.map((/** @type {Control} */ c) => [c.place, c.kind, c.choices, c.unit])])),
    ]);
    if (shape !== this.shape) this.build(state);
    this.shape = shape;
    for (const groups of Object.values(state.controls))
      for (const group of /** @type {any} */ (groups))
        for (const control of group.controls) this.fields.get(key(control.place))?.update(control);
    if (this.found) {
      const found = state.sizes.map((/** @type {any} */ [name, words]) => `${name} ${words}`).join(", ");
      this.found.textContent = `The smallest that closes over it: ${found}.`;
    }
    this.fields.get(key(["profile"]))?.update({ ...BARE, value: state.profile ?? "" });
  }

  /**
   * @param {{place: (string|number)[], words: string}[]} refused
   * @param {boolean} late
   * @returns {string[]} what has no field to stand beside
   */
  refuse(refused, late) {
    clearTimeout(this.waiting);
    for (const field of this.fields.values()) field.refuse("");
    const left = [];
    /** @type {(() => void)[]} */
    const show = [];
    for (const each of refused) {
      const field = this.fields.get(key(each.place));
      if (field) show.push(() => field.refuse(each.words));
      else left.push(each.place.length ? `${say(each.place)} ${each.words}` : each.words);
    }
    const all = () => show.forEach((one) => one());
    if (late) this.waiting = setTimeout(all, PATIENCE);
    else all();
    return left;
  }

  /**
   * Go to the first of some places that has a control; that of a table has all that is in it.
   * @param {(string|number)[][]} places
   */
  goTo(places) {
    for (const place of places) {
      const field = [...this.fields.values()].find((each) => place.every((step, index) => each.place[index] === step))?.field;
      if (!field) continue;
      for (let around = field.closest("details"); around; around = around.parentElement?.closest("details") ?? null) around.open = true;
      field.scrollIntoView({ block: "center" });
      return field.focus();
    }
  }

  /** @param {any} state */
  build(state) {
    const active = /** @type {HTMLElement | null} */ (document.activeElement);
    const kept = active && this.room.contains(active) ? active.dataset.key : undefined;
    this.fields.clear();
    const sections = [];
    sections.push(boxes(state, this.doing));
    for (const { name, open } of PARTS) {
      if (name === "looks") sections.push(this.looks(state));
      else for (const group of state.controls[name]) sections.push(this.section(group, open, name === "size" ? [this.sizedBy(state)] : []));
      if (name === "order") sections.push(this.machine(state));
      if (name === "card") sections.push(moreCard(state, this.send));
    }
    this.room.replaceChildren(...sections);
    if (kept) /** @type {HTMLElement | null} */ (this.room.querySelector(`[data-key="${CSS.escape(kept)}"]`))?.focus();
  }

  /**
   * @param {any} group
   * @param {boolean} open
   * @param {Node[]} extra
   */
  section(group, open, extra) {
    const fields = group.controls.map((/** @type {Control} */ control) => this.field(control));
    const section = make("details", { class: "group", open: this.opened.get(group.title) ?? open },
      make("summary", {}, group.title), ...extra, ...fields);
    if (group.item) section.append(this.remover(group.item, "Nothing is made of it: take it out"));
    section.addEventListener("toggle", () => this.opened.set(group.title, section.open));
    return section;
  }

  /**
   * @param {(string|number)[]} item
   * @param {string} words
   */
  remover(item, words) {
    return make("button", { type: "button", class: "remove", onclick: () => this.send({ remove: item }, false) }, words);
  }

  /** @param {Control} control */
  field(control) {
    const { own, field, shown } = fieldFor(this, control);
    this.fields.set(own, field);
    return shown;
  }

  /** @param {any} state */
  sizedBy(state) {
    const piece = state.piece;
    const size = make("button", { type: "button", "aria-pressed": String(!state.holds),
      onclick: () => state.holds && this.send({ sized: true, piece }, false) }, "By its size");
    const thing = make("button", { type: "button", "aria-pressed": String(!!state.holds),
      onclick: () => !state.holds && this.send({ holds: "cuboid", piece }, false) }, "By what goes in");
    const found = make("p", { class: "quiet", hidden: !state.holds });
    this.found = found;
    return make("div", {}, this.switch(size, thing), found);
  }

  /** @param {...HTMLElement} buttons */
  switch(...buttons) {
    return make("div", { class: "switch", role: "group", "aria-label": "How the box is sized" }, ...buttons);
  }

  /** @param {any} state */
  machine(state) {
    const place = ["profile"];
    const pick = make("select", { id: "profile", "data-key": key(place),
      onchange: () => this.send({ set: place, to: pick.value, kind: "text" }, false) });
    if (state.profile === null) pick.append(make("option", { value: "" }, "choose yours"));
    const known = state.machines.map((/** @type {any} */ m) => m.name);
    if (state.profile && !known.includes(state.profile)) pick.append(make("option", { value: state.profile }, state.profile));
    for (const each of state.machines) pick.append(make("option", { value: each.name }, each.title));
    const wrong = make("p", { class: "refused", id: "profile-wrong", hidden: true });
    this.fields.set(key(place), {
      place,
      field: pick,
      update: (control) => { pick.value = control.value; },
      refuse: (words) => refuseAt(pick, wrong, words),
    });
    return make("div", { class: "group field" }, make("label", { for: "profile" }, "Your machine"), pick, wrong);
  }

  /** @param {any} state */
  looks(state) {
    const roles = new Set(state.box.panels.map((/** @type {any} */ p) => p.role));
    const role = ["wall", "lid", "roof", "base"].find((each) => roles.has(each)) ?? "all";
    const add = (/** @type {string} */ what, /** @type {string} */ words) =>
      make("button", { type: "button", onclick: () => this.send({ add: what, piece: state.piece, roles: role }, false) }, words);
    const every = role === "all" ? "all panels" : `every ${role}`;
    const groups = state.controls.looks.map((/** @type {any} */ group) => {
      const fields = group.controls.map((/** @type {Control} */ control) => this.field(control));
      const title = `looks ${group.item.join(".")}`;
      const inner = make("details", { class: "inner", open: this.opened.get(title) ?? true },
        make("summary", {}, group.title), ...fields,
        this.remover(group.item, "Take it off"));
      inner.addEventListener("toggle", () => this.opened.set(title, inner.open));
      return inner;
    });
    const section = make("details", { class: "group", open: this.opened.get("looks") ?? true },
      make("summary", {}, "Decoration"), ...groups,
      make("p", { class: "quiet" }, `Put something on ${every}, or press one panel of the box first.`),
      make("div", { class: "row" }, add("pattern", "Pattern"), add("words", "Words"), add("colour", "Colour"), add("paper", "Paper to glue on")));
    section.addEventListener("toggle", () => this.opened.set("looks", section.open));
    return section;
  }
}
