// One drawing on the screen: fingers, mouse and keys become taps, drags, pans and zooms on its view.

import { el } from "./svg.js";
import { View } from "./view.js";

const MOVED = 7;

export class Board {
  /**
   * ``rules``: paint(layers, view), tap(place, id), drag(phase, from, to, id), drags(id) says whether a drag that
   * begins on an element (or on none) is ours and not a pan, keys(event, place) takes a key, said(place) reports.
   */
  constructor(svg, name, rules) {
    this.svg = svg; this.rules = rules; this.view = new View(); this.view.name = name;
    this.under = el("g"); this.sheet = el("g"); this.top = el("g"); this.cross = el("g", { class: "cross" });
    svg.replaceChildren(this.under, this.sheet, this.top, this.cross);
    this.fingers = new Map(); this.hand = null; this.cursor = null; this.wanted = null; this.settled = false;
    svg.addEventListener("pointerdown", (event) => this.#down(event));
    svg.addEventListener("pointermove", (event) => this.#moved(event));
    for (const end of ["pointerup", "pointercancel"]) svg.addEventListener(end, (event) => this.#up(event));
    svg.addEventListener("wheel", (event) => this.#wheel(event), { passive: false });
    svg.addEventListener("keydown", (event) => this.#key(event));
    svg.addEventListener("blur", () => { this.cursor = null; this.paint(); });
    new ResizeObserver(() => this.#resized()).observe(svg);
    this.#resized();
  }

  #resized() {
    const box = this.svg.getBoundingClientRect();
    if (!box.width || !box.height) return;
    this.view.width = box.width; this.view.height = box.height;
    this.svg.setAttribute("viewBox", `0 0 ${box.width} ${box.height}`);
    if (this.settled && this.box) this.view.fit(this.box);
    this.paint();
  }

  /** Show a box whole, also when the drawing changes its size, until somebody pushes or zooms. */
  fit(box) {
    this.box = box; this.settled = true;
    this.view.fit(box);
    this.paint();
  }

  zoom(factor, about) { this.settled = false; this.view.zoom(factor, about); this.paint(); }

  pan(dx, dy) { this.settled = false; this.view.pan(dx, dy); this.paint(); }

  /** Draw anew before the next frame. */
  paint() {
    if (this.wanted) return;
    this.wanted = requestAnimationFrame(() => {
      this.wanted = null;
      for (const layer of [this.under, this.sheet, this.top, this.cross]) layer.replaceChildren();
      this.rules.paint({ under: this.under, sheet: this.sheet, top: this.top }, this.view);
      if (this.cursor) {
        const [x, y] = this.view.at(this.cursor);
        this.cross.append(el("path", { d: `M${x - 14} ${y}H${x + 14}M${x} ${y - 14}V${y + 14}` }), el("circle", { cx: x, cy: y, r: 5 }));
      }
    });
  }

  #screen(event) {
    const box = this.svg.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }

  #down(event) {
    if (event.button > 1) return;
    this.svg.focus({ preventScroll: true });
    this.cursor = null;
    const at = this.#screen(event);
    try { this.svg.setPointerCapture(event.pointerId); } catch { /* the pointer is gone already */ }
    this.fingers.set(event.pointerId, at);
    if (this.fingers.size === 2) { if (this.hand?.drawing) this.rules.drag("drop"); this.hand = null; return; }
    if (this.fingers.size > 2) return;
    const id = event.target.closest?.("[data-id]")?.dataset.id ?? null;
    this.hand = { from: at, last: at, id, moved: false, drawing: event.button === 0 && this.rules.drags(id) };
  }

  #moved(event) {
    if (!this.fingers.has(event.pointerId)) return;
    const at = this.#screen(event), before = this.fingers.get(event.pointerId);
    this.fingers.set(event.pointerId, at);
    if (this.fingers.size === 2) return this.#pinch(event.pointerId, before, at);
    const hand = this.hand;
    if (!hand) return;
    if (!hand.moved && Math.hypot(at[0] - hand.from[0], at[1] - hand.from[1]) < MOVED) return;
    if (!hand.moved && hand.drawing) this.rules.drag("start", this.view.place(hand.from), this.view.place(at), hand.id);
    hand.moved = true;
    if (hand.drawing) this.rules.drag("move", this.view.place(hand.from), this.view.place(at), hand.id);
    else this.pan(at[0] - hand.last[0], at[1] - hand.last[1]);
    hand.last = at;
    this.paint();
  }

  #pinch(id, before, at) {
    const [, other] = [...this.fingers].find(([key]) => key !== id);
    const was = Math.hypot(before[0] - other[0], before[1] - other[1]), is = Math.hypot(at[0] - other[0], at[1] - other[1]);
    const middle = [(at[0] + other[0]) / 2, (at[1] + other[1]) / 2];
    this.pan((at[0] - before[0]) / 2, (at[1] - before[1]) / 2);
    if (was > 10 && is > 10) this.zoom(is / was, middle);
  }

  #up(event) {
    if (!this.fingers.delete(event.pointerId)) return;
    const hand = this.hand;
    if (!hand || this.fingers.size) return;
    this.hand = null;
    const at = this.#screen(event);
    if (event.type === "pointercancel") { if (hand.drawing && hand.moved) this.rules.drag("drop"); return; }
    if (!hand.moved) this.rules.tap(this.view.place(at), hand.id);
    else if (hand.drawing) this.rules.drag("end", this.view.place(hand.from), this.view.place(at), hand.id);
    this.paint();
  }

  #wheel(event) {
    if (!(event.ctrlKey || event.metaKey || document.activeElement === this.svg)) return;
    event.preventDefault();
    this.zoom(Math.exp(-event.deltaY / 400), this.#screen(event));
  }

  #key(event) {
    const way = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    const here = this.cursor ?? this.view.place([this.view.width / 2, this.view.height / 2]);
    if (this.rules.keys(event, here, way)) { event.preventDefault(); this.paint(); return; }
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (way) {
      const step = this.rules.step(this.view) * (event.shiftKey ? 10 : 1);
      this.cursor = here.map((part, axis) => Math.round(part / step + way[axis]) * step);
      const [x, y] = this.view.at(this.cursor);
      if (x < 20 || x > this.view.width - 20) this.pan(this.view.width / 2 - x, 0);
      if (y < 20 || y > this.view.height - 20) this.pan(0, this.view.height / 2 - y);
      this.rules.said(this.cursor);
    } else if (event.key === "Enter" || event.key === " ") this.rules.tap(here, null);
    else if (event.key === "+" || event.key === "=") this.zoom(1.3);
    else if (event.key === "-") this.zoom(1 / 1.3);
    else return;
    event.preventDefault();
    this.paint();
  }
}
