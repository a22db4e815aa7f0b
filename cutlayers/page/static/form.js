// The controls of a job, made of what the server says may be set. Elements stay while a person
// types in them; only what they show is brought up to date.
import { make } from "./elements.js";

const PATIENCE = 450; // ms before a half typed value is called wrong

/** @typedef {{place: (string|number)[], label: string, kind: string, help: string, allowed: string, choices: (string|number)[], suggested: string[], default: string, unit: string, needed: boolean, value: any, beside: string}} Control */

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
   * @param {(change: any, again: boolean) => void} send
   * @param {(piece: number) => void} turnTo
   */
  constructor(room, send, turnTo) {
    this.room = room;
    this.send = send;
    this.turnTo = turnTo;
    this.shape = "";
    this.unit = "mm";
    /** @type {Map<string, {place: (string|number)[], update: (control: Control) => void, refuse: (words: string) => void, field: HTMLElement}>} */
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
        groups.map((/** @type {any} */ g) => [g.title, g.controls.map((/** @type {Control} */ c) => [c.place, c.kind, c.choices, c.unit])])),
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
    if (state.pieces.length > 1) sections.push(this.pieces(state));
    for (const { name, open } of PARTS) {
      if (name === "looks") sections.push(this.looks(state));
      else for (const group of state.controls[name]) sections.push(this.section(group, open, name === "size" ? [this.sizedBy(state)] : []));
      if (name === "order") sections.push(this.machine(state));
    }
    this.room.replaceChildren(...sections);
    if (kept) /** @type {HTMLElement | null} */ (this.room.querySelector(`[data-key="${CSS.escape(kept)}"]`))?.focus();
  }

  /** @param {any} state */
  pieces(state) {
    const pick = make("select", { id: "piece", onchange: () => this.turnTo(Number(pick.value)) });
    state.pieces.forEach((/** @type {string} */ name, /** @type {number} */ index) =>
      pick.append(make("option", { value: index, selected: index === state.piece }, name)));
    return make("div", { class: "group field" }, make("label", { for: "piece" }, "Box"), pick);
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
    section.addEventListener("toggle", () => this.opened.set(group.title, section.open));
    return section;
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
        make("button", { type: "button", class: "remove", onclick: () => this.send({ remove: group.item }, false) }, "Take it off"));
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

  /** @param {Control} control */
  field(control) {
    const own = key(control.place);
    const id = `c-${own.replace(/[^A-Za-z0-9]+/g, "-")}`;
    const wrong = make("p", { class: "refused", id: `${id}-wrong`, hidden: true });
    const help = make("p", { class: "help", id: `${id}-help` }, sentence(control));
    const beside = make("span", { class: "beside" });
    const label = make("label", { for: id }, control.label);
    const parts = { id, own, described: `${id}-help ${id}-wrong`, beside };
    const { input, shown } = MAKERS[control.kind]?.(this, control, parts) ?? MAKERS.text(this, control, parts);
    const field = /** @type {HTMLInputElement} */ (input);
    this.fields.set(own, {
      place: control.place,
      field,
      update: (now) => {
        const set = now.value !== null && now.value !== undefined;
        if (field.type === "checkbox") field.checked = set ? Boolean(now.value) : now.default === "yes";
        else if (field.dataset.typed === undefined) field.value = set ? String(now.value) : "";
        else if (field.value.trim() === (set ? String(now.value) : "")) delete field.dataset.typed;
        const colour = shown.querySelector("input[type=color]");
        if (colour) colour.value = /^#[0-9a-f]{6}$/i.test(String(now.value)) ? String(now.value) : "#ffffff";
        beside.textContent = now.beside ? `= ${now.beside}` : "";
        field.dataset.was = JSON.stringify(now.value ?? null);
      },
      refuse: (words) => refuseAt(field, wrong, words),
    });
    if (control.kind === "flag") return make("div", { class: "field flag" }, make("label", { class: "pick" }, shown, control.label), help, wrong);
    return make("div", { class: "field" }, label, shown, help, wrong);
  }
}

/** @type {Control} */
const BARE = { place: [], label: "", kind: "", help: "", allowed: "", choices: [], suggested: [], default: "", unit: "", needed: false, value: "", beside: "" };

/** @param {(string|number)[]} place */
export const key = (place) => JSON.stringify(place);

/** @param {(string|number)[]} place */
export const say = (place) => place.filter((step) => typeof step === "string").join(" ").replaceAll("_", " ");

