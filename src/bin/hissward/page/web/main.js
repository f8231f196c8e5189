// The whole: who is here, which job, which of the screens.
import { get, jobPath, post } from "./api.js";
import { byId, el, mended, notice } from "./dom.js";
import { gauge, key } from "./gauge.js";
import * as listening from "./listen.js";
import { lit, more } from "./more.js";
import * as outbox from "./outbox.js";
import { result } from "./result.js";
import { cautions, jobs, pairing } from "./start.js";
import * as steps from "./steps.js";
import { say, speak, wanted } from "./words.js";

const TABS = { listen: listening.listen, gauge, result, more };
// A customer is here for the result; what only those use who work is not shown.
const LOOKING = ["result", "more"];
const state = { role: null, name: null, job: null, cylinder: 1, tab: "listen", open, reload, refresh, show, kept };
let wire;
let online = true;
let waiting = 0;

async function begin() {
  lit();
  await speak(wanted());
  const secret = location.hash.slice(1);
  if (secret && !secret.startsWith("job=")) {
    // The code leaves the address at once: it is good only once, and nobody should read it there.
    history.replaceState(null, "", "/");
    const view = /^view=([0-9a-f]{64})$/.exec(secret);
    await post("pair", view ? { view: view[1] } : { code: secret }).catch((error) => notice(error.message, "pair"));
  }
  await enter();
  if (state.role === "work") await outbox.recover();
}

