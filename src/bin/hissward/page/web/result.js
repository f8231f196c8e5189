// What came out: the verdict, the loss and what to do next first; picture, figures and clips below.
import { jobPath } from "./api.js";
import { el, notice } from "./dom.js";
import { choose, coming } from "./listen.js";
import { amend, clipText, mistakes, step } from "./steps.js";
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

const answerOf = (state) => state.job.answers.find((one) => one.result.cylinder === state.cylinder);
const findingOf = (state) => state.job.findings.find((one) => one.cylinder === state.cylinder);

// Gauge and sound in one place: what it is, what is lost, what to do next.
export function verdict(state) {
  const [answer, finding] = [answerOf(state), findingOf(state)];
  const known = state.job.gauge.find((one) => one.cylinder === state.cylinder);
  if (!answer && !finding && !known) return el("p", { class: "verdict" }, say("page-no-result"));
  const next = state.role === "work" ? coming(state) : null;
  // A reading that would tell more than a clip.
  const reading = answer?.result.next?.reading && answer.result.next;
  const go = () => { if (next.opening) choose({ opening: next.opening, air: next.air }); state.show("listen"); };
  return el("article", { class: "verdict", "data-call": answer?.result.call ?? "none" },
    el("h2", {}, finding?.headline ?? answer?.headline ?? say("page-no-result")),
    // Where all is well the call is no second verdict: the figures below show it.
    finding && answer && !finding.fine && el("p", {}, answer.headline),
    el("p", { class: "loss" }, sentence(finding?.loss) ?? (known ? say("page-lost", { loss: known.loss }) : say("page-loss-not-read"))),
    finding?.loss && known && el("p", {}, say("page-as-read", { loss: known.loss })),
    reading && el("p", { class: "next" }, reading.text),
    next && el("p", { class: "next" }, next.text ?? say("page-next", { place: place(next.opening), air: say(`page-air-${next.air}`) })),
    next && el("button", { type: "button", class: "strong", id: "go-next", onclick: go }, say("page-go-next")));
}

function figures(answer) {
  if (!answer) return null;
  const { result, chances } = answer;
  const caveats = [...result.caveats, ...result.openings.flatMap((place) => place.caveats)];
  const unlike = caveats.filter((caveat, at) => caveats.findIndex((other) => other.text === caveat.text) === at);
  return [
    result.openings.map((place) => opening(place, chances[place.opening])), bar(say("page-elsewhere"), result.elsewhere_probability, chances.elsewhere),
    unlike.length > 0 && el("details", { open: unlike.length < 3 }, el("summary", {}, say("page-doubts", { count: unlike.length })),
      unlike.map((caveat) => el("div", { class: "note" }, el("p", {}, sentence(caveat.text)), el("p", {}, el("strong", {}, sentence(caveat.remedy))))))];
}

function meaning(one) {
  return one.parts.map((part) => [el("h3", {}, part.heading),
    part.list ? el("ul", {}, part.sentences.map((line) => el("li", {}, line))) : part.sentences.map((line) => el("p", {}, line))]);
}

// A clip's place put right: opening, cylinder, air, or its place changed with another's.
function mending(state, one) {
  const select = (name, options, now) => el("label", {}, say(`page-${name}`), el("select", { name },
    options.map(([value, text]) => el("option", { value, ...(String(value) === String(now) ? { selected: true } : {}) }, text))));
  const places = [...new Set(["intake", "exhaust", "oil-filler", "coolant-filler", "rig", ...state.job.clips.map((clip) => clip.opening),
    ...Array.from({ length: state.job.cylinders }, (_, at) => `plug-hole-${at + 1}`)])];
  const others = state.job.clips.filter((clip) => clip.file !== one.file);
  const was = { clips: [one.file], opening: one.opening, air: one.air, ...(one.cylinder == null ? {} : { cylinder: one.cylinder }) };
  const move = (event) => {
    event.preventDefault();
    const data = new FormData(event.target);
    const changed = { clips: [one.file] };
    if (data.get("opening") !== one.opening) changed.opening = data.get("opening");
    if (data.get("air") !== one.air) changed.air = data.get("air");
    if (data.has("cylinder") && Number(data.get("cylinder")) !== one.cylinder) changed.cylinder = Number(data.get("cylinder"));
    amend(state, changed, was);
  };
  const swap = (event) => { if (event.target.value) { const both = { clips: [one.file, event.target.value], swap: true }; amend(state, both, both); } };
  return el("details", { class: "mend" }, el("summary", { "aria-label": `${say("page-change")}: ${clipText(one)}` }, say("page-change")),
    el("form", { onsubmit: move },
      select("opening", places.map((name) => [name, place(name)]), one.opening),
      one.cylinder != null && state.job.cylinders > 1 && select("cylinder", Array.from({ length: state.job.cylinders }, (_, at) => [at + 1, at + 1]), one.cylinder),
      select("air", ["off", "on", "pulsed"].map((air) => [air, say(`page-air-${air}`)]), one.air),
      el("button", { class: "strong" }, say("page-change"))),
    others.length > 0 && el("label", {}, say("page-swap-with"), el("select", { name: "swap", onchange: swap }, el("option", { value: "" }, "–"),
      others.map((clip) => el("option", { value: clip.file }, `${clipText(clip)} · ${say("page-take", { number: clip.take })}`)))));
}

