// Elements made by name, attributes and children. Text goes in as text, never as markup.
export function el(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (key.startsWith("on")) made.addEventListener(key.slice(2), value);
    else if (value === true) made.setAttribute(key, "");
    else if (value !== false && value != null) made.setAttribute(key, value);
  }
  made.append(...children.flat(Infinity).filter((child) => child != null && child !== false));
  return made;
}

// An SVG that the program itself made.
export function drawn(text) {
  const parsed = new DOMParser().parseFromString(text, "image/svg+xml");
  return document.importNode(parsed.documentElement, true);
}

// A line that goes by itself. One with a topic stays until that is mended, or another takes its place.
export function notice(text, topic = null) {
  const line = el("p", topic ? { "data-topic": topic } : {}, text);
  if (topic) mended(topic);
  document.getElementById("notices").append(line);
  while (document.getElementById("notices").childElementCount > 2) document.getElementById("notices").firstChild.remove();
  if (!topic) setTimeout(() => line.remove(), 5000);
}

export function mended(topic) {
  for (const line of document.querySelectorAll(`#notices [data-topic="${topic}"]`)) line.remove();
}

export const byId = (id) => document.getElementById(id);
