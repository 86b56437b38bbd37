// Making SVG elements. Text is always set as text, never as markup.

const SPACE = "http://www.w3.org/2000/svg";

/** Return a new SVG element with its attributes and children. */
export function el(name, attributes = {}, ...children) {
  const made = document.createElementNS(SPACE, name);
  for (const [key, value] of Object.entries(attributes)) if (value !== undefined && value !== null) made.setAttribute(key, value);
  made.append(...children.filter((child) => child !== null && child !== undefined));
  return made;
}

const short = (value) => Math.round(value * 10) / 10;

/** Return path data through screen points. */
export function data(points, closed) {
  if (!points.length) return "";
  return `M${points.map(([x, y]) => `${short(x)} ${short(y)}`).join("L")}${closed ? "Z" : ""}`;
}

/** Return words on the sheet, with the paper's colour round them. */
export function words(text, [x, y], kind = "", anchor = "start") {
  return el("text", { x: short(x), y: short(y), class: `words ${kind}`, "text-anchor": anchor }, text);
}
