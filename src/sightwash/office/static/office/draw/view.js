// Where a place of the sheet lies on the screen: metres right and up, one scale, pan and zoom.

export const CLOSEST = 400, FARTHEST = 0.4;

export class View {
  constructor() {
    this.width = 600; this.height = 300; this.k = 8; this.x = 0; this.y = 0;
  }
  /** Return the screen place of a sheet place. */
  at([x, y]) { return [this.width / 2 + (x - this.x) * this.k, this.height / 2 - (y - this.y) * this.k]; }
  /** Return the sheet place of a screen place. */
  place([px, py]) { return [this.x + (px - this.width / 2) / this.k, this.y - (py - this.height / 2) / this.k]; }
  /** Show a box whole, with room round it. */
  fit([left, bottom, right, top], room = 28) {
    const wide = Math.max(right - left, 1), high = Math.max(top - bottom, 1);
    const k = Math.min((this.width - 2 * room) / wide, (this.height - 2 * room) / high);
    this.k = Math.min(Math.max(k, FARTHEST), CLOSEST);
    this.x = (left + right) / 2; this.y = (bottom + top) / 2;
  }
  /** Zoom about a screen place. */
  zoom(factor, about = [this.width / 2, this.height / 2]) {
    const [x, y] = this.place(about);
    this.k = Math.min(Math.max(this.k * factor, FARTHEST), CLOSEST);
    const [nx, ny] = this.place(about);
    this.x += x - nx; this.y += y - ny;
  }
  /** Push the sheet by screen lengths. */
  pan(dx, dy) { this.x -= dx / this.k; this.y += dy / this.k; }
}

/** Return the box round places; a small one round nothing. */
export function boxRound(places) {
  if (!places.length) return [-5, -5, 25, 15];
  const xs = places.map((each) => each[0]), ys = places.map((each) => each[1]);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}
