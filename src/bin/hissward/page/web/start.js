// Coming in, choosing a job, the cautions.
import { get, jobPath, post } from "./api.js";
import { byId, el, notice } from "./dom.js";
import { cautions as texts, say } from "./words.js";

export function pairing(paired) {
  const submit = async (event) => {
    event.preventDefault();
    try {
      await post("pair", { code: byId("code").value });
      await paired();
    } catch (error) { notice(error.message); }
  };
  return el("form", { onsubmit: submit },
    el("h1", {}, say("page-pair")), el("p", {}, say("page-pair-how")),
    el("label", {}, say("page-pair-code"), el("input", { id: "code", autocomplete: "off", autocapitalize: "characters", spellcheck: "false", maxlength: 20, required: true })),
    el("button", { class: "strong" }, say("page-pair-go")),
    location.protocol === "https:" && el("p", { class: "soft" }, say("page-certificate")));
}

export async function jobs(state) {
  const told = await get("jobs");
  const item = (job) => el("li", {}, el("button", { type: "button", class: "wide", "data-job": job.name, disabled: Boolean(job.error), onclick: () => state.open(job.name) },
    job.engine ?? job.name, el("small", {}, job.error ?? [job.day, `${job.cylinders} ${say("page-cylinders")}`, `${job.clips} ${say("page-clips")}`].filter(Boolean).join(" · "))));
  return el("div", {}, el("h1", {}, say("page-jobs")),
    told.jobs.length === 0 ? el("p", {}, say("page-jobs-none")) : el("ul", { class: "list" }, told.jobs.map(item)),
    told.takes_new && state.role === "work" && beginning(state));
}

function beginning(state) {
  const field = (name, text, more = {}) => el("label", {}, text, more.required ? null : el("small", {}, ` (${say("page-optional")})`), el("input", { name, autocomplete: "off", ...more }));
  const submit = async (event) => {
    event.preventDefault();
    const data = new FormData(event.target);
    const text = (name) => data.get(name) ?? "";
    try {
      const { name } = await post("jobs", {
        engine: text("engine"), cylinders: Number(text("cylinders")), firing_order: text("firing_order"), restrictor: text("restrictor"),
        tested_by: text("tested_by"), hot: data.has("hot") || null, two_stroke: data.has("two_stroke"), language: document.documentElement.lang,
      });
      state.open(name);
    } catch (error) { notice(error.message); }
  };
  return el("form", { onsubmit: submit, id: "new" }, el("h2", {}, say("page-new")),
    field("engine", say("page-engine"), { required: true, maxlength: 200 }),
    field("cylinders", say("page-cylinders"), { required: true, type: "number", inputmode: "numeric", min: 1, max: 48 }),
    field("firing_order", say("page-firing-order")), field("restrictor", say("page-restrictor")), field("tested_by", say("page-tested-by")),
    el("label", { class: "check" }, el("input", { type: "checkbox", name: "hot" }), say("page-hot")),
    el("label", { class: "check" }, el("input", { type: "checkbox", name: "two_stroke" }), say("page-two-stroke")),
    el("button", { class: "strong" }, say("page-start")));
}

export function cautions(state) {
  const confirm = async () => {
    try { await post(`${jobPath(state.name)}/cautions`); await state.reload(); } catch (error) { notice(error.message); }
  };
  return el("div", {}, el("h1", {}, say("page-cautions")),
    el("ol", { class: "cautions" }, texts.map((text) => el("li", {}, text))),
    el("button", { type: "button", class: "strong", id: "confirm", disabled: state.role !== "work", onclick: confirm }, say("page-cautions-go")));
}
