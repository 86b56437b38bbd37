// The draw page: two drawings of one sheet (the unrolled wall and the ground from above), one sentence, one keeper.

import { Board } from "./board.js";
import { ghostOf, runTexts } from "./build.js";
import { kept } from "./kept.js";
import { Keeper } from "./keeper.js";
import { paintGrid, paintPicture, paintPlan, paintScale, planEnds, planPlaces } from "./plan.js";
import { Scaling } from "./scaling.js";
import { Sentence } from "./sentence.js";
import { gridStep, snapped } from "./snap.js";
import { layOut, onWall, paintStrip, stripEnds, wallBox } from "./strip.js";
import { paintGhost } from "./ghost.js";
import { words } from "./svg.js";
import { lengthText, pointOf, pointText, pointsOf, wayText } from "./units.js";
import { boxRound } from "./view.js";

const page = document.querySelector("[data-draw]");
const given = JSON.parse(document.getElementById("draw-data").textContent);
const status = page.querySelector("[data-status]"), where = page.querySelector("[data-where]");
const CLOSE = 12;
let sheet = given.sheet, layout = layOut(sheet), held = null, handles = [], written = null;

const keeper = new Keeper(page.dataset.operations, page.dataset.csrf, page.dataset.name, given.own, {
  sheet: (fresh) => takeSheet(fresh),
  done: (entry, answer) => {
    say(`Written down as revision ${answer.done}: ${entry.words}.`);
    if (entry.turn) return;
    if (entry.operation.do === "add" || entry.operation.do === "together") nextOne();
    else if (written === asItStands()) sentence.pick(sentence.id);
  },
  refused: (entry) => refused(entry),
  waits: (entry) => { say(`Kept on this device: ${entry.words}.`); if (!entry.turn && sentence.verb === "add") nextOne(); },
  changed: () => shownKept(),
});
const sentence = new Sentence(page.querySelector("[data-sentence]"), given, {
  changed: () => { page.querySelector("[data-short]").textContent = sentence.inShort(); repaint(); },
  picked: (id) => { if (id) bringIntoSight(id); repaint(); },
  ready: (operation, words) => {
    if (written === asItStands() && keeper.waiting.length) return;
    written = asItStands();
    keeper.take(operation, words, { ghost: sentence.verb === "add" ? ghost() : null });
  },
  ids: () => keeper.entries.flatMap((entry) => entry.operation.element?.id ?? []),
});
const scaling = new Scaling(page, given.picture, () => sheet.units, repaint);
const boards = { strip: board("strip"), plan: board("plan") };
keeper.revision = sheet.revision;

function say(text) { status.textContent = text; }
function repaint() { for (const each of Object.values(boards ?? {})) each.paint(); }
function site() { return { system: sheet.units, north: sheet.north }; }
function ghost() { return sentence.sentence && sentence.verb === "add" ? ghostOf(sentence.sentence, sentence.values, site()) : null; }

function takeSheet(fresh) {
  const first = !sheet.walls.length && fresh.walls.length;
  sheet = fresh;
  layout = layOut(sheet);
  keeper.revision = sheet.revision;
  sentence.take(sheet);
  handles = [...page.querySelectorAll("[data-needs-wall]")];
  for (const each of handles) each.hidden = Boolean(sheet.walls.length);
  shownUnplaced();
  if (first) fitAll();
  repaint();
}

const unplaced = () => sheet.walls.find((wall) => !wall.placed);

/** Say which wall has no place on the ground. */
function shownUnplaced() {
  const said = page.querySelector("[data-needs-place]"), first = unplaced();
  said.hidden = !first;
  if (first) said.querySelector("[data-unplaced]").textContent = first.name;
}

/** Open the sentence that gives a wall its place: at zero, or round the corner of the last wall that has one. */
function givePlace() {
  const wall = unplaced(), before = sheet.walls.findLast((each) => each.placed);
  const [dx, dy] = before ? [before.end[0] - before.start[0], before.end[1] - before.start[1]] : [];
  const texts = before ? { start: pointText(before.end, sheet.units), toward: wayText(Math.atan2(dx, -dy) * 180 / Math.PI) } : { start: "0, 0", toward: "right" };
  sentence.change(wall.id);
  sentence.fill(texts);
  say(before ? "It goes on round the corner of the wall before it. Type what is so, then change it." : "Its left end lies at the zero point of the drawing. Type another place or direction, or change it so.");
  page.querySelector("[data-foot]").scrollIntoView({ block: "nearest" });
}

