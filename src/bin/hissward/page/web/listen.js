// Listening: where the microphone is, what the air does, one large button.
import { byId, el, notice } from "./dom.js";
import * as outbox from "./outbox.js";
import { plan } from "./plan.js";
import { beep, microphone, record } from "./recorder.js";
import { number, place, say } from "./words.js";

const SECONDS = { off: 10, on: 10, pulsed: 13 };
const chosen = { opening: null, air: "off", beep: true };
let running = null;
let redraw = () => {};

export const isRecording = () => running !== null;

const next = (state) => (state.job.orders[state.cylinder - 1] ?? []).find((visit) => !visit.done);

export function listen(state, update) {
  redraw = update;
  const coming = next(state);
  if (!chosen.opening || chosen.auto) {
    chosen.opening = coming?.opening ?? chosen.opening ?? "intake";
    chosen.air = coming?.air ?? chosen.air;
    chosen.auto = true;
  }
  const pick = (changes) => { if (!running) { Object.assign(chosen, changes, { auto: false }); update(); } };
  const said = coming
    ? say("page-next", { place: place(coming.opening), air: say(`page-air-${coming.air}`) })
    : say("page-next-done");
  const turn = state.job.turns.find((turn) => turn.from === state.cylinder);
  return el("div", { class: "bench", id: "listening" },
    el("section", { class: "choosing" },
      el("h1", { class: "hidden" }, say("page-where")),
      el("p", { class: "next" }, said),
      !coming && state.job.cylinders > 1 && turn && el("p", {}, turn.text),
      plan(state.job, state.cylinder, chosen.opening, coming, (opening) => pick({ opening }))),
    el("section", {},
      el("h2", {}, `${say("page-air")} · ${place(chosen.opening)}`),
      el("div", { class: "row choosing", role: "group", "aria-label": say("page-air") }, ["off", "on", "pulsed"].map((air) =>
        el("button", { type: "button", "data-air": air, "aria-pressed": String(chosen.air === air), onclick: () => pick({ air }) }, say(`page-air-${air}`)))),
      chosen.air === "pulsed" && el("p", { class: "choosing" }, say("page-pulsed-how")),
      chosen.air === "pulsed" && el("label", { class: "check choosing" },
        el("input", { type: "checkbox", ...(chosen.beep ? { checked: true } : {}), onchange: (event) => { chosen.beep = event.target.checked; } }), say("page-beep")),
      el("div", { id: "live" },
        el("div", { id: "beat", class: "beat", hidden: true }),
        el("div", { class: "meter" },
          el("span", { id: "l1" }, say("page-level")), el("output", { id: "level-text" }, "–"), el("meter", { id: "level", min: -90, max: 0, value: -90, "aria-labelledby": "l1" }),
          el("span", { id: "l2" }, say("page-hiss")), el("output", { id: "hiss-text" }, "–"), el("meter", { id: "hiss", min: 0, max: 30, value: 0, "aria-labelledby": "l2" })),
        el("div", { id: "recording" }),
        el("div", { id: "mic" })),
      el("button", { id: "record", type: "button", disabled: state.role !== "work", onclick: () => (running ? running.stop() : start(state)) },
        running ? say("page-stop") : say("page-record")),
      el("div", { class: "row choosing" }, el("button", { type: "button", onclick: () => other(pick) }, say("page-other-opening")))));
}

function other(pick) {
  const name = prompt(say("page-other-ask"));
  if (name) pick({ opening: name.trim().toLowerCase() });
}

async function start(state) {
  let mic;
  try {
    mic = await microphone();
  } catch (error) {
    notice(error.message === "insecure" ? say("page-no-secure") : say("page-no-microphone", { why: error.message }));
    return;
  }
  byId("mic").replaceChildren(el("p", { class: "soft" }, say("page-microphone", { name: mic.name, rate: mic.rate })),
    mic.processing.length > 0 && el("p", { class: "note" }, say("page-processing", { what: mic.processing.map((what) => say(`page-processing-${what}`)).join(", ") })) || "");
  const clip = {
    token: outbox.newToken(), job: state.name,
    about: { cylinder: state.cylinder, opening: chosen.opening, air: chosen.air, rate_hz: mic.rate, device: mic.name, processing: mic.processing },
  };
  if (chosen.opening === "rig") clip.about.cylinder = null;
  await outbox.put(clip);
  const went = { pieces: 0, frames: 0, lost: false, token: clip.token };
  let writing = Promise.resolve();
  let over;
  const stopped = new Promise((done) => { over = done; });
  const wanted = SECONDS[chosen.air] * mic.rate;
  const air = chosen.air;
  const tape = await record((samples) => {
    const sequence = went.pieces++;
    went.frames += samples.length;
    // One after the other, so that no piece is sent before the one ahead of it is kept.
    writing = writing.then(() => outbox.putPiece(went.token, sequence, samples)).catch((error) => notice(say("page-failed", { why: error.message })));
    beat(air, went.frames / mic.rate, mic.context, went);
    byId("recording")?.replaceChildren(say("page-seconds", { seconds: number(went.frames / mic.rate, 0) }));
    if (went.frames >= wanted) over();
  }, () => { went.lost = true; over(); });
  running = { stop: over, went };
  const awake = await navigator.wakeLock?.request("screen").catch(() => null);
  show(true);
  await stopped;
  const gaps = await tape.stop();
  await writing;
  await outbox.close(went.token, { pieces: went.pieces, cut_short: went.lost, gaps });
  awake?.release();
  running = null;
  chosen.auto = true;
  show(false);
  redraw();
}

export function renamed(from, to) {
  if (running?.went.token === from) running.went.token = to;
}

function show(on) {
  const button = byId("record");
  if (!button) return;
  button.toggleAttribute("data-running", on);
  // A phone shows what is heard in place of what was chosen.
  byId("listening").toggleAttribute("data-running", on);
  button.textContent = on ? say("page-stop") : say("page-record");
  if (!on) byId("beat").hidden = true;
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
  const { level_db: whole, above_quiet_db: above, clipped } = told.level;
  const put = (id, value, text) => { const meter = byId(id); if (meter) { meter.value = value; byId(`${id}-text`).textContent = text; } };
  put("level", whole ?? -90, whole === null ? "–" : `${number(whole, 0)} dB`);
  if (above === null) put("hiss", 0, told.air === "off" ? "–" : "?");
  else put("hiss", Math.max(0, above), `${above >= 0 ? "+" : ""}${number(above, 1)} dB`);
  const line = byId("recording");
  if (!line) return;
  const seconds = say("page-seconds", { seconds: number(told.seconds, 0) });
  const lacking = above === null && told.air !== "off" ? ` · ${say("page-no-quiet")}` : "";
  line.textContent = clipped > 0 ? say("page-clipped") : seconds + lacking;
}
