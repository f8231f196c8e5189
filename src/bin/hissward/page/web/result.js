// What came out: opening by opening, then what it means.
import { jobPath, post } from "./api.js";
import { el, notice } from "./dom.js";
import { language, number, place, say } from "./words.js";

const sentence = (text) => text && `${text[0].toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? "" : "."}`;

function bar(name, share, chance, under) {
  return el("div", { class: "bar" }, el("span", {}, name), el("b", {}, chance),
    el("progress", { max: 1, value: share, "aria-label": `${name} ${chance}` }), under && el("small", {}, under));
}

function opening(one, chance) {
  const level = one.heard ? say("page-hiss-level", { level: number(one.hiss_db, 1) }) : say("page-at-most", { level: number(one.at_most_db, 1) });
  const path = one.path === "other" ? "" : `${say(`path-${one.path}`)} · `;
  return bar(place(one.opening), one.probability, chance, `${path}${level}${one.spill ? ` · ${say("page-spill")}` : ""}`);
}

function answer(state, one) {
  const { result, headline, chances } = one;
  const caveats = [...result.caveats, ...result.openings.flatMap((place) => place.caveats)];
  const unlike = caveats.filter((caveat, at) => caveats.findIndex((other) => other.text === caveat.text) === at);
  return el("article", { class: "answer", "data-call": result.call },
    el("h3", {}, headline),
    result.openings.map((place) => opening(place, chances[place.opening])), bar(say("page-elsewhere"), result.elsewhere_probability, chances.elsewhere),
    unlike.map((caveat) => el("div", { class: "note" }, el("p", {}, sentence(caveat.text)), el("p", {}, el("strong", {}, sentence(caveat.remedy))))),
    el("img", { class: "picture", alt: headline, loading: "lazy",
      src: `/api/${jobPath(state.name)}/picture?in=${language()}&cylinder=${result.cylinder}&n=${state.job.clips.length}` }));
}

function clip(state, one) {
  const about = [one.cylinder === null ? null : `${say("page-cylinder")} ${one.cylinder}`, place(one.opening), say(`page-air-${one.air}`),
    say("page-take", { number: one.take }), say("page-seconds", { seconds: number(one.seconds, 1) }),
    one.cut_short && say("page-cut-short"), one.left_out && say("page-left-out")].filter(Boolean).join(" · ");
  const flip = async () => {
    try {
      await post(`${jobPath(state.name)}/leave-out`, { file: one.file, reason: one.left_out ? null : say("page-left-out") });
      await state.reload();
    } catch (error) { notice(say("page-failed", { why: error.message })); }
  };
  return el("li", {}, el("span", {}, about), " ", state.role === "work" && el("button", { type: "button", onclick: flip },
    say(one.left_out ? "page-take-in" : "page-leave-out")));
}

export function result(state) {
  const { job } = state;
  const shown = [...job.answers].sort((a, b) => (b.result.cylinder === state.cylinder) - (a.result.cylinder === state.cylinder));
  const finding = (one) => el("article", { class: "answer" }, el("h3", {}, one.headline), one.parts.map((part) => [
    el("h4", {}, part.heading), part.list ? el("ul", {}, part.sentences.map((line) => el("li", {}, line))) : part.sentences.map((line) => el("p", {}, line))]));
  return el("div", { class: "bench" },
    el("section", {}, el("h1", {}, say("page-result")),
      job.trouble && el("p", { class: "note" }, job.trouble),
      shown.length === 0 ? el("p", {}, say("page-no-result")) : shown.map((one) => answer(state, one)),
      job.answers.length > 0 && el("a", { class: "button strong", id: "report", href: `/api/${jobPath(state.name)}/report?in=${language()}`, target: "_blank" }, say("page-report"))),
    el("section", {},
      job.findings.length > 0 && [el("h2", {}, say("page-findings")), job.findings.map(finding)],
      job.clips.length > 0 && [el("h2", {}, say("page-clips")), el("ul", { class: "list clips" }, job.clips.map((one) => clip(state, one)))]));
}
