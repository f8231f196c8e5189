// The gauge: large digits, the rig first, then the cylinder; beside them what it comes to, and the whole verdict.
import { jobPath } from "./api.js";
import { el, mended, notice } from "./dom.js";
import * as outbox from "./outbox.js";
import { verdict } from "./result.js";
import * as steps from "./steps.js";
import { number, say } from "./words.js";

const entry = { whom: "cylinder", field: "supply", unit: localStorage.getItem("unit") || "psi", supply: "", held: "", loss: "", cold: false };
let pressed = () => {};

// A key of the keyboard, where no field has the focus.
export function key(name) {
  const meant = name === "Backspace" ? "⌫" : name === "," ? "." : name;
  if (/^[0-9.⌫]$/.test(meant)) { pressed(meant); return true; }
  return false;
}

const LARGE_LOSS = 50;

export function gauge(state, update) {
  const change = (changes) => { Object.assign(entry, changes); update(); };
  // A percent gauge shows one value, and none of the rig alone.
  if (entry.whom === "rig" && entry.unit === "%") entry.unit = "psi";
  const pressures = entry.unit !== "%";
  const fields = pressures ? ["supply", "held"] : ["loss"];
  if (!fields.includes(entry.field)) entry.field = fields[0];
  const press = (key) => {
    const now = entry[entry.field];
    if (key === "⌫") change({ [entry.field]: now.slice(0, -1) });
    else if (now.length < 7 && !(key === "." && now.includes("."))) change({ [entry.field]: now + key });
  };
  pressed = press;
  const keep = async () => {
    const with_unit = (text) => `${text}${entry.unit}`;
    const reading = pressures ? { supply: with_unit(entry.supply), held: with_unit(entry.held) } : { loss: entry.loss };
    const rig = entry.whom === "rig";
    const before = state.job.rig?.held;
    try {
      const waits = rig ? await outbox.putReading(`${jobPath(state.name)}/rig`, reading)
        : await outbox.putReading(`${jobPath(state.name)}/gauge`, { ...reading, cylinder: state.cylinder, cold: entry.cold });
      mended("reading");
      const whose = rig ? say("page-rig") : `${say("page-cylinder")} ${state.cylinder}`;
      steps.done({ fit: true, text: say(waits ? "page-reading-waits" : "page-reading-kept", { whose, loss: lost() }),
        undo: waits ? null : !rig ? { reading_back: state.cylinder } : before ? { rig: before } : { rig_back: true } });
      Object.assign(entry, { held: "", loss: "", field: "held" });
      await state.reload();
      // What was pressed is out of use now: whoever works by the keyboard is led to the next reading.
      document.querySelector("[data-field=held]")?.focus();
    } catch (error) {
      notice(say("page-failed", { why: error.message }), "reading");
    }
  };
  const lost = () => {
    const share = pressures ? (1 - Number(entry.held) / Number(entry.supply)) * 100 : Number(entry.loss);
    return Number.isFinite(share) ? number(share, 0) : "–";
  };
  const choice = (key, value, text) =>
    el("button", { type: "button", "data-choice": `${key}-${value}`, "aria-pressed": String(entry[key] === value), onclick: () => change({ [key]: value }) }, text);
  const units = (entry.whom === "rig" ? ["psi", "bar", "kPa"] : ["psi", "bar", "kPa", "%"]).map((unit) => {
    const button = choice("unit", unit, unit);
    button.addEventListener("click", () => localStorage.setItem("unit", unit));
    return button;
  });
  const ready = fields.every((field) => entry[field] !== "");
  const known = state.job.gauge.find((one) => one.cylinder === state.cylinder);
  const large = ready && Number(lost().replace(/[^0-9]/g, "")) >= LARGE_LOSS;
  return el("div", { class: "bench" },
    el("section", {},
      el("h1", { class: "hidden" }, say("page-gauge")),
      steps.step(state),
      el("div", { class: "entry" },
        el("div", { class: "row" }, choice("whom", "rig", say("page-rig")), choice("whom", "cylinder", `${say("page-cylinder")} ${state.cylinder}`)),
        el("div", { class: "row units" }, units)),
      entry.whom === "rig" && el("p", {}, say("page-rig-how")),
      el("div", { class: "fields" }, fields.map((field) =>
        el("button", { type: "button", "data-field": field, "aria-pressed": String(entry.field === field), onclick: () => change({ field }) },
          say(field === "loss" ? "page-loss" : `page-${field}`), el("b", {}, entry[field] || "–")))),
      el("p", { id: "lost", class: large ? "much" : null, "aria-live": "polite" }, ready ? say("page-loses", { loss: lost() }) : " "),
      el("div", { class: "pad" }, ["7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0", "⌫"].map((key) =>
        el("button", { type: "button", "data-key": key, "aria-label": key === "⌫" ? say("page-erase") : key, onclick: () => press(key) }, key))),
      entry.whom === "cylinder" && el("label", { class: "check" },
        el("input", { type: "checkbox", ...(entry.cold ? { checked: true } : {}), onchange: (event) => { entry.cold = event.target.checked; } }), say("page-cold")),
      el("button", { type: "button", id: "keep", class: "strong", disabled: !ready || state.role !== "work", onclick: keep }, say("page-keep"))),
    el("section", {},
      el("h2", {}, say("page-rig")), el("pre", {}, state.job.rig?.text ?? say("page-not-read")),
      el("h2", {}, `${say("page-cylinder")} ${state.cylinder}`), el("pre", {}, known?.text ?? say("page-not-read")),
      verdict(state)));
}
