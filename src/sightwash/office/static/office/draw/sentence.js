// The sentence at the foot of the sheet: what a person types into its blanks and what a hand draws are one and the same.

import { elementsOf, nameOf, sentenceFor } from "./elements.js";
import { addOperation, changeOperation, textsOf } from "./build.js";

const make = (name, properties = {}, ...children) => {
  const made = Object.assign(document.createElement(name), properties);
  made.append(...children);
  return made;
};
const SAID = { us: "12 ft 6 in", metric: "3.8 m" };
const HINTS = { point: "0 ft, 0 ft", points: "0, 0; 20 ft, 0; 20 ft, 9 ft", profile: "0, 20 ft; 62 ft, 23 ft" };

export class Sentence {
  /** ``told``: changed(sentence), ready(operation, words, keep), picked(id). */
  constructor(form, { sentences, blanks }, told) {
    Object.assign(this, { form, sentences, blanks, told, verb: "add", slug: sentences[0].slug, id: null, values: {}, focus: null });
    this.line = form.querySelector("[data-line]");
    this.wrong = form.querySelector("[data-wrong]");
    form.addEventListener("submit", (event) => { event.preventDefault(); this.#submit(); });
    form.addEventListener("input", (event) => this.#typed(event));
    form.addEventListener("focusin", (event) => { if (event.target.name) this.focus = event.target.name; });
  }

  get sentence() {
    if (this.verb === "add") return this.sentences.find((each) => each.slug === this.slug);
    const found = this.elements.get(this.id);
    return found ? sentenceFor(found, this.sentences) : null;
  }

  get found() { return this.elements.get(this.id) ?? null; }

  #blanks(sentence = this.sentence) { return this.blanks[sentence.on ? `${sentence.on}.${sentence.list}` : sentence.list]; }

  /** Take a new sheet; what is half typed stays. */
  take(sheet) {
    this.sheet = sheet;
    this.elements = elementsOf(sheet.tree);
    if (this.id && !this.elements.has(this.id)) this.id = null;
    if (this.verb !== "change" || !this.#isTyped()) this.show();
  }

  #isTyped() { return this.before && Object.keys(this.values).some((key) => this.values[key] !== this.before[key]); }

  add(slug, values = {}) { this.verb = "add"; this.slug = slug; this.id = null; this.values = { ...this.#usual(), ...values }; this.show(); }

  /** Choose an element, for the verb as it stands. */
  pick(id) { if (this.verb === "move") { this.id = id; this.values = {}; this.show(); this.told.picked(id); } else this.change(id); }

  change(id) {
    this.verb = id ? "change" : this.verb === "add" ? "add" : "change";
    this.id = id;
    this.show();
    this.told.picked(id);
  }

  /** Return what the last element of a kind had, where the next is likely to have it too. */
  #usual() {
    const sentence = this.sentences.find((each) => each.slug === this.slug), last = this.last?.[this.slug] ?? {};
    const carried = ["height", "width", "material", "kind", "use", "depth", "bottom", "on", "length"].filter((key) => key in last && !(sentence.hand === "run" && sentence.slug === "wall" && key === "length"));
    return Object.fromEntries(carried.map((key) => [key, last[key]]));
  }

  /** Fill blanks by drawing. */
  fill(texts) {
    Object.assign(this.values, texts);
    for (const [key, text] of Object.entries(texts)) {
      const blank = this.form.elements.namedItem(key);
      if (blank) blank.value = text;
    }
    this.#say("");
    this.told.changed(this);
  }

  #typed(event) {
    const { name, value } = event.target;
    if (name === "verb") { if (value === "add") this.add(this.slug); else { this.verb = value; this.values = {}; this.show(); } }
    else if (name === "slug") this.add(value);
    else if (name === "element") this.pick(value || null);
    else if (name) { this.values[name] = value; this.#clearWrong(event.target); this.told.changed(this); return; }
    this.form.elements.namedItem(name)?.focus();
  }

  show() {
    const typing = this.form.contains(document.activeElement) ? document.activeElement.name : null;
    const verb = choice("verb", "what to do", [["add", "Add a"], ["change", "Change"], ["move", "Move"]], this.verb);
    this.line.replaceChildren(verb);
    const sentence = this.sentence;
    this.before = null;
    if (this.verb === "add") this.line.append(choice("slug", "what", this.sentences.map((each) => [each.slug, each.what]), this.slug));
    else this.line.append(choice("element", "which", [["", "tap one on the sheet, or choose"], ...[...this.elements].map(([id, found]) => [id, nameOf(found)])], this.id ?? ""));
    this.form.querySelector("[data-more]").hidden = true;
    if (sentence && this.verb === "move") this.#wayIn(sentence);
    else if (sentence) this.#blanksIn(sentence);
    for (const button of this.form.querySelectorAll("[data-write]")) {
      button.textContent = { add: "Write it down", change: "Change it", move: "Move it" }[this.verb];
      button.hidden = !sentence;
    }
    this.form.querySelector("[data-remove]").hidden = this.verb === "add" || !this.id;
    if (typing && document.activeElement?.name !== typing) this.form.elements.namedItem(typing)?.focus({ preventScroll: true });
    this.told.changed(this);
  }

  /** The blanks of a move: to the right and up, in the plan or along the wall. */
  #wayIn(sentence) {
    const way = sentence.on === "walls" ? "along the wall" : "to the right";
    const blank = (key, label) => this.#blank(key, { form: "quantity", us: "ft", metric: "m", label }, { key });
    this.line.append(make("span", { textContent: "by" }), blank("right", way), make("span", { textContent: "and" }), blank("up", "up"));
  }

  #blanksIn(sentence) {
    const blanks = this.#blanks(sentence);
    if (this.verb === "change") {
      const wall = this.sheet.walls.find((each) => each.id === this.id);
      this.before = textsOf(this.found, blanks, wall, this.sheet.units);
      this.values = { ...this.before };
    }
    const shown = new Set();
    for (const part of sentence.parts) {
      if (typeof part === "string") { this.line.append(make("span", { textContent: part, className: /^[,:]/.test(part) ? "tight" : "" })); continue; }
      shown.add(part.key);
      this.line.append(this.#blank(part.key, blanks[part.key], part));
    }
    const rest = Object.keys(blanks).filter((key) => !shown.has(key) && !(sentence.list === "walls" && ["end", "length"].includes(key)));
    const more = this.form.querySelector("[data-more]");
    more.hidden = this.verb === "add" || !rest.length;
    more.querySelector("div").replaceChildren(...(this.verb === "change" ? rest.map((key) => this.#blank(key, blanks[key], { key })) : []));
  }

  #blank(key, blank, { needed = false, made = false }) {
    const value = this.values[key] ?? "";
    const label = key === "on" ? (this.sentence.on === "walls" ? "wall" : "surface") : made ? { length: "length", toward: "direction on the sheet" }[key] : blank.label;
    const input = this.#input(key, blank, made, value);
    input.setAttribute("aria-label", `${label}${needed ? ", needed" : ""}`);
    return make("label", { className: `blank${needed ? " needed" : ""}` }, input, make("small", { textContent: label }));
  }

  #input(key, blank, made, value) {
    if (key === "on") {
      const walls = this.sheet.tree[this.sentence.on] ?? [];
      return this.verb === "add" ? choice("on", "", [["", "tap it"], ...walls.map((node) => [node.id, node.name ?? node.id])], value).firstChild : Object.assign(make("input", { value: walls.find((node) => node.id === value)?.name ?? value, size: 18 }), { readOnly: true });
    }
    if (made) {
      const input = make("input", { name: key, value, size: 8, autocomplete: "off", placeholder: key === "toward" ? "right" : SAID[this.sheet.units] });
      if (key === "toward") input.setAttribute("list", "ways");
      return input;
    }
    if (blank.form === "choice") return choice(key, "", [["", blank.default ?? "not known"], ...blank.choices.filter((each) => each !== blank.default).map((each) => [each, each])], value === blank.default ? "" : value).firstChild;
    if (blank.form === "flag") return choice(key, "", [["", "not known"], ["yes", "yes"], ["no", "no"]], value).firstChild;
    if (blank.form === "reference") return choice(key, "", [["", "none"], ...(this.sheet.tree[blank.list] ?? []).map((node) => [node.id, node.name ?? node.id])], value).firstChild;
    const hint = HINTS[blank.form] ?? (blank.form === "quantity" ? (["ft", "in"].includes(blank.us) ? SAID[this.sheet.units] : blank[this.sheet.units]) : "");
    const size = { points: 22, profile: 22, point: 15, text: 12, count: 4, quantity: 8, number: 6 }[blank.form] ?? 10;
    return make("input", { name: key, value, size: Math.max(size, Math.min(value.length, 30)), autocomplete: "off", placeholder: hint, inputMode: blank.form === "count" ? "numeric" : "text" });
  }

  #submit() {
    const sentence = this.sentence;
    if (!sentence) return;
    if (this.verb === "move") {
      const by = [this.values.right?.trim() || "0", this.values.up?.trim() || "0"];
      return this.told.ready({ do: "move", id: this.id, by }, `${nameOf(this.found)} moved by ${by.join(", ")}`);
    }
    const blanks = this.#blanks(sentence);
    const site = { system: this.sheet.units, north: this.sheet.north, taken: new Set([...this.elements.keys(), ...this.told.ids()]) };
    const found = this.verb === "add" ? addOperation(sentence, blanks, this.values, site) : changeOperation(this.found, blanks, this.before, this.values, site.system);
    if (found.missing) return this.problems([{ key: found.missing, message: "fill this in first, or draw it" }]);
    if (!found.operation) return this.#say("Nothing is different yet.");
    (this.last ??= {})[this.slug] = { ...this.values };
    this.told.ready(found.operation, this.verb === "add" ? `${sentence.what} added` : `${nameOf(this.found)} changed`);
  }

  /** Show what is wrong beside the blanks that it is about. */
  problems(problems) {
    let first = null;
    for (const each of problems) {
      const key = (each.key ?? "").replace(/\[.*$/, ""), last = key.includes(".") ? key.slice(key.indexOf(".") + 1) : key;
      const names = [key, last, last.split(".")[0], ...({ end: ["toward"], start: ["start"] }[last] ?? [])];
      const input = names.map((name) => this.form.elements.namedItem(name)).find((node) => node && node.closest("label"));
      const text = [each.message, each.expected ? `expected ${each.expected}` : "", each.fix ?? ""].filter(Boolean).join("; ").replaceAll("`", "");
      if (!input) { this.#say(`${each.key ? `${each.key}: ` : ""}${text}.`); continue; }
      const note = make("em", { textContent: text, id: `wrong-${input.name}` });
      input.closest("label").querySelector("em")?.remove();
      input.closest("label").append(note);
      input.setAttribute("aria-invalid", "true");
      input.setAttribute("aria-describedby", note.id);
      first ??= input;
    }
    first?.focus();
    if (first && !this.wrong.textContent) this.#say("Something is not right yet: see the words in the sentence.");
  }

  #clearWrong(input) {
    input.removeAttribute("aria-invalid"); input.removeAttribute("aria-describedby");
    input.closest("label")?.querySelector("em")?.remove();
    this.#say("");
  }

  /** Return the sentence as it stands, for a small screen: words, and what is filled in. */
  inShort() {
    const sentence = this.sentence;
    if (!sentence) return "Tap something to change it.";
    const start = this.verb === "add" ? `Add a ${sentence.what}` : `${this.verb === "move" ? "Move" : "Change"} ${nameOf(this.found)}`;
    const said = [];
    for (const part of this.verb === "add" ? sentence.parts : []) {
      if (typeof part === "string") said.push(part);
      else if (this.values[part.key]) said.push(part.key === "on" && this.elements.has(this.values.on) ? this.elements.get(this.values.on).node.name ?? this.values.on : this.values[part.key]);
      else { said.push("..."); if (part.needed) break; }
    }
    return `${start} ${said.join("")}`.slice(0, 140);
  }

  #say(text) { this.wrong.textContent = text; }
}

function choice(name, label, options, value) {
  const made = make("select", { name });
  if (label) made.setAttribute("aria-label", label);
  made.append(...options.map(([key, text]) => make("option", { value: key, textContent: text, selected: key === value })));
  return make("span", { className: "blank" }, made);
}
