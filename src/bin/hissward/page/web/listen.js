// Listening: where the microphone is, what the air does, one large button; or a whole cylinder without touching the phone.
import { jobPath, post } from "./api.js";
import { byId, el, mended, notice } from "./dom.js";
import * as outbox from "./outbox.js";
import { plan } from "./plan.js";
import { beep, microphone, record } from "./recorder.js";
import { mistakes, step } from "./steps.js";
import { number, place, say } from "./words.js";

const SECONDS = { off: 10, on: 10, pulsed: 13 };
// Counted down before sound is kept: the hand is still by then.
const COUNT_S = 3;
// To go to the next opening and turn the valve, where the phone goes on by itself.
const MOVE_S = 10;
// The same visit, recorded again where the clip was no good.
const MOST_TRIES = 2;
const chosen = { opening: null, air: "off", beep: true };
let running = null;
let redraw = () => {};

export const isRecording = () => running !== null;
export const choose = (changes) => Object.assign(chosen, changes, { auto: false });

// What the ranking asks for comes first, and where it asks for nothing there is an end; before there is one, the plain
// first round.
export function coming(state) {
  const answer = state.job.answers.find((one) => one.result.cylinder === state.cylinder)?.result;
  if (answer && !answer.next) return null;
  const missing = (state.job.orders[state.cylinder - 1] ?? []).find((visit) => !visit.done);
  return answer?.next?.opening ? answer.next : missing;
}

export function listen(state, update) {
  redraw = update;
  const next = coming(state);
  if (!chosen.opening || chosen.auto) {
    chosen.opening = next?.opening ?? chosen.opening ?? "intake";
    chosen.air = next?.air ?? chosen.air;
    chosen.auto = true;
  }
  const pick = (changes) => { if (!running) { Object.assign(chosen, changes, { auto: false }); update(); } };
  const said = next?.text ?? (next ? say("page-next", { place: place(next.opening), air: say(`page-air-${next.air}`) }) : say("page-next-done"));
  const turn = state.job.turns.find((turn) => turn.from === state.cylinder);
  return el("div", { class: "bench", id: "listening" },
    el("section", { class: "choosing" },
      el("h1", { class: "hidden" }, say("page-where")),
      step(state), mistakes(state),
      el("p", { class: "next" }, said),
      !next && state.job.cylinders > 1 && turn && el("p", {}, turn.text),
      plan(state.job, state.cylinder, chosen.opening, next, (opening) => pick({ opening }), () => other(pick))),
    el("section", {},
      el("h2", { class: "choosing" }, `${place(chosen.opening)} · ${say("page-air")}`),
      el("div", { class: "row choosing", role: "group", "aria-label": say("page-air") }, ["off", "on", "pulsed"].map((air) =>
        el("button", { type: "button", "data-air": air, "aria-pressed": String(chosen.air === air), onclick: () => pick({ air }) }, say(`page-air-${air}`)))),
      chosen.air === "pulsed" && el("p", { class: "choosing" }, say("page-pulsed-how")),
      chosen.air === "pulsed" && el("label", { class: "check choosing" },
        el("input", { type: "checkbox", ...(chosen.beep ? { checked: true } : {}), onchange: (event) => { chosen.beep = event.target.checked; } }), say("page-beep")),
      el("div", { id: "live" },
        el("div", { id: "what" }),
        el("div", { id: "beat", class: "beat", hidden: true }),
        el("div", { id: "left", role: "timer" }),
        el("div", { class: "meter" },
          el("span", { id: "l1" }, say("page-level")), el("output", { id: "level-text" }, "–"), el("meter", { id: "level", min: -90, max: 0, value: -90, "aria-labelledby": "l1" }),
          el("span", { id: "l2" }, say("page-hiss")), el("output", { id: "hiss-text" }, "–"), el("meter", { id: "hiss", min: 0, max: 30, value: 0, "aria-labelledby": "l2" })),
        el("div", { id: "recording" }),
        el("div", { id: "mic" })),
      el("button", { id: "record", type: "button", onclick: () => (running ? running.stop() : one(state)) },
        running ? say("page-stop") : say("page-record")),
      next && el("button", { id: "round", class: "choosing", type: "button", onclick: () => round(state) }, say("page-round")),
      upload(state)));
}

