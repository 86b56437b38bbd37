// The ground from above: what lies, stands, grows and runs there, and the walls.

import { data, el, words } from "./svg.js";
import { gridStep } from "./snap.js";
import { FOOT } from "./units.js";

const LETTERS = { taps: "T", rig_places: "R" };

/** Return the walls that a plan shows: those with a place, or all while none has one. */
export function plannedWalls(sheet) {
  const placed = sheet.walls.filter((wall) => wall.placed);
  return placed.length ? placed : sheet.walls;
}

/** Return all places of a plan that a box round it must hold. */
export function planPlaces(sheet, far = false) {
  const places = plannedWalls(sheet).flatMap((wall) => [wall.start, wall.end]);
  const near = sheet.ground.filter((thing) => far || !["eyes", "neighbours", "overhead_lines"].includes(thing.list));
  const found = [...places, ...near.flatMap((thing) => thing.ring ?? thing.path ?? thing.at ?? [])];
  if (far || !places.length) return found;
  const [left, low] = [Math.min(...places.map((p) => p[0])), Math.min(...places.map((p) => p[1]))];
  const [right, high] = [Math.max(...places.map((p) => p[0])), Math.max(...places.map((p) => p[1]))];
  const reach = 40;
  return found.filter(([x, y]) => x > left - reach && x < right + reach && y > low - reach && y < high + reach);
}

/** Return the places that drawing catches on. */
export function planEnds(sheet) {
  const walls = plannedWalls(sheet).flatMap((wall) => [wall.start, wall.end]);
  return [...walls, ...sheet.ground.flatMap((thing) => thing.ring ?? thing.path ?? thing.at ?? [])];
}

/** Draw the grid, and the picture that lies under it. */
export function paintGrid(layer, view, system) {
  const step = gridStep(view, system, 26);
  const [left, top] = view.place([0, 0]), [right, low] = view.place([view.width, view.height]);
  const lines = [];
  for (let x = Math.ceil(left / step) * step; x < right; x += step) { const [px] = view.at([x, 0]); lines.push(`M${px.toFixed(1)} 0V${view.height}`); }
  for (let y = Math.ceil(low / step) * step; y < top; y += step) { const [, py] = view.at([0, y]); lines.push(`M0 ${py.toFixed(1)}H${view.width}`); }
  layer.append(el("path", { d: lines.join(""), class: "grid" }));
}

export function paintPicture(layer, view, picture) {
  if (!picture?.place) return;
  const { left, low, scale, width, height } = picture.place;
  const [x, y] = view.at([left, low + height * scale]);
  layer.append(el("image", { href: picture.address, x, y, width: width * scale * view.k, height: height * scale * view.k, opacity: 0.55, preserveAspectRatio: "none" }));
}

/** Draw the ground and the walls. */
export function paintPlan(layer, sheet, view, chosen) {
  for (const thing of sheet.ground.filter((each) => each.ring)) layer.append(ringOf(thing, view, chosen));
  for (const thing of sheet.ground.filter((each) => each.path)) layer.append(pathOf(thing, view, chosen));
  for (const wall of plannedWalls(sheet)) layer.append(wallLine(wall, view, chosen));
  for (const thing of sheet.ground.filter((each) => each.at)) layer.append(...marksOf(thing, view, chosen));
  for (const wall of plannedWalls(sheet)) layer.append(...wallName(wall, view));
  for (const thing of sheet.ground.filter((each) => each.list === "surfaces")) layer.append(...surfaceName(thing, view));
}

const kindOf = (thing, chosen) => `thing ${thing.list}${thing.wash === false ? " left-out" : ""}${thing.id === chosen ? " chosen" : ""}`;

function ringOf(thing, view, chosen) {
  const rings = [thing.ring, ...(thing.holes ?? [])].map((ring) => data(ring.map((point) => view.at(point)), true));
  const made = el("g", { class: kindOf(thing, chosen), "data-id": thing.id }, el("path", { d: rings.join(""), "fill-rule": "evenodd" }));
  if (thing.lines) made.append(el("path", { d: thing.lines.map((line) => data(line.map((point) => view.at(point)))).join(""), class: "inner" }));
  return made;
}

function pathOf(thing, view, chosen) {
  const points = thing.path.map((point) => view.at(point));
  const line = data(points);
  const made = el("g", { class: kindOf(thing, chosen), "data-id": thing.id }, el("path", { d: line, class: "reach" }), el("path", { d: line, class: "line" }));
  if (points.length === 1) made.append(eyeMark(points[0]));
  return made;
}

