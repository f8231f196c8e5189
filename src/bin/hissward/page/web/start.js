// Coming in, choosing a job, the cautions.
import { get, jobPath, post } from "./api.js";
import { byId, el, mended, notice } from "./dom.js";
import { cautions as texts, say } from "./words.js";

export function pairing(paired) {
  const submit = async (event) => {
    event.preventDefault();
    try {
      await post("pair", { code: byId("code").value });
      await paired();
    } catch (error) { notice(error.message, "pair"); }
  };
  return el("form", { onsubmit: submit },
    el("h1", {}, say("page-pair")), el("p", {}, say("page-pair-how")),
    el("label", {}, say("page-pair-code"), el("input", { id: "code", autocomplete: "off", autocapitalize: "characters", spellcheck: "false", maxlength: 20, required: true })),
    el("button", { class: "strong" }, say("page-pair-go")),
    location.protocol === "https:" && el("p", { class: "soft" }, say("page-certificate")));
}

export async function jobs(state) {
  const told = await get("jobs");
  const count = (job) => say(job.cylinders === 1 ? "page-cylinder-one" : "page-cylinder-count", { count: job.cylinders });
  // Two jobs on one engine on one day are told apart by their folders.
  const twin = (job) => told.jobs.some((other) => other !== job && other.engine === job.engine && other.day === job.day);
  const about = (job) => [job.day, job.customer, count(job), twin(job) && job.name].filter(Boolean).join(" · ");
  // What is there, and whether anything is left to do.
  const stands = (job) => (job.clips + job.readings === 0 ? say("page-job-empty")
    : say(job.missing === 0 ? "page-job-complete" : "page-job-open", { readings: job.readings, clips: job.clips, missing: job.missing }));
  const item = (job) => el("li", { "data-words": `${job.engine ?? ""} ${job.customer ?? ""} ${job.name} ${job.day ?? ""}`.toLowerCase() },
    el("button", { type: "button", class: "wide", "data-job": job.name, disabled: Boolean(job.error), onclick: () => state.open(job.name) },
      job.engine ?? job.name, job.error ? el("small", {}, job.error) : [el("small", {}, about(job)), el("small", {}, stands(job))]));
  const newest = [...told.jobs].sort((a, b) => (b.day ?? "").localeCompare(a.day ?? "") || a.name.localeCompare(b.name));
  const list = el("ul", { class: "list" }, newest.map(item));
  const seek = (event) => {
    const words = event.target.value.toLowerCase().split(/\s+/);
    for (const line of list.children) line.hidden = !words.every((word) => line.dataset.words.includes(word));
  };
  return el("div", { class: "bench" },
    el("section", {}, el("h1", {}, say("page-jobs")),
      told.jobs.length > 1 && el("label", {}, say("page-search"), el("input", { type: "search", id: "search", autocomplete: "off", oninput: seek })),
      told.jobs.length === 0 ? el("p", {}, say("page-jobs-none")) : list),
    el("section", {}, told.takes_new && state.role === "work" && beginning(state)));
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
        tested_by: text("tested_by"), customer: text("customer"), notes: text("notes"), limit: text("limit"), limit_source: text("limit_source"), hot: data.has("hot") || null, two_stroke: data.has("two_stroke"), language: document.documentElement.lang,
      });
      mended("new");
      state.open(name);
    } catch (error) { notice(error.message, "new"); }
  };
  return el("form", { onsubmit: submit, id: "new" }, el("h2", {}, say("page-new")),
    field("engine", say("page-engine"), { required: true, maxlength: 200 }),
    field("cylinders", say("page-cylinders"), { required: true, type: "number", inputmode: "numeric", min: 1, max: 48 }),
    field("customer", say("page-customer-name"), { maxlength: 200 }),
    field("firing_order", say("page-firing-order")), field("restrictor", say("page-restrictor")),
    field("limit", say("page-limit"), { inputmode: "decimal" }), field("limit_source", say("page-limit-source"), { maxlength: 200 }),
    field("tested_by", say("page-tested-by"), { maxlength: 200 }), field("notes", say("page-notes"), { maxlength: 2000 }),
    el("label", { class: "check" }, el("input", { type: "checkbox", name: "hot" }), say("page-hot")),
    el("label", { class: "check" }, el("input", { type: "checkbox", name: "two_stroke" }), say("page-two-stroke")),
    el("button", { class: "strong" }, say("page-start")));
}

export function cautions(state) {
  const confirm = async () => {
    try { await post(`${jobPath(state.name)}/cautions`); mended("cautions"); await state.reload(); } catch (error) { notice(error.message, "cautions"); }
  };
  return el("div", {}, el("h1", {}, say("page-cautions")),
    el("ol", { class: "cautions" }, texts.map((text) => el("li", {}, text))),
    el("button", { type: "button", class: "strong", id: "confirm", disabled: state.role !== "work", onclick: confirm }, say("page-cautions-go")));
}
