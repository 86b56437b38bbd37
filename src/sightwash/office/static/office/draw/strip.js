// The unrolled wall: every wall side by side in walking order, the ground before each folded down below it.

import { data, el, words } from "./svg.js";
import { outward } from "./plan.js";

export const FOLD = 5.2, BETWEEN = 2.4;

/** Return where each wall stands on the strip: its left end, its lowest ground, and the whole box. */
export function layOut(sheet) {
  const places = new Map();
  let x = 0, high = 3;
  for (const run of sheet.runs) {
    if (x) x += BETWEEN;
    for (const id of run) {
      const wall = sheet.walls.find((each) => each.id === id);
      places.set(id, { wall, x, low: Math.min(0, wall.rise) });
      x += wall.length;
      high = Math.max(high, ...wall.top.map(([, z]) => z - Math.min(0, wall.rise)));
    }
  }
  return { places, box: [0, -FOLD, Math.max(x, 6), high] };
}

/** Return the box of one wall on the strip with the ground before it. */
export function wallBox({ wall, x, low }) {
  return [x, -FOLD, x + wall.length, Math.max(...wall.top.map(([, z]) => z)) - low];
}

/** Return the wall at a place of the strip, how far along and how high up it, or how far out on the ground. */
export function onWall(layout, [x, y]) {
  let best = null, least = Infinity;
  for (const place of layout.places.values()) {
    const away = Math.max(place.x - x, x - place.x - place.wall.length, 0);
    if (away < least) { best = place; least = away; }
  }
  if (!best) return null;
  return { id: best.wall.id, s: x - best.x, z: y + best.low, out: Math.max(-y, 0), ground: y < 0 };
}

/** Return the place on the strip of a point of a wall. */
export const stripPlace = (place, s, z) => [place.x + s, z - place.low];

/** Return the places that drawing on the strip catches on. */
export function stripEnds(layout) {
  const found = [];
  for (const place of layout.places.values()) {
    for (const [s, z] of place.wall.top) found.push(stripPlace(place, s, z));
    found.push(stripPlace(place, 0, 0), stripPlace(place, place.wall.length, place.wall.rise));
    for (const part of place.wall.parts) {
      const [l, b, r, t] = part.box;
      found.push(...[[l, b], [r, b], [l, t], [r, t]].map(([s, z]) => stripPlace(place, s, z)));
    }
  }
  return found;
}

/** Draw the strip; ``over`` draws a layer of its own on each wall, above the wall's face and below what is on it. */
export function paintStrip(layer, sheet, layout, view, chosen, over = null) {
  for (const place of layout.places.values()) {
    const made = el("g", { class: place.wall.excluded ? "wall-face left-out" : "wall-face" });
    made.append(face(place, view, chosen));
    const parts = place.wall.parts.filter((part) => shown(part, place, view));
    made.append(...parts.filter((part) => part.list === "soiling").map((part) => partOf(part, place, view, chosen)));
    if (over) over(made, place);
    made.append(...parts.filter((part) => part.list !== "soiling").map((part) => partOf(part, place, view, chosen)));
    layer.append(fold(place, sheet, view, chosen), made, ...names(place, view));
  }
}

function shown(part, place, view) {
  const [a] = view.at(stripPlace(place, part.box[0], 0)), [b] = view.at(stripPlace(place, part.box[2], 0));
  return b > -50 && a < view.width + 50;
}

function face(place, view, chosen) {
  const { wall } = place;
  const ring = [[0, 0], [wall.length, wall.rise], ...[...wall.top].reverse()].map(([s, z]) => view.at(stripPlace(place, s, z)));
  return el("path", { d: data(ring, true), class: `thing face${wall.id === chosen ? " chosen" : ""}`, "data-id": wall.id });
}

function boxAt([l, b, r, t], place, view) {
  const [x, y] = view.at(stripPlace(place, l, t)), [right, low] = view.at(stripPlace(place, r, b));
  return { x, y, width: Math.max(right - x, 1), height: Math.max(low - y, 1) };
}