/** Return what the sentence says now, to tell whether somebody typed on while it was on its way. */
function asItStands() { return JSON.stringify([sentence.verb, sentence.slug, sentence.id, sentence.values]); }

/** After an element is written down, the same kind comes next; a wall goes on where the last one ended. */
function nextOne() {
  if (written !== asItStands()) return;
  const was = sentence.values, slug = sentence.slug;
  const ghostWas = ghost();
  const start = slug === "wall" && ghostWas?.path?.length === 2 ? { start: pointText(ghostWas.path[1], sheet.units) } : {};
  sentence.add(slug, { ...start, ...(slug === "wall" ? { height: was.height ?? "" } : {}) });
}

async function refused(entry) {
  const answer = await fetch(page.dataset.sheet, { headers: { Accept: "application/json" } }).catch(() => null);
  if (entry.state === "clash" && answer?.ok) takeSheet(await answer.json());
  if (entry.state === "clash") { shownKept(); say("Somebody else changed the same. Choose between the two."); toKept(); return; }
  if (entry.state === "refused" && !entry.turn && keeper.entries.at(-1) === entry && !document.hidden) {
    keeper.drop(entry);
    sentence.problems(entry.errors);
    say("Not written down yet.");
  }
  shownKept();
}

function toKept() {
  const list = page.querySelector("[data-kept]");
  list.scrollIntoView({ block: "nearest" });
  list.focus({ preventScroll: true });
}

function shownKept() {
  page.querySelector("[data-undo]").disabled = !keeper.doings.length;
  page.querySelector("[data-redo]").disabled = !keeper.undone.length;
  kept(page.querySelector("[data-kept]"), keeper, sentence.elements);
  repaint();
}

function bringIntoSight(id) {
  const found = sentence.elements.get(id), place = layout.places.get(found?.carrier ?? id);
  if (place && found.list !== "surfaces" && !boards.strip.touched) boards.strip.fit(wallBox(place));
}

function board(name) {
  const svg = page.querySelector(`[data-board=${name}]`);
  const made = new Board(svg, name, {
    step: (view) => gridStep(view, sheet.units),
    said: (place) => { where.textContent = name === "plan" ? pointText(place, sheet.units) : wallWords(place); },
    paint: (layers, view) => paint(name, layers, view),
    tap: (place, id) => tap(name, place, id),
    drags: (id) => (sentence.verb === "add" ? draws(name) : Boolean(id) && id === sentence.id),
    drag: (phase, from, to, id) => drag(name, phase, from, to, id),
    keys: (event, place, way) => keys(name, event, way),
  });
  svg.addEventListener("pointerdown", () => { made.touched = true; });
  return made;
}

function wallWords(place) {
  const spot = onWall(layout, place);
  return spot ? `${sheet.walls.find((wall) => wall.id === spot.id).name}: ${lengthText(spot.s, sheet.units)} along, ${lengthText(spot.z, sheet.units)} up` : "";
}

const draws = (name) => Boolean(sentence.sentence?.hand) && (sentence.sentence.on === "walls") === (name === "strip") && sentence.sentence.hand !== "points";

function paint(name, layers, view) {
  if (name === "plan") {
    paintPicture(layers.under, view, scaling.picture);
    paintGrid(layers.under, view, sheet.units);
    paintPlan(layers.sheet, sheet, view, sentence.id);
    paintScale(layers.top, view, sheet.units, sheet.north);
    scaling.paint(layers.top, view);
  } else {
    paintStrip(layers.sheet, sheet, layout, view, sentence.id);
    if (layout.places.size) paintScale(layers.top, view, sheet.units);
    else layers.top.append(words("The walls unroll here as soon as the first is written down.", [8, view.height / 2]));
  }
  for (const entry of keeper.entries) if (entry.ghost) paintGhost(layers.top, entry.ghost, name, view, layout, "waits");
  const shape = held?.ghost ?? ghost();
  if (shape) paintGhost(layers.top, shape, name, view, layout, "");
}

