// The fields of the form, one kind after the other: what a person types or picks, as a change of the job.
import { make } from "./elements.js";

/** @typedef {{place: (string|number)[], label: string, kind: string, help: string, allowed: string, choices: (string|number)[], suggested: string[], default: string, unit: string, needed: boolean, value: any, beside: string}} Control */
/** @typedef {{unit: string, send: (change: any, again: boolean) => void}} Asker */
/** @typedef {{place: (string|number)[], update: (control: Control) => void, refuse: (words: string) => void, field: HTMLElement}} Field */

/** @type {Control} */
export const BARE = { place: [], label: "", kind: "", help: "", allowed: "", choices: [], suggested: [], default: "", unit: "", needed: false, value: "", beside: "" };

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
export function refuseAt(field, wrong, words) {
  if (words) field.setAttribute("aria-invalid", "true");
  else field.removeAttribute("aria-invalid");
  wrong.textContent = words ? words.charAt(0).toUpperCase() + words.slice(1) : "";
  wrong.hidden = !words;
}

/**
 * A field for one value, and the element that it stands in.
 * @param {Asker} form
 * @param {Control} control
 * @returns {{own: string, field: Field, shown: HTMLElement}}
 */
export function fieldFor(form, control) {
  const own = key(control.place);
  const id = `c-${own.replace(/[^A-Za-z0-9]+/g, "-")}`;
  const wrong = make("p", { class: "refused", id: `${id}-wrong`, hidden: true });
  const help = make("p", { class: "help", id: `${id}-help` }, sentence(control));
  const beside = make("span", { class: "beside" });
  const label = make("label", { for: id }, control.label);
  const parts = { id, own, described: `${id}-help ${id}-wrong`, beside };
  const { input, shown } = MAKERS[control.kind]?.(form, control, parts) ?? MAKERS.text(form, control, parts);
  const field = /** @type {HTMLInputElement} */ (input);
  const made = {
    place: control.place,
    field,
    update: (/** @type {Control} */ now) => {
      const set = now.value !== null && now.value !== undefined;
      if (field.type === "checkbox") field.checked = set ? Boolean(now.value) : now.default === "yes";
      else if (field.dataset.typed === undefined) field.value = set ? String(now.value) : "";
      else if (field.value.trim() === (set ? String(now.value) : "")) delete field.dataset.typed;
      if (field.type === "text") field.placeholder = field.dataset.usual = now.default;
      const colour = shown.querySelector("input[type=color]");
      if (colour) colour.value = /^#[0-9a-f]{6}$/i.test(String(now.value)) ? String(now.value) : "#ffffff";
      beside.textContent = now.beside ? `= ${now.beside}` : "";
      field.dataset.was = JSON.stringify(now.value ?? null);
    },
    refuse: (/** @type {string} */ words) => refuseAt(field, wrong, words),
  };
  const room = control.kind === "flag"
    ? make("div", { class: "field flag" }, make("label", { class: "pick" }, shown, control.label), help, wrong)
    : make("div", { class: "field" }, label, shown, help, wrong);
  return { own, field: made, shown: room };
}

/** @typedef {{id: string, own: string, described: string, beside: HTMLElement}} Parts */

/** @type {Record<string, string>} what goes in, in words of the kitchen table */
const SHAPES = { sphere: "a ball (sphere)", cuboid: "a block (cuboid)", cylinder: "a can or a candle (cylinder)", egg: "an egg" };

/** @type {Record<string, (form: Asker, control: Control, parts: Parts) => {input: any, shown: any}>} */
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
    for (const each of control.choices) input.append(make("option", { value: each }, (shape && SHAPES[String(each)]) || String(each)));
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
 * @param {Asker} form
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
    if (lengthy) form.send({ step: control.place, by, from: input.dataset.usual }, again);
    else {
      const from = Number(input.value || input.dataset.usual || 0);
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
