// Who sees it: an eye that is dragged over the ground; the wall, the ground and the view follow, frame by frame.

import { Board } from "./board.js";
import { paintGrid, paintPlan, paintScale, planPlaces, eyeMark } from "./plan.js";
import { gridStep } from "./snap.js";
import { layOut, paintStrip, stripPlace, wallBox } from "./strip.js";
import { data, el, words } from "./svg.js";
import { lengthOf, lengthText, pointOf, pointText } from "./units.js";
import { boxRound } from "./view.js";

const page = document.querySelector("[data-look]");
const given = JSON.parse(document.getElementById("look-data").textContent);
const { sheet } = given, layout = layOut(sheet);
const form = page.querySelector("[data-stand]"), picture = page.querySelector("[data-picture]");
const ways = new Map(sheet.ground.filter((thing) => thing.list === "eyes").map((thing) => [thing.id, thing]));
let eye = { ...given.eye }, frame = null, asked = null, busy = false, strips = [], chosen = null;
const spent = [];

for (const way of ways.values()) form.elements.eye.append(Object.assign(document.createElement("option"), { value: way.id, textContent: way.name }));

const boards = {
  strip: new Board(page.querySelector("[data-board=strip]"), "strip", { ...quiet(), paint: paintWalls, tap: tapStrip }),
  plan: new Board(page.querySelector("[data-board=plan]"), "plan", { ...quiet(), paint: paintGround, tap: (place, id) => tapGround(place, id), drags: (id) => id === "eye-now", drag: dragEye, keys: keysOnGround, step: (view) => gridStep(view, sheet.units) }),
};

function quiet() {
  return { tap: () => {}, drags: () => false, drag: () => {}, keys: () => false, said: () => {}, step: (view) => gridStep(view, sheet.units) };
}

/** Ask for the newest place only: one question at a time, what was asked meanwhile is forgotten. */
async function look() {
  asked = { ...eye, wall: form.elements.wall.value };
  if (busy) return;
  busy = true;
  while (asked) {
    const now = asked;
    asked = null;
    const began = performance.now();
    try {
      const answer = await fetch(`${page.dataset.frame}?${new URLSearchParams({ x: now.x.toFixed(2), y: now.y.toFixed(2), z: now.z.toFixed(2), wall: now.wall })}`, { headers: { Accept: "application/json" } });
      const found = await answer.json();
      if (answer.ok) { frame = found; show(); } else say(found.errors?.map((each) => each.message).join(" ") ?? "The office did not answer.");
      spent.push(performance.now() - began);
    } catch { say("The office cannot be reached. What is shown is the last view."); }
  }
  busy = false;
  page.dataset.frames = String(spent.length);
  page.dataset.spent = spent.slice(-50).map(Math.round).join(" ");
}

function say(text) { page.querySelector("[data-says]").textContent = text; }

function show() {
  say(frame.words);
  form.elements.at.value = pointText([eye.x, eye.y], sheet.units);
  form.elements.height.value = lengthText(eye.z, sheet.units);
  const [ax, ay] = frame.view.ahead, bearing = ((Math.atan2(ax, ay) * 180 / Math.PI + sheet.north) % 360 + 360) % 360;
  page.querySelector("[data-way]").textContent = `looking ${["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"][Math.round(bearing / 45) % 8]}, ${lengthText(eye.z, sheet.units)} up`;
  paintPicture();
  for (const board of Object.values(boards)) board.paint();
}

function paintPicture() {
  const [x, y, width, height] = frame.view.window;
  picture.setAttribute("viewBox", `${x} ${y} ${width} ${height}`);
  const shapes = frame.view.shapes.map(([kind, d]) => el("path", { class: kind, d, "fill-rule": "evenodd" }));
  picture.replaceChildren(el("line", { x1: x, x2: x + width, y1: frame.view.horizon, y2: frame.view.horizon, class: "horizon" }), ...shapes);
  picture.setAttribute("aria-label", `What the eye sees. ${frame.words}`);
}

const pairs = (flat) => { const found = []; for (let k = 0; k < flat.length; k += 2) found.push([flat[k], flat[k + 1]]); return found; };
const regionPath = (rings, at) => rings.map((ring) => data(pairs(ring).map(at), true)).join("");