/** @param {Control} control */
function sentence(control) {
  const words = control.help
    .replace(/\s*\([^)]*\d[^)]*\)\s*$/, "")
    .split("; ")
    .filter((clause, index) => !index || !/\[|by default|if not given|'cutlayers/.test(clause))
    .join("; ");
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/**
 * @param {HTMLElement} field
 * @param {HTMLElement} wrong
 * @param {string} words
 */
function refuseAt(field, wrong, words) {
  if (words) field.setAttribute("aria-invalid", "true");
  else field.removeAttribute("aria-invalid");
  wrong.textContent = words ? words.charAt(0).toUpperCase() + words.slice(1) : "";
  wrong.hidden = !words;
}

/** @typedef {{id: string, own: string, described: string, beside: HTMLElement}} Parts */

/** @type {Record<string, (form: Form, control: Control, parts: Parts) => {input: any, shown: any}>} */
const MAKERS = {
  text(form, control, { id, own, described }) {
    const list = `${id}-list`;
    const input = make("input", {
      id, type: "text", autocomplete: "off", spellcheck: "false", "data-key": own, "aria-describedby": described,
      placeholder: control.default, list: control.suggested.length ? list : null,
      oninput: () => { input.dataset.typed = ""; },
      onchange: () => { delete input.dataset.typed; form.send(set(control, input), false); },
    });
    const shown = make("span", { class: "entry" }, input);
    if (control.suggested.length)
      shown.append(make("datalist", { id: list }, ...control.suggested.map((each) => make("option", { value: each }))));
    return { input, shown };
  },
  length(form, control, parts) {
    const found = typed(form, control, parts, "any");
    found.shown.append(make("span", { class: "unit" }, form.unit), parts.beside);
    return found;
  },
  number(form, control, parts) {
    const found = typed(form, control, parts, "decimal");
    if (/^(degrees|g\/m²|%)$/.test(control.unit)) found.shown.append(make("span", { class: "unit" }, control.unit));
    return found;
  },
  whole(form, control, parts) {
    return typed(form, control, parts, "numeric");
  },
  word(form, control, { id, own, described }) {
    // Each shape has measures of its own, which come and go with it.
    const shape = control.place[2] === "holds" && control.place[3] === "shape";
    const input = make("select", { id, "data-key": own, "aria-describedby": described,
      onchange: () => form.send(shape ? { holds: input.value, piece: control.place[1] } : set(control, input), false) });
    if (!control.needed) input.append(make("option", { value: "" }, control.default ? `${control.default} (usual)` : "as usual"));
    for (const each of control.choices) input.append(make("option", { value: each }, String(each)));
    return { input, shown: make("span", { class: "entry" }, input) };
  },
  flag(form, control, { id, own, described }) {
    const input = make("input", { id, type: "checkbox", "data-key": own, "aria-describedby": described,
      onchange: () => form.send({ set: control.place, to: input.checked, kind: "flag" }, false) });
    return { input, shown: input };
  },
  colour(form, control, parts) {
    const { input, shown } = MAKERS.text(form, control, parts);
    const pick = make("input", { type: "color", "aria-label": `${control.label}, pick it`, value: "#ffffff",
      oninput: () => { input.value = pick.value.toUpperCase(); form.send(set(control, input), true); } });
    shown.prepend(pick);
    return { input, shown };
  },
};
MAKERS.words = MAKERS.text;

/**
 * @param {Form} form
 * @param {Control} control
 * @param {Parts} parts
 * @param {string} mode
 */
function typed(form, control, { id, own, described }, mode) {
  const lengthy = control.kind === "length";
  let again = false;
  const input = make("input", {
    id, type: "text", autocomplete: "off", spellcheck: "false", "data-key": own, "aria-describedby": described,
    inputmode: mode === "any" ? null : mode, placeholder: control.default,
    oninput: () => { input.dataset.typed = ""; form.send(set(control, input), again); again = true; },
    onfocus: () => { again = false; },
    onblur: () => { if (input.getAttribute("aria-invalid") !== "true") delete input.dataset.typed; },
    onkeydown: (/** @type {KeyboardEvent} */ event) => {
      const by = { ArrowUp: 1, ArrowDown: -1, PageUp: 10, PageDown: -10 }[event.key];
      if (!by) return;
      event.preventDefault();
      step(by);
    },
  });
  const step = (/** @type {number} */ by) => {
    delete input.dataset.typed;
    if (lengthy) form.send({ step: control.place, by, from: control.default }, again);
    else {
      const from = Number(input.value || control.default || 0);
      if (!Number.isFinite(from)) return;
      input.value = String(from + by);
      form.send(set(control, input), again);
    }
    again = true;
  };
  const button = (/** @type {number} */ by, /** @type {string} */ words, /** @type {string} */ sign) =>
    make("button", { type: "button", class: "step", tabindex: -1, "aria-label": `${control.label} ${words}`, onclick: () => step(by) }, sign);
  return { input, shown: make("span", { class: "entry" }, button(-1, "smaller", "−"), input, button(1, "larger", "+")) };
}

/**
 * @param {Control} control
 * @param {HTMLInputElement} input
 */
function set(control, input) {
  const was = JSON.parse(input.dataset.was ?? "null");
  const one = control.choices.find((each) => String(each) === input.value);
  const to = typeof one === "number" ? one : input.value;
  return { set: control.place, to, kind: control.kind, was };
}
