// The engine from above, all cylinders: each opening marked where it is, its button beside the drawing and over nothing.
import { drawn, el } from "./dom.js";
import { place, say, shortPlace } from "./words.js";

// The drawing is 100 wide; the block lies between the two manifolds.
const HIGH = 44;
const MARKS = { intake: [4, 5], "oil-filler": [91, 15.5], exhaust: [4, 39], "coolant-filler": [91, 28.5] };

const bores = (count) => Array.from({ length: count }, (_, at) => ({ number: at + 1, x: 10 + (72 / count) * (at + 0.5) }));

function picture(job, cylinder, mark) {
  const all = bores(job.cylinders);
  const radius = Math.min(8, 30 / job.cylinders);
  const bore = ({ number, x }) => `<path class="pipe" d="M${x} 8V12M${x} 32V36"/>` +
    `<circle class="bore${number === cylinder ? " under" : ""}" cx="${x}" cy="22" r="${radius}"/>` +
    `<text x="${x}" y="${22 + Math.min(2, radius / 3)}"${job.cylinders > 8 ? ' class="small"' : ""}>${number}</text>`;
  const spot = (opening, [x, y]) => `<circle class="spot ${mark(opening)}" cx="${x}" cy="${y}" r="2.4"/>`;
  const tested = all.find(({ number }) => number === cylinder);
  const holes = all.filter(({ number }) => Math.abs(number - cylinder) === 1)
    .map(({ number, x }) => spot(`plug-hole-${number}`, [x + radius * 0.72, 22 - radius * 0.72]));
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 ${HIGH}" aria-hidden="true">` +
    `<rect class="metal" x="5" y="12" width="92" height="20" rx="3"/>` +
    `<path class="metal" d="M4 2H80a3 3 0 0 1 0 6H4zM4 36H80a3 3 0 0 1 0 6H4z"/>` +
    `<circle class="cap" cx="91" cy="15.5" r="4"/><circle class="cap" cx="91" cy="28.5" r="4"/>` +
    all.map(bore).join("") +
    Object.entries(MARKS).map(([opening, at]) => spot(opening, at)).join("") + holes.join("") +
    spot("rig", [tested.x + radius * 0.72, 22 - radius * 0.72]) + "</svg>";
}

export function plan(job, cylinder, chosen, next, choose, other) {
  const takes = (opening, air) => job.clips.filter((clip) => !clip.left_out && clip.opening === opening && clip.air === air
    && (clip.cylinder === null || clip.cylinder === cylinder)).length;
  const complete = (opening) => takes(opening, "pulsed") > 0 || (takes(opening, "off") > 0 && takes(opening, "on") > 0);
  const mark = (opening) => (chosen === opening ? "chosen" : next?.opening === opening ? "next" : complete(opening) ? "done" : "");
  const button = (opening) => {
    const done = ["off", "on", "pulsed"].map((air) => [air, takes(opening, air)]).filter(([, count]) => count > 0)
      .map(([air, count]) => `${say(`page-air-${air}`).split(":")[0]} ${count}`).join(" · ");
    return el("button", {
      type: "button", "aria-pressed": String(chosen === opening), "data-opening": opening,
      class: mark(opening), title: place(opening), onclick: () => choose(opening),
    }, shortPlace(opening), done && el("span", { class: "mark" }, done));
  };
  const beside = [cylinder - 1, cylinder + 1].filter((number) => number >= 1 && number <= job.cylinders).map((number) => `plug-hole-${number}`);
  const usual = new Set([...Object.keys(MARKS), ...beside, "rig"]);
  const own = [...new Set([...job.clips.map((clip) => clip.opening), chosen])].filter((opening) => !usual.has(opening)
    && !/^plug-hole-/.test(opening));
  return el("div", { class: "plan", role: "group", "aria-label": say("page-plan") },
    el("div", { class: "openings" }, ["intake", "oil-filler"].map(button)),
    drawn(picture(job, cylinder, mark)),
    el("div", { class: "openings" }, ["exhaust", "coolant-filler"].map(button)),
    el("div", { class: "openings" }, ["rig", ...beside, ...own].map(button),
      el("button", { type: "button", id: "other", onclick: other }, say("page-other-opening"))));
}