function paintWalls(layers, view) {
  const looks = new Map((frame?.walls ?? []).map((each) => [each.id, each]));
  paintStrip(layers.sheet, sheet, layout, view, null, (made, place) => {
    const seen = looks.get(place.wall.id);
    if (!seen) return;
    const at = ([s, z]) => view.at(stripPlace(place, s, z));
    for (const kind of ["hidden", "missed"]) if (seen[kind].length) made.append(el("path", { class: kind, d: regionPath(seen[kind], at), "fill-rule": "evenodd" }));
  });
  const taken = [];
  for (const strip of strips) {
    const place = layout.places.get(strip.wall);
    if (!place) continue;
    let [x, y] = view.at(stripPlace(place, ...strip.middle));
    while (taken.some(([tx, ty]) => Math.hypot(tx - x, ty - y) < 33)) x += 34;
    taken.push([x, y]);
    layers.top.append(letter(strip, [x, y]));
  }
  paintScale(layers.top, view, sheet.units);
}

function letter(strip, [cx, cy]) {
  return el("g", { class: `letter${strip.id === chosen ? " chosen" : ""}`, "data-id": strip.id }, el("circle", { cx, cy, r: 15 }), words(strip.letter, [cx, cy + 5], "", "middle"));
}

function paintGround(layers, view) {
  paintGrid(layers.under, view, sheet.units);
  paintPlan(layers.sheet, sheet, view, null);
  paintScale(layers.top, view, sheet.units, sheet.north);
  const [x, y] = view.at([eye.x, eye.y]);
  if (frame) {
    const [ax, ay] = frame.view.ahead, [, , width] = frame.view.window;
    if (width) layers.top.append(el("path", { class: "line-of-sight", d: `M${x} ${y}L${x + ax * 1200} ${y - ay * 1200}` }));
  }
  const remedy = strips.find((each) => each.id === chosen)?.remedies ?? [];
  for (const each of remedy) {
    const [rx, ry] = view.at(each.at);
    layers.top.append(el("g", { class: `thing${each.allowed ? "" : " left-out"}` }, el("circle", { cx: rx, cy: ry, r: 6, class: "mark" })));
  }
  layers.top.append(el("g", { class: "eye-now", "data-id": "eye-now" }, el("circle", { cx: x, cy: y, r: 24 }), eyeMark([x, y], 13)));
}

function stand(x, y, z = eye.z) {
  eye = { x: Math.min(Math.max(x, -6900), 6900), y: Math.min(Math.max(y, -6900), 6900), z: Math.min(Math.max(z, -140), 39) };
  boards.plan.paint();
  look();
}