function other(pick) {
  const name = prompt(say("page-other-ask"));
  if (name) pick({ opening: name.trim().toLowerCase().replace(/[\s_]+/g, "-") });
}

// Recordings made elsewhere, for the opening and the air that are chosen.
function upload(state) {
  const send = async (event) => {
    for (const file of event.target.files) {
      const about = new URLSearchParams({ opening: chosen.opening, air: chosen.air, name: file.name });
      if (chosen.opening !== "rig") about.set("cylinder", state.cylinder);
      try {
        state.kept(await outbox.addFile(`${jobPath(state.name)}/add?${about}`, file));
        mended("add");
      } catch (error) { notice(say("page-failed", { why: error.message }), "add"); }
    }
    await state.reload();
  };
  return el("label", { class: "button file choosing" }, say("page-add"),
    el("input", { type: "file", id: "add", accept: "audio/*,.wav,.flac,.m4a,.3gp,.opus,.ogg,.aiff", multiple: true, onchange: send }));
}

async function one(state) {
  await session(state, (told) => take(state, chosen.opening, chosen.air, told));
}

// Opening by opening until the round is done, with time to move in between.
async function round(state) {
  await session(state, async (told) => {
    const tries = new Map();
    for (let next = coming(state); next && !told.stopped; next = coming(state)) {
      const key = `${next.opening} ${next.air} ${next.take ?? ""}`;
      tries.set(key, (tries.get(key) ?? 0) + 1);
      if (tries.get(key) > MOST_TRIES) { notice(say("page-round-stuck", { place: place(next.opening) }), "round"); return; }
      Object.assign(chosen, { opening: next.opening, air: next.air });
      // Between two recordings nothing runs: the screen must not look as if it did.
      show("counting");
      what(next.opening, next.air, true);
      if (!(await wait(told, MOVE_S, (left) => clock(say("page-move", { seconds: left }))))) return;
      await take(state, next.opening, next.air, told);
      if (told.stopped) return;
      await outbox.settled();
      await state.refresh();
    }
  });
}

// From the first count to the last sample the screen is the recording's.
async function session(state, work) {
  const told = { stopped: false, stop() { told.stopped = true; told.over?.(); } };
  running = told;
  mended("microphone");
  mended("round");
  show("counting");
  scrollTo(0, 0);
  const awake = await navigator.wakeLock?.request("screen").catch(() => null);
  try {
    await work(told);
  } catch (error) {
    notice(error.message === "insecure" ? say("page-no-secure") : say("page-no-microphone", { why: error.message }), "microphone");
  }
  awake?.release();
  running = null;
  chosen.auto = true;
  show(null);
  redraw();
}

// Seconds counted down; false where it was stopped.
async function wait(told, seconds, each) {
  const end = performance.now() + seconds * 1000;
  for (let left = seconds; left > 0 && !told.stopped; left -= 1) {
    each(left);
    while (performance.now() < end - (left - 1) * 1000 && !told.stopped) await new Promise((done) => setTimeout(done, 40));
  }
  return !told.stopped;
}

const clock = (text) => { byId("left")?.replaceChildren(text); };

// Where the microphone is to be and what the air is to do, as large as the screen.
function what(opening, air, moving) {
  const shut = air === "off";
  byId("what")?.replaceChildren(
    el("p", { class: "where" }, moving ? say("page-move-to", { place: place(opening) }) : place(opening)),
    air === "pulsed" ? el("p", { class: "beat small" }, say("page-pulsed-how"))
      : el("p", { class: "beat", ...(shut ? {} : { "data-open": true }) }, say(shut ? "page-air-shut" : "page-air-open")));
}

