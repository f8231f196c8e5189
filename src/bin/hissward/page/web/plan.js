// The engine from above: the cylinder under test and its neighbours, with the openings where the microphone goes.
import { drawn, el } from "./dom.js";
import { place, say, shortPlace } from "./words.js";

// Places in hundredths of the width; the drawing is 100 wide and HIGH high.
const HIGH = 72;
const PLACES = { intake: [30, 9], "oil-filler": [87, 9], exhaust: [30, 63], "coolant-filler": [87, 63], rig: [42.5, 38.5] };
const BORES = [14, 42.5, 71];

function neighbours(job, cylinder) {
  return [cylinder - 1, cylinder, cylinder + 1].map((number) => (number >= 1 && number <= job.cylinders ? number : null));
}

function picture(bores) {
  const bore = (number, at) => number === null ? "" :
    `<circle class="bore${at === 1 ? " under" : ""}" cx="${BORES[at]}" cy="36" r="12"/>` +
    `<path class="pipe" d="M${BORES[at] - 3} 22V15M${BORES[at] + 3} 22V15M${BORES[at] - 3} 50V57M${BORES[at] + 3} 50V57"/>` +
    (at === 1 ? `<text x="42.5" y="29.8">${number}</text>` : "");
  const left = bores[0] === null ? 28 : 1;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 ${HIGH}" aria-hidden="true">` +
    `<rect class="metal" x="${left}" y="22" width="${98 - left}" height="28" rx="3"/>` +
    `<path class="pipe" d="M85 22V15M91 22V15M85 50V57M91 50V57"/>` +
    `<rect class="metal" x="${left}" y="2" width="${76 - left}" height="14" rx="7"/><rect class="metal" x="${left}" y="56" width="${76 - left}" height="14" rx="7"/>` +
    `<circle class="metal" cx="88" cy="9" r="8"/><circle class="metal" cx="88" cy="63" r="8"/>` +
    `${bores.map(bore).join("")}</svg>`;
}

export function plan(job, cylinder, chosen, next, choose) {
  const bores = neighbours(job, cylinder);
  const spots = { ...PLACES };
  if (bores[0] === null) { spots.intake = [44, 9]; spots.exhaust = [44, 63]; }
  if (bores[0]) spots[`plug-hole-${bores[0]}`] = [14, 36];
  if (bores[2]) spots[`plug-hole-${bores[2]}`] = [71, 36];
  const takes = (opening, air) => job.clips.filter((clip) => !clip.left_out && clip.opening === opening && clip.air === air
    && (clip.cylinder === null || clip.cylinder === cylinder)).length;
  const button = ([opening, [x, y]]) => {
    const mark = ["off", "on", "keyed"].map((air) => [air, takes(opening, air)]).filter(([, count]) => count > 0)
      .map(([air, count]) => `${say(`page-air-${air}`).split(":")[0]} ${count}`).join(" · ");
    const made = el("button", {
      type: "button", "aria-pressed": String(chosen === opening), "data-opening": opening,
      class: next?.opening === opening ? "next" : null, title: place(opening), onclick: () => choose(opening),
    }, shortPlace(opening), mark && el("span", { class: "mark" }, mark));
    made.style.left = `${x}%`;
    made.style.top = `${(y / HIGH) * 100}%`;
    return made;
  };
  const order = Object.entries(spots);
  return el("div", { class: "plan", role: "group", "aria-label": say("page-plan") }, drawn(picture(bores)), order.map(button));
}
