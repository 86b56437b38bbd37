// From a filled-in sentence to the operation that it means, and to the shape that is shown while it is filled in.

import { freshId, valueAt } from "./elements.js";
import { FOOT, lengthOf, lengthText, pointOf, pointParts, pointText, pointsOf, pointsParts, pointsText, wayOf, wayText } from "./units.js";

const EMPTY = "";

/** Return a typed value as the site document has it; undefined where nothing is typed. */
export function typedValue(blank, text) {
  const typed = String(text ?? "").trim();
  if (typed === EMPTY) return undefined;
  if (blank.form === "point") return pointParts(typed) ?? typed;
  if (blank.form === "points") return pointsParts(typed) ?? typed;
  if (blank.form === "flag") return typed === "yes";
  if (blank.form === "profile") return typed.split(";").map((pair) => pair.trim()).filter(Boolean).map((pair) => {
    const [left, height] = pair.split(",").map((part) => part.trim());
    return { left, height: height ?? "" };
  });
  return typed;
}

/** Return a value of the site document as a person types it. */
export function textOf(blank, value) {
  if (value === undefined || value === null) return EMPTY;
  if (blank.form === "point") return value.join(", ");
  if (blank.form === "points") return value.map((point) => point.join(", ")).join("; ");
  if (blank.form === "flag") return value ? "yes" : "no";
  if (blank.form === "profile") return value.map(({ left, height }) => `${left}, ${height}`).join("; ");
  return String(value);
}

/** Return a point so far from a start, as typed parts. */
export function runEnd(startText, lengthTyped, wayTyped, system) {
  const start = pointOf(startText, system), length = lengthOf(lengthTyped, system), way = wayOf(wayTyped);
  if (!start || !Number.isFinite(length) || !Number.isFinite(way)) return null;
  const turned = way * Math.PI / 180;
  return [start[0] + length * Math.cos(turned), start[1] + length * Math.sin(turned)];
}

const exact = (metres, system) => {
  const plain = lengthText(metres, system);
  if (Math.abs(lengthOf(plain, system) - metres) < 1e-6) return plain;
  return system === "us" ? `${Number((metres / FOOT).toFixed(5))} ft` : `${Number(metres.toFixed(5))} m`;
};
const exactPoint = (point, system) => point.map((part) => exact(part, system));

/** Return what a wall's blanks say of its ends: the keys to set; null where they do not say it whole. */
function wallEnds(values, system) {
  const end = runEnd(values.start, values.length, values.toward, system);
  if (end) return { start: pointParts(values.start), end: exactPoint(end, system), length: null };
  if (!values.start?.trim() && values.length?.trim()) return { start: null, end: null, length: values.length.trim() };
  return null;
}

/** Return the operation that adds what a sentence says, or the words that say what is missing. */
export function addOperation(sentence, blanks, values, site) {
  const element = { id: freshId(sentence.slug, site.taken) };
  for (const part of sentence.parts) {
    if (typeof part === "string" || part.key === "on" || part.made) continue;
    const value = typedValue(blanks[part.key], values[part.key]);
    if (value === undefined && part.needed && !(sentence.slug === "wall" && part.key === "start")) return { missing: part.key };
    if (value !== undefined) element[part.key] = value;
  }
  if (sentence.on && !values.on) return { missing: "on" };
  if (sentence.slug === "wall") {
    const ends = wallEnds(values, site.system);
    if (!ends) return { missing: values.start?.trim() ? "toward" : "length" };
    for (const key of ["start", "end", "length"]) if (ends[key] === null) delete element[key]; else element[key] = ends[key];
  }
  if (sentence.slug === "building") return { operation: buildingWithWalls(element, site) };
  return { operation: { do: "add", to: sentence.list, element, ...(sentence.on ? { on: values.on } : {}) } };
}

/** Return the operations that add a building and a wall on each of its sides, seen from outside left to right. */
function buildingWithWalls(building, site) {
  if (!Array.isArray(building.outline)) return { do: "add", to: "buildings", element: building };
  const places = building.outline.map((parts) => parts.map((part) => lengthOf(part, site.system)));
  const turns = places.reduce((sum, [x, y], k) => { const [nx, ny] = places[(k + 1) % places.length]; return sum + x * ny - nx * y; }, 0);
  const outline = turns < 0 ? [...building.outline].reverse() : building.outline;
  const walls = outline.map((start, k) => ({ do: "add", to: "walls", element: {
    id: `${building.id}-side-${k + 1}`, name: `${building.name ?? building.id}, side ${k + 1}`, building: building.id,
    start, end: outline[(k + 1) % outline.length], ...(building.height ? { height: building.height } : {}),
  } }));
  return { do: "together", operations: [{ do: "add", to: "buildings", element: { ...building, outline } }, ...walls] };
}