function partOf(part, place, view, chosen) {
  const kind = `thing ${part.list}${part.degree ? ` ${part.degree}` : ""}${part.out && part.out[0] > 0 ? " clear" : ""}${part.id === chosen ? " chosen" : ""}`;
  const made = el("g", { class: kind, "data-id": part.id });
  if (part.list === "fixtures") {
    for (const s of part.places) {
      const [x, y] = view.at(stripPlace(place, s, part.box[1]));
      made.append(el("circle", { cx: x, cy: y, r: 14, class: "reach" }), el("circle", { cx: x, cy: y, r: 3.5, class: "mark" }));
    }
    return made;
  }
  const box = boxAt(part.box, place, view);
  made.append(el("rect", box));
  if (part.list === "openings") made.append(el("path", { d: `M${box.x + 2} ${box.y + box.height * 0.4}L${box.x + box.width * 0.25} ${box.y + 2}`, class: "inner" }));
  if (part.list === "doors" && box.width > 9) made.append(el("path", { d: `M${box.x + box.width / 2} ${box.y}V${box.y + box.height}`, class: "inner" }));
  if (part.drop) made.append(el("path", { d: `M${box.x} ${box.y + part.drop * view.k}h${box.width}`, class: "inner" }));
  return made;
}

/** Return the ground before a wall, folded down: what lies within its ends and the depth of the fold. */
function fold(place, sheet, view, chosen) {
  const { wall } = place;
  const [x, y] = view.at([place.x, 0]), width = wall.length * view.k, height = FOLD * view.k;
  const id = `fold-${view.name}-${wall.id}`;
  const made = el("g", { class: "fold" }, el("clipPath", { id }, el("rect", { x, y, width, height })));
  const inner = el("g", { "clip-path": `url(#${id})` });
  if (wall.placed) for (const thing of sheet.ground) inner.append(...folded(thing, place, view, chosen));
  made.append(inner, el("rect", { x, y, width, height, class: "fold-edge" }));
  return made;
}

function folded(thing, place, view, chosen) {
  const { wall } = place, [ox, oy] = outward(wall);
  const local = ([px, py]) => {
    const [dx, dy] = [px - wall.start[0], py - wall.start[1]];
    return [dx * -oy + dy * ox, dx * ox + dy * oy];
  };
  const points = (thing.ring ?? thing.path ?? thing.at).map(local);
  const near = points.some(([, out]) => out > 0.02) && Math.min(...points.map(([, out]) => out)) < FOLD
    && Math.max(...points.map(([s]) => s)) > 0 && Math.min(...points.map(([s]) => s)) < wall.length;
  if (!near || thing.list === "buildings" || (thing.along && thing.along !== wall.id)) return [];
  const at = ([s, out]) => view.at([place.x + s, -out]);
  const kind = `thing ${thing.list}${thing.wash === false ? " left-out" : ""}${thing.id === chosen ? " chosen" : ""}`;
  if (thing.at) return points.map((point) => { const [cx, cy] = at(point); return el("circle", { cx, cy, r: thing.list === "gum" ? 2 : 4, class: `${kind} spot`, "data-id": thing.id }); });
  const made = el("g", { class: kind, "data-id": thing.id }, el("path", { d: data(points.map(at), Boolean(thing.ring)), class: thing.ring ? "" : "line" }));
  return [made];
}

function names({ wall, x, low }, view) {
  const top = Math.max(...wall.top.map(([, z]) => z)) - low;
  const [left, y] = view.at([x, top]), [right] = view.at([x + wall.length, top]);
  const room = Math.floor((right - left) / 7.2);
  if (room < 4 || right < 0 || left > view.width) return [];
  const text = wall.name.length > room ? `${wall.name.slice(0, room - 1)}…` : wall.name;
  return [words(text, [Math.max(left, 4), y - 6], "strong")];
}