async function enter() {
  ({ role: state.role } = await get("session"));
  if (!state.role) return draw();
  mended("pair");
  if (state.role === "view") state.tab = "result";
  const there = await get("jobs");
  const remembered = decodeURIComponent(/^#job=(.*)$/.exec(location.hash)?.[1] ?? "");
  const known = there.jobs.find((job) => job.name === remembered) ?? (there.takes_new && state.role === "work" ? null : there.jobs[0]);
  if (known && !known.error) return open(known.name);
  return draw();
}

async function open(name) {
  state.name = name;
  history.replaceState(null, "", `#job=${encodeURIComponent(name)}`);
  wire?.close();
  wire = new EventSource(`/api/${jobPath(name)}/events`);
  wire.addEventListener("level", (event) => listening.level(JSON.parse(event.data)));
  for (const kind of ["job", "begun", "missed"]) wire.addEventListener(kind, reload);
  wire.addEventListener("open", () => { connected(true); reload(); });
  wire.addEventListener("error", () => connected(false));
  await reload();
  byId("main").focus();
}

async function refresh() {
  try {
    state.job = await get(jobPath(state.name));
    state.cylinder = Math.min(state.cylinder, state.job.cylinders);
  } catch (error) {
    if (error.code === "not-paired") { state.role = null; state.name = null; state.job = null; }
    else if (!state.job) notice(error.message, "job");
    return;
  }
  mended("job");
}

async function reload() {
  if (state.name) await refresh();
  // What is being recorded is not redrawn under the person's finger.
  if (!listening.isRecording()) await draw();
}

function connected(now) {
  if (online === now) return;
  online = now;
  if (!now) notice(say("page-offline"), "offline");
  else { mended("offline"); outbox.kick(); }
  if (!listening.isRecording()) head();
}

function show(tab) {
  if (listening.isRecording()) return;
  state.tab = tab;
  draw();
  scrollTo(0, 0);
}

// A clip's verdict is shown with the clip's own words, so the job is looked at first.
async function kept(verdict) {
  await refresh();
  steps.kept(state, verdict);
  if (!listening.isRecording()) await draw();
}

async function draw() {
  const focused = named(document.activeElement);
  document.title = state.job ? `${state.job.engine} · ${say("page-title")}` : say("page-title");
  head();
  tabs();
  byId("main").replaceChildren(...await screen());
  // Who works by the keyboard stays where they were.
  if (focused) document.querySelector(focused)?.focus({ preventScroll: true });
}

// What leads to the same element after it was drawn anew.
function named(element) {
  if (!element || element === document.body) return null;
  if (element.id) return `#${CSS.escape(element.id)}`;
  const own = [...element.attributes].find(({ name }) => name.startsWith("data-"));
  return own ? `[${own.name}="${CSS.escape(own.value)}"]` : null;
}

async function screen() {
  if (!state.role) return [pairing(enter)];
  if (!state.job) return [await jobs(state), more(state, draw)];
  if (!state.job.cautions_confirmed && state.role === "work") return [cautions(state)];
  const looking = state.role === "view" && el("p", { class: "note" }, say("page-looking"));
  if (state.role === "view" && !LOOKING.includes(state.tab)) state.tab = "result";
  return [looking, state.tab !== "more" && cylinders(), TABS[state.tab](state, draw)].filter(Boolean);
}

function head() {
  const leave = () => { wire?.close(); Object.assign(state, { name: null, job: null }); history.replaceState(null, "", "/"); draw(); };
  byId("head").replaceChildren(
    ...(state.job ? [el("button", { type: "button", onclick: leave, "aria-label": say("page-back") }, "‹")] : []),
    el("strong", {}, state.job?.engine ?? say("page-title")),
    el("span", { id: "waiting", role: "status" }, waiting > 0 ? say("page-waiting", { count: waiting }) : online ? "" : say("page-no-network")));
}

function tabs() {
  const bar = byId("tabs");
  bar.hidden = !state.job || (!state.job.cautions_confirmed && state.role === "work");
  const names = state.role === "view" ? LOOKING : Object.keys(TABS);
  bar.replaceChildren(...names.map((name) => el("button", {
    type: "button", "data-tab": name, "aria-current": String(state.tab === name), onclick: () => show(name),
  }, say(`page-${name}`))));
}

// What is done of a cylinder: what it loses, and how much of the round is recorded.
function standing(number) {
  const loss = state.job.gauge.find((one) => one.cylinder === number)?.loss;
  const order = state.job.orders[number - 1] ?? [];
  const done = order.filter((visit) => visit.done).length;
  const answer = state.job.answers.find((one) => one.result.cylinder === number)?.result;
  // Where the ranking asks for nothing more, what is left of the round is not missing.
  const stands = answer && !answer.next ? say("page-done") : done > 0 && `${done}/${order.length}`;
  return [loss && `${loss} %`, stands].filter(Boolean).join(" · ") || "–";
}

function cylinders() {
  if (state.job.cylinders === 1) return null;
  const pick = (number) => { if (!listening.isRecording()) { state.cylinder = number; draw(); } };
  const one = (number) => el("button", { type: "button", "data-cylinder": number, "aria-pressed": String(number === state.cylinder), onclick: () => pick(number) },
    `${say("page-cylinder")} ${number}`, el("small", {}, standing(number)));
  return el("div", { class: "cylinders", role: "group", "aria-label": say("page-cylinder") }, Array.from({ length: state.job.cylinders }, (_, at) => one(at + 1)));
}

outbox.onChange((what) => {
  if (what.renamed) listening.renamed(what.renamed, what.token);
  if (what.online !== undefined) connected(what.online);
  if (what.waiting !== undefined && what.waiting !== waiting) { waiting = what.waiting; if (!listening.isRecording()) head(); }
  if (what.kept) notice(say("page-kept", { count: what.kept }));
  if (what.trouble) notice(say("page-failed", { why: what.trouble }), "sending");
  if (what.read) { mended("sending"); reload(); }
  if (what.done) { mended("sending"); kept(what.verdict); }
});
addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.target.matches("input:not([type=checkbox]), select, textarea") || !state.job) return;
  // On the gauge figures are typed; elsewhere a figure is a cylinder.
  if (state.tab === "gauge" && state.role === "work") { if (key(event.key)) event.preventDefault(); return; }
  const number = Number(event.key);
  if (number >= 1 && number <= state.job.cylinders && !listening.isRecording()) { state.cylinder = number; draw(); }
});
addEventListener("online", () => outbox.kick());
addEventListener("beforeunload", (event) => { if (listening.isRecording()) event.preventDefault(); });
begin().catch((error) => notice(error.message));
