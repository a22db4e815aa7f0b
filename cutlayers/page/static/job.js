// The page of one job: what is said to the server and heard from it, and who shows it.
import { Box } from "./box.js";
import { asked, pick } from "./drawn.js";
import { at, make } from "./elements.js";
import { Flat } from "./flat.js";
import { Form, key, say } from "./form.js";
import { Making } from "./making.js";
import { Sheets } from "./sheets.js";
import { Gone, get, listen, post } from "./talk.js";
import { Time } from "./time.js";

const REST = 350; // ms without a change before sheets and cures are asked for
const INCH = 25.4;

const first = get("state?piece=0&other=0"); // on its way while the views are made ready

/** @type {any} */
let state = null;
let piece = 0;
let other = false; // whether lengths are told in the other unit too
/** @type {[string, string] | null} */
let chosen = null;
/** @type {import("./drawn.js").Pointed | null} */
let pointed = null; // at a line or a fold of a drawing

const box = new Box(at("stage"), at("canvas"), choose);
const time = new Time(box);
const flat = new Flat(at("flat"), at("legend"), choose, size, point);
at("still").hidden = box.paint !== null;
at("still").loading = "lazy";
const sheets = new Sheets(at("sheets"), failed);
const form = new Form(at("form"), send, turnTo);

// Changes: one on its way, the newest of each place behind it.

/** @type {Map<string, any>} */
const queued = new Map();
let busy = false;
let typing = false;
let newest = 0; // revision that was told of, if only while a change was on its way

/**
 * @param {any} change
 * @param {boolean} again
 */
function send(change, again) {
  const place = change.set ?? change.step;
  const own = place ? key(place) : `${queued.size}`;
  const before = queued.get(own);
  if (before && change.step && before.step) change.by += before.by;
  queued.delete(own);
  queued.set(own, { ...change, again });
  typing = Boolean(change.set && change.kind !== "flag");
  flush();
}

async function flush() {
  if (busy || !queued.size) return;
  busy = true;
  const changes = [...queued.values()];
  queued.clear();
  await ask({ changes, again: changes.every((each) => each.again) });
  busy = false;
  if (queued.size) flush();
  else {
    waiting.splice(0).forEach((go) => go());
    if (newest > state.revision) refresh();
  }
}

/** @type {(() => void)[]} */
const waiting = [];

/** Once every change has reached the file. */
const settled = () => (busy ? new Promise((/** @type {(value?: any) => void} */ go) => waiting.push(go)) : Promise.resolve());

/** @param {any} what */
async function ask(what) {
  const started = performance.now();
  try {
    const told = await post("change", { ...what, base: state.revision, piece, other });
    take(told);
    if (told.conflict) tellConflict(told.conflict);
    if (known !== state.revision) more(); // a change that was refused has stopped it
    const left = form.refuse(told.refused ?? [], typing);
    if (!told.conflict) notice(left.join("; "));
  } catch (error) {
    failed(error);
  }
  // Once what was changed is painted; a benchmark reads it.
  requestAnimationFrame(() => setTimeout(() => performance.measure("change", { start: started })));
}

/**
 * Show another piece of the job.
 * @param {number} to
 */
async function turnTo(to) {
  piece = to;
  chosen = pointed = null;
  flat.mark([]);
  await refresh();
}

async function refresh() {
  try {
    take(await get(`state?piece=${piece}&other=${other ? 1 : 0}`));
  } catch (error) {
    failed(error);
  }
}

/** @param {unknown} error */
function failed(error) {
  if (error instanceof Gone) ended();
  else notice("That did not work; the page has not changed anything.");
}

// What is shown

/** @param {any} told */
function take(told) {
  if (!told.file) return;
  if (state && told.revision < state.revision) return;
  const fresh = !state || told.revision !== state.revision || told.piece !== state.piece;
  state = { ...(state ?? {}), ...told };
  at("undo").disabled = !told.canUndo;
  at("redo").disabled = !told.canRedo;
  at("file").textContent = told.file;
  broken(told);
  document.body.classList.toggle("is-empty", !state.box);
  if (!told.box) return;
  piece = told.piece;
  at("title").textContent = told.title;
  at("units").textContent = told.unit === "in" ? "also in mm" : "also in inches";
  document.title = told.title;
  if (told.controls) form.show(state);
  if (!fresh) return;
  light(chosen ? [chosen] : []);
  box.show(told.box);
  flat.show(told.box);
  at("still").src = `folded.svg?piece=${piece}&revision=${state.revision}`;
  const ways = told.box.drawn ? pick(told.box.drawn, point) : [];
  at("point").hidden = !ways.length;
  at("point").replaceChildren(...ways);
  showChosen();
  time.show();
  findings(told.findings, told.trouble, false);
  sheets.wait();
  more();
}

