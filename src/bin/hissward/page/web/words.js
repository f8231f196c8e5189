// Words come from the same catalogue as the report's.
let words = {};
let code = "en";
export let languages = ["en"];
export let cautions = [];

export async function speak(language) {
  const answer = await fetch(`/api/words/${encodeURIComponent(language)}`);
  const told = await answer.json();
  ({ words, language: code, languages, cautions } = told);
  document.documentElement.lang = code;
  localStorage.setItem("language", code);
}

export const wanted = () => localStorage.getItem("language") || (navigator.language || "en").slice(0, 2);
export const language = () => code;

export function say(name, facts = {}) {
  return (words[name] ?? `[${name}]`).replace(/\{\$(\w+)\}/g, (_, key) => String(facts[key] ?? ""));
}

export function number(value, decimals = 0) {
  const plain = value.toFixed(decimals);
  // What rounds to nothing has no sign.
  return (Number(plain) === 0 ? plain.replace("-", "") : plain).replace("-", "\u2212").replace(".", words["decimal-mark"] || ".");
}

export function place(opening) {
  const hole = /^plug-hole-(\d+)$/.exec(opening);
  if (hole) return say("opening-plug-hole", { number: hole[1] });
  return words[`opening-${opening}`] ?? opening;
}

export function shortPlace(opening) {
  const hole = /^plug-hole-(\d+)$/.exec(opening);
  if (hole) return say("opening-plug-hole.short", { number: hole[1] });
  return words[`opening-${opening}.short`] ?? opening;
}
