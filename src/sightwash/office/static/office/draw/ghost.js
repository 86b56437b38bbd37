// What is filled in but not written down yet, shown on the drawings with its sizes.

import { data, el, words } from "./svg.js";
import { stripPlace } from "./strip.js";

/** Draw a shape that is not written down yet; ``kind`` is "waits" for one that is kept on this device. */
export function paintGhost(layer, ghost, board, view, layout, kind) {
  if (ghost.board !== board) return;
  const place = ghost.wall ? layout.places.get(ghost.wall) : null;
  if (ghost.wall && !place) return;
  const at = (point) => view.at(place ? stripPlace(place, point[0], point[1]) : point);
  const made = el("g", { class: `ghost ${kind}` });
  if (ghost.box) {
    const [l, b, r, t] = ghost.box, corners = [[l, b], [r, b], [r, t], [l, t]].map(at);
    made.append(el("path", { d: data(corners, true) }));
    if (ghost.says) made.append(words(ghost.says, [(corners[0][0] + corners[1][0]) / 2, Math.min(corners[2][1], corners[0][1]) - 6], "", "middle"));
    layer.append(made);
    return;
  }
  const points = (ghost.ring ?? ghost.path ?? ghost.spots ?? [ghost.spot]).map(at);
  if (points.length > 1 && !ghost.spots) made.append(el("path", { d: data(points, Boolean(ghost.ring) && points.length > 2) }));
  for (const [cx, cy] of points) made.append(el("circle", { cx, cy, r: 4 }));
  if (ghost.ticks && points.length === 2) made.append(outside(points));
  if (ghost.says) {
    const [a, b] = points.slice(-2);
    made.append(words(ghost.says, [((a ?? b)[0] + (b ?? a)[0]) / 2, ((a ?? b)[1] + (b ?? a)[1]) / 2 - 8], "", "middle"));
  }
  layer.append(made);
}

/** Return short strokes on the side of a wall that is its outside. */
function outside([a, b]) {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]], length = Math.hypot(dx, dy) || 1;
  const [ox, oy] = [-dy / length, dx / length];
  const strokes = [];
  for (let at = 12; at < length; at += 24) strokes.push(`M${a[0] + dx * at / length} ${a[1] + dy * at / length}l${ox * 7} ${oy * 7}`);
  return el("path", { d: strokes.join(""), class: "inner" });
}