async function take(state, opening, air, told) {
  const mic = await microphone();
  show("counting");
  what(opening, air, false);
  byId("mic").replaceChildren(el("p", { class: "soft" }, say("page-microphone", { name: mic.name, rate: mic.rate, channels: mic.channels })),
    mic.processing.length > 0 && el("p", { class: "note" }, say("page-processing", { what: mic.processing.map((what) => say(`page-processing-${what}`)).join(", ") })) || "");
  if (!(await wait(told, COUNT_S, (left) => { clock(String(left)); beep(mic.context, false); }))) return;
  beep(mic.context, true);
  await new Promise((done) => setTimeout(done, 150));
  const clip = {
    token: outbox.newToken(), job: state.name,
    about: { cylinder: opening === "rig" ? null : state.cylinder, opening, air, rate_hz: mic.rate, channels: mic.channels, device: mic.name, processing: mic.processing, settings: mic.got },
  };
  await outbox.put(clip);
  const went = { pieces: 0, frames: 0, lost: false, token: clip.token };
  let writing = Promise.resolve();
  const stopped = new Promise((done) => { told.over = done; });
  const wanted = SECONDS[air] * mic.rate;
  const tape = await record((samples) => {
    const sequence = went.pieces++;
    went.frames += samples.length / mic.channels;
    // One after the other, so that no piece is sent before the one ahead of it is kept.
    writing = writing.then(() => outbox.putPiece(went.token, sequence, samples)).catch((error) => notice(say("page-failed", { why: error.message }), "disk"));
    beat(air, went.frames / mic.rate, mic.context, went);
    clock(say("page-left", { seconds: Math.max(0, Math.ceil(SECONDS[air] - went.frames / mic.rate)) }));
    if (went.frames >= wanted) told.over();
  }, () => { went.lost = true; told.stop(); });
  told.went = went;
  show("running");
  if (air === "pulsed") byId("what").replaceChildren(el("p", { class: "where" }, place(opening)));
  if (told.stopped) told.over();
  await stopped;
  const gaps = await tape.stop();
  await writing;
  // Two soft beeps: the microphone may be taken away.
  beep(mic.context, true);
  setTimeout(() => beep(mic.context, true), 200);
  await outbox.close(went.token, { pieces: went.pieces, cut_short: went.lost, gaps });
  delete told.went;
  clock("");
}

export function renamed(from, to) {
  if (running?.went?.token === from) running.went.token = to;
}

function show(stage) {
  const button = byId("record");
  if (!button) return;
  const screen = byId("listening");
  for (const one of ["running", "counting"]) {
    button.toggleAttribute(`data-${one}`, stage === one);
    screen.toggleAttribute(`data-${one}`, stage === one);
  }
  document.body.toggleAttribute("data-recording", stage !== null);
  button.textContent = stage ? say("page-stop") : say("page-record");
  if (stage !== "running") byId("beat").hidden = true;
}

// Shut first, then a second each.
function beat(air, seconds, context, went) {
  const box = byId("beat");
  if (air !== "pulsed" || !box) return;
  const open = Math.floor(seconds) % 2 === 1;
  if (went.open !== open) {
    went.open = open;
    box.hidden = false;
    box.toggleAttribute("data-open", open);
    box.textContent = say(open ? "page-pulsed-open" : "page-pulsed-shut");
    if (chosen.beep) beep(context, open);
  }
}

export function level(told) {
  const { level_db: whole, above_quiet_db: above, clipped, in_the_stream: stream } = told.level;
  const put = (id, value, text) => { const meter = byId(id); if (meter) { meter.value = value; byId(`${id}-text`).textContent = text; } };
  put("level", whole ?? -90, whole === null ? "–" : `${number(whole, 0)} dB`);
  if (above === null) put("hiss", 0, told.air === "off" ? "–" : "?");
  else put("hiss", Math.max(0, above), `${above >= 0 ? "+" : ""}${number(above, 1)} dB`);
  const line = byId("recording");
  if (!line) return;
  line.textContent = clipped > 0 ? say("page-clipped") : stream ? say("page-in-the-stream") : above === null && told.air !== "off" ? say("page-no-quiet") : "";
}