/** @param {any} told */
function broken(told) {
  const lines = (told.broken ?? []).map((/** @type {any} */ each) =>
    `${each.line ? `line ${each.line}: ` : ""}${each.place.length ? `${say(each.place)} ` : ""}${each.words}`);
  document.body.classList.toggle("is-broken", lines.length > 0);
  if (!lines.length) return notice("");
  const back = make("button", { type: "button", onclick: () => ask({ what: "undo" }) }, "Back to what it was");
  const last = state.box ? " What you see is the last that did." : "";
  notice(`${told.file} does not make a box as it stands.${last} ${lines.join("; ")}`, told.canUndo ? [back] : []);
}

/** @param {number} millimetres */
function size(millimetres) {
  if ((state.unit === "in") === other) return `${Math.round(millimetres * 10) / 10} mm`;
  const parts = Math.round((millimetres / INCH) * 16);
  let [top, bottom] = [parts % 16, 16];
  while (top && top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  return `${[Math.floor(parts / 16) || "", top ? `${top}/${bottom}` : ""].filter(Boolean).join(" ") || "0"} in`;
}

/**
 * @param {string} words
 * @param {HTMLElement[]} buttons
 */
function notice(words, buttons = []) {
  const room = at("notice");
  if (!words && document.body.classList.contains("is-broken")) return;
  room.hidden = !words;
  room.replaceChildren(...(words ? [make("p", {}, words), ...buttons] : []));
}

/** @param {any} conflict */
function tellConflict(conflict) {
  const { place, theirs, yours } = conflict;
  const [file, you] = [theirs, yours].map((each) => (each === null || each === "" ? "nothing" : each));
  const name = place.filter((/** @type {any} */ step) => typeof step === "string").at(-1);
  const mine = make("button", { type: "button", onclick: () => { notice(""); send({ set: place, to: yours, kind: "text", was: theirs, ...kindOf(place) }, false); } }, `Take mine, ${you}`);
  const keep = make("button", { type: "button", onclick: () => notice("") }, `Keep the file's, ${file}`);
  notice(`${name} was changed in an editor at the same time. The file says ${file}, you said ${you}.`, [keep, mine]);
}

/** @param {any} place */
function kindOf(place) {
  for (const groups of Object.values(state.controls ?? {}))
    for (const group of /** @type {any} */ (groups))
      for (const control of group.controls) if (key(control.place) === key(place)) return { kind: control.kind };
  return {};
}

// Panels, and lines of a drawing

/** @param {import("./drawn.js").Pointed | null} what */
function point(what) {
  const again = what && pointed && what.line === pointed.line && what.fold === pointed.fold;
  chosen = null;
  pointed = again ? null : what;
  light([]);
  flat.mark(pointed ? [pointed] : []);
  showChosen();
}

/**
 * @param {string} net
 * @param {string} name
 */
function choose(net, name) {
  chosen = name && !(chosen && chosen[0] === net && chosen[1] === name) ? [net, name] : null;
  pointed = null;
  flat.mark([]);
  light(chosen ? [chosen] : []);
  showChosen();
}

/** @param {[string, string][]} panels */
function light(panels) {
  box.light(panels);
  flat.light(panels);
}

function showChosen() {
  const room = at("chosen");
  if (pointed) {
    const active = /** @type {HTMLElement | null} */ (document.activeElement);
    const kept = active && room.contains(active) ? active.dataset.key : undefined;
    const shown = state.box.drawn ? asked(state.box.drawn, pointed, piece, send, point) : [];
    room.hidden = !shown.length;
    room.replaceChildren(...shown);
    if (kept) /** @type {HTMLElement | null} */ (room.querySelector(`[data-key="${CSS.escape(kept)}"]`))?.focus();
    return;
  }
  const panel = chosen && state.box.panels.find((/** @type {any} */ p) => p.net === chosen?.[0] && p.name === chosen?.[1]);
  room.hidden = !panel;
  if (!panel) return;
  const several = state.box.blanks.length > 1;
  const on = { piece, panels: [panel.name], net: several ? panel.net : null };
  const add = (/** @type {string} */ what, /** @type {string} */ words) =>
    make("button", { type: "button", onclick: () => send({ add: what, ...on }, false) }, words);
  room.replaceChildren(
    make("div", { class: "row" },
      make("h2", {}, `${several ? `${panel.net}: ` : ""}${panel.name}`),
      make("button", { type: "button", class: "plain", "aria-label": "Choose no panel", onclick: () => choose("", "") }, "×")),
    make("p", { class: "quiet" }, `A ${panel.role}. Put something on it:`),
    make("div", { class: "row" }, add("pattern", "Pattern"), add("words", "Words"), add("colour", "Colour"), add("paper", "Paper to glue on"), add("letters", "Drawn letters")),
  );
}

// Findings, cures, sheets

/** @type {any} */
let resting = null;
/** @type {AbortController | null} */
let asking = null;
let known = -1; // the revision whose sheets are shown

function more() {
  clearTimeout(resting);
  asking?.abort();
  resting = setTimeout(async () => {
    asking = new AbortController();
    try {
      const told = await get(`more?revision=${state.revision}`, asking.signal);
      if (told && told.revision !== state.revision) return;
      if (!told) return busy ? undefined : more();
      known = told.revision;
      findings(told.findings, told.trouble, true);
      sheets.show(told.sheets, state.revision);
    } catch (error) {
      if (error instanceof Gone) ended();
    }
  }, REST);
}

const WORD = { error: "does not work", warning: "take care", note: "worth knowing" };

/**
 * @param {any[]} found
 * @param {any[]} trouble
 * @param {boolean} all
 */
function findings(found, trouble, all) {
  const errors = found.filter((each) => each.severity === "error").length;
  const verdict = at("verdict");
  verdict.className = `verdict ${errors ? "error" : found.length || trouble.length ? "warning" : "good"}`;
  verdict.textContent = errors
    ? `Not yet: ${errors === 1 ? "one thing does" : `${errors} things do`} not work.`
    : trouble.length ? "The box folds. Something else is missing:"
    : !all && !found.length ? "The box folds and closes. Looking at the sheets …"
    : found.length ? "It works. A few things are worth knowing." : "Yes. It folds, closes and fits on your sheets.";
  const troubles = trouble.map((each) => make("li", { class: "finding error" },
    make("span", { class: "kind" }, "missing"),
    make("p", {}, `${say(each.place)} ${each.words}`),
    ...(each.place[0] === "profile" ? [make("button", { type: "button", onclick: () => form.goTo([["profile"]]) }, "Choose a machine")] : [])));
  at("findings").replaceChildren(...troubles, ...found.map(finding));
}

/** @param {any} each */
function finding(each) {
  const show = make("button", { type: "button", class: "plain where", onclick: async () => {
    if (each.piece !== null && each.piece !== piece) await turnTo(each.piece);
    light(each.panels);
    const marks = [...each.lines.map((/** @type {number} */ line) => ({ line })), ...each.folds.map((/** @type {string} */ fold) => ({ fold }))];
    if (marks.length) {
      open("flat");
      pointed = null;
      point(marks[0]);
      flat.mark(marks);
      at("flat").scrollIntoView({ block: "nearest" });
      return at("chosen").querySelector("[data-key]")?.focus();
    }
    if (each.panels.length) at("stage").scrollIntoView({ block: "nearest" });
    else if (each.sheet !== null) open("sheets");
    form.goTo(each.places);
  } }, each.words);
  const item = make("li", { class: `finding ${each.severity}` },
    make("span", { class: "kind" }, WORD[/** @type {keyof typeof WORD} */ (each.severity)]), show);
  if (each.cure)
    item.append(make("button", { type: "button", class: "cure", onclick: () => ask({ what: "cure", number: each.number }) }, `Mend it: ${each.cure}`));
  return item;
}

// Tabs: on a wide screen folded and flat stand side by side.

const TABS = ["box", "flat", "sheets"];
let tab = "box";

/** @param {string} name */
function open(name) {
  tab = name;
  document.body.dataset.tab = name;
  for (const each of TABS) {
    const button = at(`tab-${each}`);
    button.setAttribute("aria-selected", String(each === name));
    button.tabIndex = each === name ? 0 : -1;
    at(`pane-${each}`).hidden = each === "sheets" ? name !== "sheets" : false;
  }
  box.place();
}
for (const name of TABS) at(`tab-${name}`).addEventListener("click", () => open(name));
document.querySelector(".tabs")?.addEventListener("keydown", (event) => {
  const by = { ArrowRight: 1, ArrowLeft: -1 }[/** @type {KeyboardEvent} */ (event).key];
  if (!by) return;
  event.preventDefault();
  open(TABS[(TABS.indexOf(tab) + by + TABS.length) % TABS.length]);
  at(`tab-${tab}`).focus();
});

// Flat view
at("nearer").addEventListener("click", () => flat.view.nearer(1.25));
at("farther").addEventListener("click", () => flat.view.nearer(1 / 1.25));
at("fit").addEventListener("click", () => flat.view.fit());
at("units").addEventListener("click", async () => {
  other = !other;
  at("units").setAttribute("aria-pressed", String(other));
  await refresh();
  flat.draw();
});
at("sizes").addEventListener("change", () => {
  flat.sized = at("sizes").checked;
  flat.draw();
});

// Undo
at("undo").addEventListener("click", () => ask({ what: "undo" }));
at("redo").addEventListener("click", () => ask({ what: "redo" }));
addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z") return;
  event.preventDefault();
  ask({ what: event.shiftKey ? "redo" : "undo" });
});

// Making
const making = new Making(settled, failed);
at("make").addEventListener("click", () => making.start(false));

// The server

function ended() {
  notice("The page has ended; your job is saved. Start it again with: cutlayers open");
  document.body.classList.add("is-ended");
}

listen("events", (told) => {
  if (told.making) return making.hear(told.making);
  newest = Math.max(newest, told.revision ?? 0);
  if (state && !busy && (told.again || newest > state.revision)) refresh();
}, ended);

open("box");
first.then(take).catch(failed);
