// The engine from above: the cylinder under test and its neighbours, with the openings where the microphone goes.
import { drawn, el } from "./dom.js";
import { place, say, shortPlace } from "./words.js";

// Places in hundredths of the width; the drawing is 100 wide and 84 high.
const PLACES = { intake: [30, 11], "oil-filler": [74, 11], exhaust: [30, 73], "coolant-filler": [74, 73], rig: [50, 41] };
const BORES = [20, 50, 80];

function neighbours(job, cylinder) {
  return [cylinder - 1, cylinder, cylinder + 1].map((number) => (number >= 1 && number <= job.cylinders ? number : null));
}

function picture(bores) {
  const parts = bores.map((number, at) => number === null ? "" :
    `<circle class="bore${at === 1 ? " under" : ""}" cx="${BORES[at]}" cy="42" r="12.5"/><text x="${BORES[at]}" y="${at === 1 ? 36 : 35}">${number}</text>` +
    `<path class="pipe" d="M${BORES[at] - 3} 27V17M${BORES[at] + 3} 27V17M${BORES[at] - 3} 57V67M${BORES[at] + 3} 57V67"/>`);
  const left = bores[0] === null ? 34 : 4;
  const right = bores[2] === null ? 66 : 96;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 84" aria-hidden="true">` +
    `<rect class="metal" x="${left}" y="27" width="${right - left}" height="30" rx="3"/>` +
    `<rect class="metal" x="2" y="4" width="56" height="14" rx="7"/><rect class="metal" x="2" y="66" width="56" height="14" rx="7"/>` +
    `<circle class="metal" cx="74" cy="11" r="8"/><circle class="metal" cx="74" cy="73" r="8"/>` +
    `<path class="pipe" d="M74 19V27M74 57V65"/>${parts.join("")}</svg>`;
}

export function plan(job, cylinder, chosen, next, choose) {
  const bores = neighbours(job, cylinder);
  const spots = { ...PLACES };
  if (bores[0]) spots[`plug-hole-${bores[0]}`] = [20, 45];
  if (bores[2]) spots[`plug-hole-${bores[2]}`] = [80, 45];
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
    made.style.top = `${(y / 84) * 100}%`;
    return made;
  };
  const order = Object.entries(spots);
  return el("div", { class: "plan", role: "group", "aria-label": say("page-plan") }, drawn(picture(bores)), order.map(button));
}