function caught(name, place, view, before = null) {
  const ends = name === "plan" ? planEnds(sheet) : stripEnds(layout);
  return snapped(place, view, sheet.units, ends, before).place;
}

function tap(name, place, id) {
  if (name === "plan" && scaling.tap(place)) return;
  if (sentence.verb !== "add") { sentence.pick(id ?? null); return; }
  const said = sentence.sentence, view = boards[name].view, system = sheet.units;
  if (said.on === "walls" && name === "strip") return fillWall(place, null);
  if (said.slug === "walk") {
    const wall = name === "strip" ? onWall(layout, place)?.id : id;
    if (sheet.walls.some((each) => each.id === wall)) sentence.fill({ along: wall });
    return;
  }
  if (said.on === "surfaces") { if (sentence.elements.get(id)?.list === "surfaces") sentence.fill({ on: id }); return; }
  if (name !== "plan" || !said.hand) { if (id) { sentence.change(id); } return; }
  if (said.hand === "run") {
    const key = said.slug === "wall" ? "start" : "at", from = pointOf(sentence.values[key], system);
    if (!from) sentence.fill({ [key]: pointText(caught(name, place, view), system) });
    else sentence.fill(runTexts(said, from, caught(name, place, view, from), sentence.values, site()));
    return;
  }
  const key = said.hand === "ring" ? "outline" : said.hand === "path" ? "path" : "at";
  if (said.hand === "point") { sentence.fill({ at: pointText(caught(name, place, view), system) }); return; }
  const points = pointsOf(sentence.values[key], system), spot = caught(name, place, view, points.at(-1));
  const surface = said.slug === "gum" && id && sentence.elements.get(id)?.list === "surfaces" ? { surface: id } : {};
  sentence.fill({ [key]: [sentence.values[key], pointText(spot, system)].filter(Boolean).join("; "), ...surface });
}

/** Fill the blanks of what is on a wall: from one place, or from the two corners of a box. */
function fillWall(from, to) {
  const view = boards.strip.view, system = sheet.units;
  const a = caught("strip", from, view), b = to ? caught("strip", to, view) : null, spot = onWall(layout, a);
  if (!spot) return;
  const keys = new Set(sentence.sentence.parts.map((part) => part.key)), texts = { on: spot.id };
  const other = b ? { s: b[0] - a[0] + spot.s, z: b[1] - a[1] + spot.z } : null;
  const left = other ? Math.min(spot.s, other.s) : spot.s, low = Math.max(other ? Math.min(spot.z, other.z) : spot.z, 0);
  texts.left = lengthText(Math.max(left, 0), system);
  if (other && keys.has("width")) texts.width = lengthText(Math.abs(other.s - spot.s), system);
  if (keys.has("bottom") && (other || !sentence.values.bottom)) texts.bottom = lengthText(low, system);
  if (keys.has("height") && !keys.has("width")) texts.height = lengthText(low, system);
  else if (other && keys.has("height")) texts.height = lengthText(Math.abs(other.z - spot.z) || 0.1, system);
  if (other && keys.has("top")) texts.top = lengthText(Math.max(other.z, spot.z), system);
  if (other && sentence.slug === "door") texts.height = lengthText(Math.max(other.z, spot.z), system);
  sentence.fill(texts);
}

function drag(name, phase, from, to) {
  if (phase === "drop") { held = null; return; }
  const view = boards[name].view, system = sheet.units;
  if (sentence.verb !== "add") return shift(name, phase, from, to);
  const said = sentence.sentence;
  if (said.on === "walls") return fillWall(from, to);
  const a = caught(name, from, view), b = caught(name, to, view, a);
  if (said.hand === "run") sentence.fill({ ...runTexts(said, a, b, sentence.values, site()) });
  else if (said.hand === "point") sentence.fill({ at: pointText(b, system) });
  else if (said.hand === "ring") sentence.fill({ outline: [[a[0], a[1]], [b[0], a[1]], [b[0], b[1]], [a[0], b[1]]].map((point) => pointText(point, system)).join("; ") });
  else if (said.hand === "path") sentence.fill({ path: [a, b].map((point) => pointText(point, system)).join("; ") });
}

