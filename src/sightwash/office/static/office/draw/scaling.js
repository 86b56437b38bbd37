// Putting a picture to scale: two points of it, the length between them, and where the first one lies in the plan.

import { csrfToken } from "./keeper.js";
import { el } from "./svg.js";

export class Scaling {
  constructor(page, picture, units, repaint) {
    Object.assign(this, { page, picture, units, repaint, points: [], on: false });
    this.panel = page.querySelector("[data-scaling]");
    if (!picture) return;
    this.says = this.panel.querySelector("[data-scaling-says]");
    this.panel.querySelector("[data-scale-start]").addEventListener("click", () => this.begin());
    this.panel.querySelector("[data-scale-form]").addEventListener("submit", (event) => { event.preventDefault(); this.#send(); });
    if (!picture.place) this.#lay();
  }

  /** Lay a picture that has no scale yet somewhere, so that its points can be tapped. */
  #lay() {
    const scale = 60 / this.picture.width;
    this.picture.place = { left: 0, low: -this.picture.height * scale / 2, scale, width: this.picture.width, height: this.picture.height };
  }

  begin() { this.points = []; this.on = true; this.says.textContent = "Tap one end of something whose length you know, then the other end."; this.repaint(); }

  /** Take a tap while the picture is put to scale; true where it was ours. */
  tap(place) {
    if (!this.on) return false;
    this.points = [...this.points.slice(-1), place].slice(-2);
    if (this.points.length === 2) { this.on = false; this.says.textContent = "Now type the length between the two points."; this.panel.querySelector("[name=length]").focus(); }
    this.repaint();
    return true;
  }

  #pixel([x, y]) {
    const { left, low, scale, height } = this.picture.place;
    return [(x - left) / scale, height - (y - low) / scale];
  }

  async #send() {
    if (this.points.length < 2) { this.says.textContent = "Choose the two points first."; return; }
    const body = { first: this.#pixel(this.points[0]), second: this.#pixel(this.points[1]), length: this.panel.querySelector("[name=length]").value, at: this.points[0] };
    const answer = await fetch(this.page.dataset.scale, { method: "POST", headers: { "Content-Type": "application/json", Accept: "application/json", "X-CSRFToken": csrfToken(this.page.dataset.csrf) }, body: JSON.stringify(body) }).catch(() => null);
    const found = await answer?.json().catch(() => null);
    if (!answer?.ok) { this.says.textContent = found?.errors?.map((each) => `${each.message}; ${each.expected}`).join(" ") ?? "The office cannot be reached. Try again."; return; }
    this.picture.place = found.place;
    this.points = [];
    this.says.textContent = "The picture lies to scale.";
    this.repaint();
  }

  paint(layer, view) {
    for (const point of this.points) { const [cx, cy] = view.at(point); layer.append(el("circle", { cx, cy, r: 7, class: "pin" })); }
  }
}
