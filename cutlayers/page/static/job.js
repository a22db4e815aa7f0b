// The page of one job: what is said to the server and heard from it, and who shows it.
import { Box } from "./box.js";
import { Asking } from "./asking.js";
import { showChosen } from "./chosen.js";
import { Compare } from "./compare.js";
import { pick } from "./drawn.js";
import { at } from "./elements.js";
import { showFindings } from "./findings.js";
import { Flat } from "./flat.js";
import { Form } from "./form.js";
import { Kit } from "./kit.js";
import { Making } from "./making.js";
import { notice, tellBroken, tellConflict } from "./notices.js";
import { Sheets } from "./sheets.js";
import { Tabs } from "./tabs.js";
import { Gone, get, listen } from "./talk.js";
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
const tabs = new Tabs(() => box.place());
const kit = new Kit((number) => asking.ask({ what: "row", number }), failed);
const compare = new Compare(() => ({ state, piece }), (changes) => asking.ask({ changes }), failed);

const asking = new Asking(() => ({ base: state.revision, piece, other }), heard, refresh, failed);
const send = asking.send.bind(asking);
const form = new Form(at("form"), { send, turnTo, add });

/**
 * @param {any} told
 * @param {boolean} typing
 */
function heard(told, typing) {
  take(told);
  if (told.conflict) tellConflict(told.conflict, state.controls, send);
  if (known !== state.revision) more(); // a change that was refused has stopped it
  const left = form.refuse(told.refused ?? [], typing);
  if (!told.conflict) notice(left.join("; "));
}

/**
 * A box more, which is seen then.
 * @param {any} change
 */
async function add(change) {
  await asking.ask({ changes: [change], piece: state.pieces.length });
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
  tellBroken(told, Boolean(state.box), () => asking.ask({ what: "undo" }));
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
  ask();
  time.show();
  kit.show(told.kit, state.revision);
  plan = null;
  findings(false);
  sheets.wait();
  more();
}

/** @param {number} millimetres */
function size(millimetres) {
  if ((state.unit === "in") === other) return `${Math.round(millimetres * 10) / 10} mm`;
  const parts = Math.round((millimetres / INCH) * 16);
  let [top, bottom] = [parts % 16, 16];
  while (top && top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  return `${[Math.floor(parts / 16) || "", top ? `${top}/${bottom}` : ""].filter(Boolean).join(" ") || "0"} in`;
}

// Panels, and lines of a drawing

/** @param {import("./drawn.js").Pointed | null} what */
function point(what) {
  const again = what && pointed && what.line === pointed.line && what.fold === pointed.fold;
  chosen = null;
  pointed = again ? null : what;
  light([]);
  flat.mark(pointed ? [pointed] : []);
  ask();
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
  ask();
}

/** @param {[string, string][]} panels */
function light(panels) {
  box.light(panels);
  flat.light(panels);
}

function ask() {
  showChosen(state.box, piece, chosen, pointed, { send, point, choose });
}

// Findings, cures, sheets

/** @type {any} */
let resting = null;
/** @type {AbortController | null} */
let loading = null;
let known = -1; // the revision whose sheets are shown
/** @type {any} */
let plan = null; // of a kit, its rows on their sheets

function more() {
  clearTimeout(resting);
  loading?.abort();
  resting = setTimeout(async () => {
    loading = new AbortController();
    try {
      const told = await get(`more?revision=${state.revision}`, loading.signal);
      if (told && told.revision !== state.revision) return;
      if (!told) return asking.busy ? undefined : more();
      known = told.revision;
      Object.assign(state, { findings: told.findings, trouble: told.trouble });
      plan = told.sheets.kit ?? null;
      findings(true);
      sheets.show(told.sheets, state.revision, plan ? kit.sheets(plan) : []);
    } catch (error) {
      if (error instanceof Gone) ended();
    }
  }, REST);
}

/** @param {boolean} all */
function findings(all) {
  showFindings(state, plan, all, {
    go,
    cure: (number) => asking.ask({ what: "cure", number }),
    angles: (of) => send({ angles: true, piece: of }, false),
    machine: () => form.goTo([["profile"]]),
  });
}

/** @param {any} each */
async function go(each) {
  if (each.piece !== null && each.piece !== piece) await turnTo(each.piece);
  light(each.panels);
  const marks = [...each.lines.map((/** @type {number} */ line) => ({ line })), ...each.folds.map((/** @type {string} */ fold) => ({ fold }))];
  if (marks.length) {
    tabs.open("flat");
    pointed = null;
    point(marks[0]);
    flat.mark(marks);
    at("flat").scrollIntoView({ block: "nearest" });
    return at("chosen").querySelector("[data-key]")?.focus();
  }
  if (each.panels.length) at("stage").scrollIntoView({ block: "nearest" });
  else if (each.sheet !== null) tabs.open("sheets");
  form.goTo(each.places);
}

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
at("undo").addEventListener("click", () => asking.ask({ what: "undo" }));
at("redo").addEventListener("click", () => asking.ask({ what: "redo" }));
addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z") return;
  event.preventDefault();
  asking.ask({ what: event.shiftKey ? "redo" : "undo" });
});

// Making
const making = new Making(() => asking.settled(), failed);
at("make").addEventListener("click", () => making.start(false));

// The server

function ended() {
  notice("The page has ended; your job is saved. Start it again with: cutlayers open");
  document.body.classList.add("is-ended");
}

listen("events", (told) => {
  if (told.making) return making.hear(told.making);
  asking.newest = Math.max(asking.newest, told.revision ?? 0);
  if (state && !asking.busy && (told.again || asking.newest > state.revision)) refresh();
}, ended);

tabs.open("box");
at("compare").addEventListener("click", () => compare.open());
first.then(take).catch(failed);
