// The engine from above: the cylinder under test and its neighbours, with the openings where the microphone goes.
import { drawn, el } from "./dom.js";
import { place, say, shortPlace } from "./words.js";

// Places in hundredths of the width; the drawing is 100 wide and HIGH high.
const HIGH = 72;
const PLACES = { intake: [30, 9], "oil-filler": [87, 9], exhaust: [30, 63], "coolant-filler": [87, 63], rig: [0, 38.5] };
const BORES = { 1: [42], 2: [22, 56], 3: [14, 42.5, 71] };

// The cylinders shown, each with the place of its bore: the one under test and those beside it.
function shown(job, cylinder) {
  const numbers = [cylinder - 1, cylinder, cylinder + 1].filter((number) => number >= 1 && number <= job.cylinders);
  return numbers.map((number, at) => ({ number, x: BORES[numbers.length][at], tested: number === cylinder }));
}

function picture(bores) {
  const bore = ({ number, x, tested }) => `<circle class="bore${tested ? " under" : ""}" cx="${x}" cy="36" r="12"/>` +
    `<path class="pipe" d="M${x - 3} 22V15M${x + 3} 22V15M${x - 3} 50V57M${x + 3} 50V57"/>` +
    (tested ? `<text x="${x}" y="29.8">${number}</text>` : "");
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 ${HIGH}" aria-hidden="true">` +
    `<rect class="metal" x="1" y="22" width="98" height="28" rx="3"/><path class="pipe" d="M85 22V15M91 22V15M85 50V57M91 50V57"/>` +
    `<rect class="metal" x="1" y="2" width="76" height="14" rx="7"/><rect class="metal" x="1" y="56" width="76" height="14" rx="7"/>` +
    `<circle class="metal" cx="88" cy="9" r="8"/><circle class="metal" cx="88" cy="63" r="8"/>` +
    `${bores.map(bore).join("")}</svg>`;
}

export function plan(job, cylinder, chosen, next, choose) {
  const bores = shown(job, cylinder);
  const spots = { ...PLACES };
  for (const { number, x, tested } of bores) {
    if (tested) spots.rig = [x, 38.5];
    else spots[`plug-hole-${number}`] = [x, 36];
  }
  const takes = (opening, air) => job.clips.filter((clip) => !clip.left_out && clip.opening === opening && clip.air === air
    && (clip.cylinder === null || clip.cylinder === cylinder)).length;
  const button = ([opening, [x, y]]) => {
    const mark = ["off", "on", "pulsed"].map((air) => [air, takes(opening, air)]).filter(([, count]) => count > 0)
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