function clip(state, one) {
  const about = [clipText(one), say("page-take", { number: one.take }), say("page-seconds", { seconds: number(one.seconds, 1) }),
    one.cut_short && say("page-cut-short")].filter(Boolean).join(" · ");
  const flip = () => amend(state, { clips: [one.file], ...(one.left_out ? { take_in: true } : { leave_out: say("page-left-out") }) },
    { clips: [one.file], ...(one.left_out ? { leave_out: one.left_out } : { take_in: true }) });
  return el("li", { class: one.left_out ? "out" : null }, el("div", {}, about, one.left_out && el("small", {}, `${say("page-left-out")}: ${one.left_out}`)),
    state.role === "work" && el("div", { class: "row" }, el("button", { type: "button", onclick: flip }, say(one.left_out ? "page-take-in" : "page-leave-out")), mending(state, one)));
}

async function share(state) {
  const name = `${state.job.engine.replace(/[^\p{L}\p{N}]+/gu, "-")}.pdf`;
  try {
    const answer = await fetch(`/api/${jobPath(state.name)}/report.pdf?in=${language()}`);
    if (!answer.ok) throw new Error((await answer.json()).text);
    const file = new File([await answer.blob()], name, { type: "application/pdf" });
    if (navigator.canShare?.({ files: [file] })) return await navigator.share({ files: [file], title: state.job.engine });
    // Where the system shares nothing, the file is kept as a download.
    const link = el("a", { href: URL.createObjectURL(file), download: name });
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
  } catch (error) {
    if (error.name !== "AbortError") notice(say("page-failed", { why: error.message }), "share");
  }
}

export function result(state) {
  const { job } = state;
  const [answer, finding] = [answerOf(state), findingOf(state)];
  const whole = job.findings.filter((one) => one.cylinder == null);
  const reportable = job.answers.length > 0 || job.gauge.length > 0;
  const paper = (ending) => `/api/${jobPath(state.name)}/report${ending}?in=${language()}`;
  return el("div", { class: "bench" },
    el("section", {}, el("h1", { class: "hidden" }, say("page-result")),
      job.trouble && el("p", { class: "note" }, job.trouble),
      step(state), mistakes(state), verdict(state),
      reportable && el("div", { class: "row" },
        el("a", { class: "button", id: "report", href: paper(""), target: "_blank" }, say("page-report")),
        el("a", { class: "button", id: "pdf", href: paper(".pdf"), target: "_blank" }, "PDF"),
        el("button", { type: "button", id: "share", onclick: () => share(state) }, say("page-share"))),
      answer && el("div", { class: "answer", "data-call": answer.result.call }, figures(answer))),
    el("section", {},
      answer && el("img", { class: "picture", alt: answer.headline, loading: "lazy",
        src: `/api/${jobPath(state.name)}/picture?in=${language()}&cylinder=${answer.result.cylinder}&n=${job.clips.length}` }),
      finding && el("article", { class: "answer" }, meaning(finding)),
      whole.length > 0 && el("details", {}, el("summary", {}, say("page-engine-whole")), whole.map((one) => [el("h3", {}, one.headline), meaning(one)])),
      job.clips.length > 0 && el("details", { open: job.answers.length === 0 }, el("summary", {}, `${say("page-clips")} (${job.clips.length})`),
        el("ul", { class: "list clips" }, job.clips.map((one) => clip(state, one))))));
}