export function eyeMark([x, y], size = 7) {
  return el("path", { d: `M${x - size} ${y}Q${x} ${y - size} ${x + size} ${y}Q${x} ${y + size} ${x - size} ${y}Z`, class: "eye-mark" });
}

/** Return the way out of a wall, as a unit vector in the plan. */
export function outward(wall) {
  const [dx, dy] = [wall.end[0] - wall.start[0], wall.end[1] - wall.start[1]];
  const length = Math.hypot(dx, dy) || 1;
  return [dy / length, -dx / length];
}

function wallLine(wall, view, chosen) {
  const ends = [wall.start, wall.end].map((point) => view.at(point));
  const [ox, oy] = outward(wall);
  const middle = [(ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2];
  const tick = data([middle, [middle[0] + 9 * ox, middle[1] - 9 * oy]]);
  const kind = `thing wall${wall.placed ? "" : " unplaced"}${wall.excluded ? " left-out" : ""}${wall.id === chosen ? " chosen" : ""}`;
  return el("g", { class: kind, "data-id": wall.id }, el("path", { d: data(ends), class: "reach" }), el("path", { d: data(ends), class: "line" }), el("path", { d: tick, class: "tick" }));
}

function wallName(wall, view) {
  const [a, b] = [wall.start, wall.end].map((point) => view.at(point));
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (length < 7 * wall.name.length || Math.abs(b[1] - a[1]) > Math.abs(b[0] - a[0])) return [];
  const [, oy] = outward(wall);
  return [words(wall.name, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2 + (oy < 0 ? -7 : 16)], "", "middle")];
}

function surfaceName(thing, view) {
  const places = thing.ring.map((point) => view.at(point)), xs = places.map(([x]) => x), ys = places.map(([, y]) => y);
  const [left, right, top, low] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  return right - left > 7 * thing.name.length && low - top > 17 ? [words(thing.name, [(left + right) / 2, (top + low) / 2 + 4], "soft", "middle")] : [];
}

function marksOf(thing, view, chosen) {
  return thing.at.map((place) => {
    const [x, y] = view.at(place);
    const made = el("g", { class: kindOf(thing, chosen), "data-id": thing.id }, el("circle", { cx: x, cy: y, r: 15, class: "reach" }));
    if (thing.list === "drains") made.append(el("path", { d: `M${x - 5} ${y - 5}H${x + 5}V${y + 5}H${x - 5}ZM${x - 5} ${y - 5}L${x + 5} ${y + 5}M${x + 5} ${y - 5}L${x - 5} ${y + 5}`, class: "mark" }));
    else if (thing.list === "gum") made.append(el("circle", { cx: x, cy: y, r: 2.2, class: "full" }));
    else if (LETTERS[thing.list]) made.append(el("rect", { x: x - 8, y: y - 8, width: 16, height: 16, class: "mark" }), words(LETTERS[thing.list], [x, y + 4.5], "", "middle"));
    else made.append(el("circle", { cx: x, cy: y, r: Math.max((thing.size ?? 0) * view.k / 2, 3), class: thing.size > 0.7 ? "mark" : "full" }));
    return made;
  });
}

/** Draw the scale and the north arrow in a corner. */
export function paintScale(layer, view, system, north) {
  const unit = system === "us" ? FOOT : 1;
  const step = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000].find((each) => each * unit * view.k >= 50) ?? 1000;
  const length = step * unit * view.k, y = view.height - 12;
  layer.append(el("path", { d: `M12 ${y - 5}V${y}H${12 + length}V${y - 5}`, class: "scale" }), words(`${step} ${system === "us" ? "ft" : "m"}`, [18, y - 5], "small"));
  if (north === undefined) return;
  const turned = -north * Math.PI / 180, [x, top] = [view.width - 22, 26];
  const [dx, dy] = [Math.sin(turned) * 15, -Math.cos(turned) * 15];
  layer.append(el("path", { d: `M${x - dx} ${top - dy}L${x + dx} ${top + dy}M${x + dx} ${top + dy}l${-dx * 0.5 - dy * 0.28} ${-dy * 0.5 + dx * 0.28}M${x + dx} ${top + dy}l${-dx * 0.5 + dy * 0.28} ${-dy * 0.5 - dx * 0.28}`, class: "scale" }),
    words("N", [x + dx * 1.55, top + dy * 1.55 + 4], "small", "middle"));
}