/** Return the place on somebody's way that is nearest to a place. */
function onWay(path, [x, y]) {
  let best = path[0], least = Infinity;
  for (let k = 0; k + 1 < path.length; k += 1) {
    const [[ax, ay], [bx, by]] = [path[k], path[k + 1]], square = (bx - ax) ** 2 + (by - ay) ** 2 || 1;
    const share = Math.min(Math.max(((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / square, 0), 1);
    const at = [ax + share * (bx - ax), ay + share * (by - ay)], away = Math.hypot(at[0] - x, at[1] - y);
    if (away < least) { best = at; least = away; }
  }
  return best;
}

function held([x, y]) {
  const way = ways.get(form.elements.eye.value);
  return way ? onWay(way.path, [x, y]) : [x, y];
}

function tapGround(place, id) {
  if (ways.has(id)) { form.elements.eye.value = id; choseWay(place); return; }
  stand(...held(place));
}

function dragEye(phase, from, to) { if (phase !== "drop") stand(...held(to)); }

function keysOnGround(event, _place, way) {
  if (!way || event.altKey || event.ctrlKey || event.metaKey) return false;
  const step = gridStep(boards.plan.view, sheet.units) * (event.shiftKey ? 10 : 1);
  const path = ways.get(form.elements.eye.value)?.path;
  if (path?.length > 1 && way[0]) {
    const [[ax, ay], [bx, by]] = [path[0], path.at(-1)], length = Math.hypot(bx - ax, by - ay) || 1;
    stand(...onWay(path, [eye.x + way[0] * step * (bx - ax) / length, eye.y + way[0] * step * (by - ay) / length]));
  } else stand(eye.x + way[0] * step, eye.y + way[1] * step);
  return true;
}

function choseWay(near = [eye.x, eye.y]) {
  const way = ways.get(form.elements.eye.value);
  if (!way) return;
  const typed = given.eyes.find((each) => each.id === way.id), height = lengthOf(typed?.height, sheet.units);
  const usual = ["road", "parking row"].includes(typed?.kind) ? 1.0668 : 1.6116;
  const at = onWay(way.path, near);
  const level = typed?.levels?.length ? lengthOf(typed.levels[0], sheet.units) : 0;
  stand(at[0], at[1], (Number.isFinite(height) ? height : usual) + (Number.isFinite(level) ? level : 0));
}

form.addEventListener("change", (event) => { if (event.target.name === "eye") choseWay(); if (event.target.name === "wall") look(); });
form.addEventListener("submit", (event) => {
  event.preventDefault();
  const at = pointOf(form.elements.at.value, sheet.units), height = lengthOf(form.elements.height.value, sheet.units);
  if (!at || !Number.isFinite(height)) { say("Type the place as two lengths, such as 40 ft, -120 ft, and the height as one."); return; }
  form.elements.eye.value = "";
  stand(at[0], at[1], height);
});

function tapStrip(_place, id) { const strip = strips.find((each) => each.id === id); if (strip) choose(strip); }

function choose(strip) {
  chosen = chosen === strip.id ? null : strip.id;
  for (const each of page.querySelectorAll("[data-strip]")) {
    const open = each.dataset.strip === chosen;
    each.querySelector("button").setAttribute("aria-expanded", String(open));
    each.querySelector("div").hidden = !open;
    if (open) each.querySelector("button").focus({ preventScroll: false });
  }
  if (chosen) boards.strip.fit(wallBox(layout.places.get(strip.wall)));
  for (const board of Object.values(boards)) board.paint();
}

const make = (name, properties, ...children) => { const made = Object.assign(document.createElement(name), properties); made.append(...children); return made; };

function stripLine(strip) {
  const button = make("button", { type: "button", className: "second", onclick: () => choose(strip), textContent: `${strip.letter}: ${strip.area} on ${strip.name}` });
  button.setAttribute("aria-expanded", "false");
  const seers = strip.seen_by.length ? `Seen by: ${strip.seen_by.join("; ")}.` : "Who sees it is not known.";
  const remedies = strip.remedies.map((each) => make("li", { className: each.allowed ? "" : "not-allowed", textContent: each.words }));
  const what = make("div", { hidden: true }, make("p", { textContent: `${strip.where}. ${seers}` }),
    remedies.length ? make("p", { className: "strong", textContent: "To see it while working:" }) : make("p", { textContent: "No place to see it from was found. Look at it from the road before leaving." }),
    make("ol", {}, ...remedies), make("p", { className: "why", textContent: `Why: ${strip.why} (${strip.sources.join(", ")}).` }));
  const made = make("li", {}, button, what);
  made.dataset.strip = strip.id;
  return made;
}

async function missed() {
  const list = page.querySelector("[data-strips]");
  try {
    const answer = await fetch(page.dataset.missed, { headers: { Accept: "application/json" } });
    strips = (await answer.json()).strips;
    list.replaceChildren(...(strips.length ? strips.map(stripLine) : [make("li", { textContent: "Nothing: all that is seen, the crew sees from where it works." })]));
  } catch { list.replaceChildren(make("li", { textContent: "The office cannot be reached. Load the page again." })); }
  boards.strip.paint();
}

page.addEventListener("click", (event) => {
  const button = event.target.closest("button");
  if (!button) return;
  const name = button.closest("[data-of]")?.dataset.of, { zoom, pan, fit, wall } = button.dataset;
  if (!name) return;
  const near = boards[name];
  if (zoom) near.zoom(Number(zoom));
  if (pan) { const [dx, dy] = pan.split(" ").map(Number); near.pan(dx * 80, dy * 80); }
  if (fit !== undefined) near.fit(near === boards.strip ? layout.box : wholeGround());
  if (wall) nextWall(Number(wall));
});

let at = -1;
function nextWall(step) {
  const ids = [...layout.places.keys()];
  at = (at + step + ids.length) % ids.length;
  boards.strip.fit(wallBox(layout.places.get(ids[at])));
}

const wholeGround = () => boxRound([...planPlaces(sheet), [eye.x, eye.y]]);

boards.strip.fit(layout.box);
boards.plan.fit(wholeGround());
if (page.clientWidth < 700) nextWall(1);
form.elements.eye.value = [...ways.keys()].find((id) => given.eyes.find((each) => each.id === id)?.kind !== "crew") ?? "";
look();
missed();