/** Return the operation that changes an element to what its blanks say; null where nothing is new. */
export function changeOperation(found, blanks, before, values, system) {
  const keys = {};
  for (const [key, text] of Object.entries(values)) {
    if ((text ?? EMPTY).trim() === (before[key] ?? EMPTY).trim() || key === "on" || !blanks[key]) continue;
    const value = typedValue(blanks[key], text);
    keys[key] = value === undefined ? null : value;
  }
  const run = found.list === "walls" && ["start", "length", "toward"].some((key) => (values[key] ?? EMPTY) !== (before[key] ?? EMPTY));
  if (run) {
    delete keys.length;
    const ends = wallEnds(values, system);
    if (!ends) return { missing: values.start?.trim() ? "toward" : "length" };
    for (const [key, value] of Object.entries(ends)) {
      if (value === null && valueAt(found.node, key) === undefined) delete keys[key]; else keys[key] = value;
    }
  }
  if ("profile" in keys && keys.profile !== null && found.node.height && !("height" in keys)) keys.height = null;
  return Object.keys(keys).length ? { operation: { do: "change", id: found.node.id, keys } } : {};
}

/** Return the blanks' texts of an element as it is. */
export function textsOf(found, blanks, wall, system) {
  const texts = {};
  for (const [key, blank] of Object.entries(blanks)) texts[key] = textOf(blank, valueAt(found.node, key));
  if (found.list === "walls" && wall) {
    texts.length = found.node.length ? String(found.node.length) : exact(wall.length, system);
    texts.toward = wall.placed ? wayText(Math.atan2(wall.end[1] - wall.start[1], wall.end[0] - wall.start[0]) * 180 / Math.PI) : EMPTY;
  }
  if (found.carrier) texts.on = found.carrier;
  return texts;
}

/** Return the texts that a run drawn from one place to another fills in. */
export function runTexts(sentence, from, to, values, site) {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const way = Math.atan2(to[1] - from[1], to[0] - from[0]) * 180 / Math.PI;
  if (sentence.slug === "stalls") {
    const width = lengthOf(values.width, site.system), turned = (((90 - way + site.north) % 360) + 360) % 360;
    const count = Number.isFinite(width) && width > 0 ? { count: String(Math.max(Math.round(length / width), 1)) } : {};
    return { at: pointText(from, site.system), toward: `${Number(turned.toFixed(1))} deg`, ...count };
  }
  return { start: pointText(from, site.system), length: lengthText(length, site.system), toward: wayText(way) };
}

/** Return the shape to show for what is filled in so far: on which drawing, and its places in metres. */
export function ghostOf(sentence, values, site) {
  const { system } = site;
  if (sentence.on === "walls") return wallGhost(values, site);
  if (sentence.hand === "run") {
    const from = pointOf(values.start ?? values.at, system);
    if (!from) return null;
    const to = sentence.slug === "wall" ? runEnd(values.start, values.length, values.toward, system) : stallsEnd(from, values, site);
    return { board: "plan", path: to ? [from, to] : [from], ticks: sentence.slug === "wall", says: to ? lengthText(Math.hypot(to[0] - from[0], to[1] - from[1]), system) : "" };
  }
  const text = values.outline || values.path || values.at || "";
  const points = sentence.hand === "point" ? [pointOf(text, system)].filter(Boolean) : pointsOf(text, system);
  if (!points.length) return null;
  const last = points.length > 1 ? Math.hypot(points.at(-1)[0] - points.at(-2)[0], points.at(-1)[1] - points.at(-2)[1]) : 0;
  const kind = sentence.hand === "ring" ? "ring" : sentence.hand === "path" ? "path" : "spots";
  return { board: "plan", [kind]: points, says: last && kind !== "spots" ? lengthText(last, system) : "" };
}

function stallsEnd(from, values, site) {
  const bearing = parseFloat(values.toward), width = lengthOf(values.width, site.system), count = parseInt(values.count, 10);
  if (![bearing, width, count].every(Number.isFinite)) return null;
  const turned = (90 - bearing + site.north) * Math.PI / 180;
  return [from[0] + width * count * Math.cos(turned), from[1] + width * count * Math.sin(turned)];
}

function wallGhost(values, { system }) {
  const [left, bottom] = [lengthOf(values.left, system), lengthOf(values.bottom || "0", system)];
  if (!values.on || !Number.isFinite(left)) return null;
  const width = lengthOf(values.width, system), top = lengthOf(values.top, system), height = lengthOf(values.height, system);
  if (!("width" in values)) return { board: "strip", wall: values.on, spot: [left, Number.isFinite(height) ? height : 0], says: "" };
  const high = Number.isFinite(top) ? top : bottom + (Number.isFinite(height) ? height : 0.3);
  const says = Number.isFinite(width) ? `${lengthText(width, system)} by ${lengthText(high - bottom, system)}` : "";
  return { board: "strip", wall: values.on, box: [left, bottom, left + (Number.isFinite(width) ? width : 0.3), high], says };
}

export { pointsText };