/** Move the chosen element with the hand; it is written down when the hand lets go. */
function shift(name, phase, from, to) {
  const step = gridStep(boards[name].view, sheet.units), by = [to[0] - from[0], to[1] - from[1]].map((part) => Math.round(part / step) * step);
  const texts = by.map((part) => lengthText(part, sheet.units));
  held = { ghost: { board: name, path: [from, [from[0] + by[0], from[1] + by[1]]], says: texts.join(", ") } };
  where.textContent = `Moved by ${held.ghost.says}`;
  if (sentence.verb === "move") sentence.fill({ right: texts[0], up: texts[1] });
  if (phase !== "end") return;
  held = null;
  if (sentence.verb !== "move") moveBy(by);
}

function moveBy(by) {
  if (!sentence.id || !by.some((part) => Math.abs(part) > 1e-6)) return;
  const texts = by.map((part) => lengthText(part, sheet.units));
  keeper.take({ do: "move", id: sentence.id, by: texts }, `${sentence.id} moved by ${texts.join(", ")}`);
}

function keys(name, event, way) {
  const control = event.ctrlKey || event.metaKey;
  if (control && event.key.toLowerCase() === "z") { if (event.shiftKey) keeper.redo(); else keeper.undo(); return true; }
  if (control && event.key.toLowerCase() === "y") { keeper.redo(); return true; }
  if (event.altKey && way) { moveBy(way.map((part) => part * gridStep(boards[name].view, sheet.units))); return true; }
  if (event.key === "Delete" && sentence.id) { remove(); return true; }
  if (event.key === "Escape") { if (sentence.verb === "add") sentence.add(sentence.slug); else sentence.change(null); return true; }
  return false;
}

function remove() {
  const { id } = sentence;
  if (!id) return;
  const gone = [...sentence.elements].filter(([, found]) => found.node.along === id || found.node.surface === id).map(([each]) => each);
  const walls = [...sentence.elements].filter(([, found]) => found.node.building === id).map(([each]) => each);
  const operations = [...gone, ...walls, id].map((each) => ({ do: "remove", id: each }));
  keeper.take(operations.length > 1 ? { do: "together", operations } : operations[0], `${operations.map((each) => each.id).join(", ")} removed`);
  sentence.change(null);
}

function fitAll() {
  boards.strip.fit(layout.box);
  boards.plan.fit(boxRound(planPlaces(sheet)));
}

function nextWall(step) {
  const ids = [...layout.places.keys()];
  if (!ids.length) return;
  nextWall.at = ((nextWall.at ?? (step > 0 ? -1 : 0)) + step + ids.length) % ids.length;
  boards.strip.fit(wallBox(layout.places.get(ids[nextWall.at])));
  where.textContent = sheet.walls.find((wall) => wall.id === ids[nextWall.at]).name;
}

page.addEventListener("click", (event) => {
  const button = event.target.closest("button");
  if (!button) return;
  const { zoom, pan, fit, wall, undo, redo, remove: gone, show, givePlace: gives } = button.dataset;
  const near = boards[button.closest("[data-of]")?.dataset.of ?? "plan"];
  if (zoom) near.zoom(Number(zoom));
  if (pan) { const [dx, dy] = pan.split(" ").map(Number); near.pan(dx * 80, dy * 80); }
  if (fit !== undefined) near.fit(near === boards.strip ? layout.box : boxRound(planPlaces(sheet)));
  if (wall) nextWall(Number(wall));
  if (undo !== undefined) keeper.undo();
  if (redo !== undefined) keeper.redo();
  if (gone !== undefined) remove();
  if (gives !== undefined) givePlace();
  if (show) {
    page.dataset.shown = show;
    for (const each of page.querySelectorAll("[data-show]")) each.setAttribute("aria-pressed", String(each === button));
  }
});

const foot = page.querySelector("[data-foot]");
new ResizeObserver(() => page.style.setProperty("--foot", `${Math.min(foot.offsetHeight, innerHeight * 0.4)}px`)).observe(foot);

takeSheet(sheet);
sentence.add("wall");
fitAll();
if (layout.places.size && boards.strip.view.k < CLOSE) nextWall(1);
if (location.hash === "#place" && !page.querySelector("[data-needs-place]").hidden) givePlace();
keeper.send();
