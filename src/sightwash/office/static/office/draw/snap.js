// Drawn places catch on ends of what is there, on right angles, and on a grid that fits the scale.

import { FOOT } from "./units.js";

const STEPS = { us: [1 / 12, 0.25, 0.5, 1, 2, 5, 10, 50, 100].map((feet) => feet * FOOT), metric: [0.01, 0.05, 0.1, 0.25, 0.5, 1, 5, 10, 50] };
const NEAR = 13, CATCH = 9;

/** Return the grid step at a scale: at least some pixels wide [m]. */
export function gridStep(view, system, least = 7) {
  const steps = STEPS[system] ?? STEPS.metric;
  return steps.find((step) => step * view.k >= least) ?? steps[steps.length - 1];
}

/** Return a place caught, and what it caught on: an end, a line with the place before it, or the grid. */
export function snapped(place, view, system, ends, before = null) {
  const here = view.at(place);
  let best = null, least = NEAR;
  for (const end of ends) {
    const [px, py] = view.at(end);
    const away = Math.hypot(px - here[0], py - here[1]);
    if (away < least) { best = end; least = away; }
  }
  if (best) return { place: [best[0], best[1]], on: "end" };
  const step = gridStep(view, system);
  const grid = place.map((part) => Math.round(part / step) * step);
  if (before) {
    const [bx, by] = view.at(before);
    if (Math.abs(by - here[1]) < CATCH && Math.abs(bx - here[0]) > CATCH) return { place: [grid[0], before[1]], on: "level" };
    if (Math.abs(bx - here[0]) < CATCH && Math.abs(by - here[1]) > CATCH) return { place: [before[0], grid[1]], on: "square" };
  }
  return { place: grid, on: "grid" };
}
