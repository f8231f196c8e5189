// The step just done, with its verdict and the way back; and what was probably done wrong, with the one touch that mends it.
import { jobPath, post } from "./api.js";
import { el, mended, notice } from "./dom.js";
import { place, say } from "./words.js";

let last = null;

// A step: what it was, whether it counts, what to send to undo it.
export function done(told) { last = told; }

export async function amend(state, change, undo = null) {
  try {
    await post(`${jobPath(state.name)}/amend`, change);
    last = { text: say("page-changed"), fit: true, undo };
    mended("amend");
    await state.reload();
  } catch (error) { notice(say("page-failed", { why: error.message }), "amend"); }
}

export function clipText(one) {
  return [one.cylinder == null ? null : `${say("page-cylinder")} ${one.cylinder}`, place(one.opening), say(`page-air-${one.air}`)].filter(Boolean).join(" · ");
}

export function kept(state, verdict) {
  if (!verdict) return;
  const clip = state.job?.clips.find((one) => one.file === verdict.file);
  const name = clip ? clipText(clip) : verdict.file;
  last = { text: verdict.fit ? say("page-kept-clip", { clip: name }) : say("page-unfit-clip", { clip: name }), fit: verdict.fit, why: verdict.text, remedy: verdict.remedy,
    undo: { clips: [verdict.file], ...(verdict.fit ? { leave_out: say("page-undone") } : { take_in: true }) } };
}

export function step(state) {
  if (!last || state.role !== "work") return null;
  const told = last;
  return el("div", { class: `step${told.fit ? "" : " bad"}`, role: "status" },
    el("div", {}, el("p", {}, el("strong", {}, told.text)), told.why && el("p", {}, told.why), told.remedy && el("p", {}, told.remedy)),
    told.undo && el("button", { type: "button", id: "undo", onclick: () => amend(state, told.undo, told.undo.leave_out ? { clips: told.undo.clips, take_in: true } : null) }, say(told.fit ? "page-undo" : "page-take-in")));
}

export function mistakes(state) {
  if (state.role !== "work") return null;
  const clip = (file) => state.job.clips.find((other) => other.file === file);
  // Those of other cylinders are told there.
  const here = (one) => one.action.clips.some((file) => [null, undefined, state.cylinder].includes(clip(file)?.cylinder));
  const named = (one) => one.action.clips.reduce((text, file) => (clip(file) ? text.replaceAll(file, `${clipText(clip(file))} · ${say("page-take", { number: clip(file).take })}`) : text), one.text);
  return (state.job.mistakes ?? []).filter(here).map((one) => el("div", { class: "step bad", "data-mistake": one.does },
    el("p", {}, named(one)),
    el("button", { type: "button", onclick: () => amend(state, one.action, one.does === "swap" ? one.action : { clips: one.action.clips, take_in: true }) },
      say(one.does === "swap" ? "page-swap" : "page-leave-out"))));
}
