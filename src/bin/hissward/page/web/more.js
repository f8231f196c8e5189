// Language, light, further devices, the customer's link.
import { drop, jobPath, post } from "./api.js";
import { drawn, el, notice } from "./dom.js";
import { amend, step } from "./steps.js";
import { language, languages, say, speak } from "./words.js";

const NAMES = { en: "English", de: "Deutsch" };

export function lit() {
  const light = localStorage.getItem("light");
  if (light) document.documentElement.dataset.light = light;
  else delete document.documentElement.dataset.light;
}

// The job's own data, put right where they were typed wrongly. What was changed stays in the job.
function about(state) {
  const was = { engine: state.job.engine, customer: state.job.customer ?? "", tested_by: state.job.tested_by ?? "", notes: state.job.notes ?? "" };
  const field = (name, text, most) => el("label", {}, text, el("input", { name, autocomplete: "off", maxlength: most, value: was[name], required: name === "engine" }));
  const keep = (event) => {
    event.preventDefault();
    const typed = Object.fromEntries(new FormData(event.target));
    const changed = Object.keys(was).filter((name) => typed[name].trim() !== was[name]);
    const only = (values) => Object.fromEntries(changed.map((name) => [name, values[name]]));
    if (changed.length > 0) amend(state, { about: only(typed) }, { about: only(was) });
  };
  return el("form", { id: "about", onsubmit: keep }, el("h2", {}, say("page-about")), step(state),
    field("engine", say("page-engine"), 200), field("customer", say("page-customer-name"), 200),
    field("tested_by", say("page-tested-by"), 200), field("notes", say("page-notes"), 2000),
    el("button", {}, say("page-change")));
}

export function more(state, update) {
  const shown = el("div", { class: "qr", role: "status" });
  const show = (ask) => async () => {
    try {
      const told = await post(ask);
      shown.replaceChildren(drawn(told.qr), el("p", {}, told.address ?? ""), told.code ? el("code", {}, told.code) : el("p", {}, told.link));
    } catch (error) { notice(error.message); }
  };
  const end = async () => {
    try { await drop(`${jobPath(state.name)}/customer-link`); shown.replaceChildren(el("p", {}, say("page-customer-ended"))); } catch (error) { notice(error.message); }
  };
  const light = (value) => el("button", { type: "button", "data-light-choice": value ?? "system", "aria-pressed": String((localStorage.getItem("light") ?? null) === value), onclick: () => {
    if (value) localStorage.setItem("light", value); else localStorage.removeItem("light");
    lit(); update();
  } }, say(`page-light-${value ?? "system"}`));
  return el("div", {}, el("h1", {}, say("page-more")),
    el("h2", {}, say("page-language")), el("div", { class: "row" }, languages.map((code) =>
      el("button", { type: "button", lang: code, "aria-pressed": String(code === language()), onclick: async () => { await speak(code); await state.reload(); } }, NAMES[code] ?? code))),
    el("h2", {}, say("page-light")), el("div", { class: "row" }, [null, "sun", "dark"].map(light)),
    state.job && state.role === "work" && about(state),
    state.role === "work" && el("div", {},
      el("h2", {}, say("page-further")), el("div", { class: "row" },
        el("button", { type: "button", id: "further", onclick: show("further-device") }, say("page-further")),
        state.name && el("button", { type: "button", id: "customer", onclick: show(`${jobPath(state.name)}/customer-link`) }, say("page-customer")),
        state.name && el("button", { type: "button", id: "customer-end", onclick: end }, say("page-customer-end"))), shown),
    el("div", { class: "row" }, el("button", { type: "button", onclick: async () => { await post("leave"); location.reload(); } }, say("page-leave"))));
}
