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

export function notice(text) {
  const line = el("p", {}, text);
  document.getElementById("notices").replaceChildren(line);
  setTimeout(() => line.remove(), 7000);
}

export const byId = (id) => document.getElementById(id);
