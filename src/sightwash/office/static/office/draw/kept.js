// The list of changes that the office does not have yet, each with what to do about it.

import { freshId, nameOf } from "./elements.js";

function line(name, properties, ...children) {
  const made = Object.assign(document.createElement(name), properties);
  made.append(...children);
  return made;
}

const said = (value, gone) => (gone ? "removed" : value === null ? "nothing" : typeof value === "object" ? "other than it was" : String(value));

/** Show what is kept on this device; ``elements`` are those of the site as it is now. */
export function kept(place, keeper, elements) {
  place.replaceChildren();
  place.hidden = !keeper.entries.length;
  if (!keeper.entries.length) return;
  const waits = keeper.waiting.length;
  if (waits) {
    const why = keeper.signedOut ? "You are signed out. Sign in again in another tab: " : keeper.away ? "The office cannot be reached. " : "";
    place.append(line("p", { textContent: `${why}${waits === 1 ? "1 change is" : `${waits} changes are`} kept on this device and sent as soon as it can be.` }));
  }
  if (keeper.full) place.append(line("p", { className: "accent", textContent: "This device has no room to keep changes. Leave this page open until they are sent." }));
  for (const entry of keeper.entries) place.append(one(entry, keeper, elements));
}

function one(entry, keeper, elements) {
  const made = line("div", { className: `kept ${entry.state}` }, line("p", { textContent: `${entry.words}.` }));
  if (entry.state === "waiting") return made;
  for (const clash of entry.clashes) made.append(sides(clash, elements));
  if (!entry.clashes.length) for (const each of entry.errors) made.append(line("p", { className: "accent", textContent: [each.key, each.message, each.expected && `expected ${each.expected}`, each.fix].filter(Boolean).join("; ").replaceAll("`", "") }));
  const add = entry.operation.do === "add" && entry.clashes.length;
  const choices = line("div", { className: "actions" },
    line("button", { type: "button", className: "second", textContent: entry.clashes.length ? "Keep theirs" : "Throw mine away", onclick: () => keeper.drop(entry) }),
    line("button", { type: "button", className: "decide", textContent: add ? "Keep both" : "Write mine down", onclick: () => keeper.again(entry, add ? another(entry.operation, elements) : entry.operation) }));
  made.append(choices);
  return made;
}

function sides(clash, elements) {
  const key = clash.key === "*" ? "" : clash.key.replaceAll("_", " ");
  const who = clash.person || "somebody else";
  return line("dl", {}, line("dt", { textContent: `${elements.has(clash.id) ? nameOf(elements.get(clash.id)) : clash.id ?? "the property"}${key ? `: ${key}` : ""}` }),
    line("dd", { textContent: `${who}, revision ${clash.revision}: ${said(clash.theirs, clash.theirs_gone)}` }),
    line("dd", { textContent: `you: ${said(clash.yours, clash.yours_gone)}` }));
}

function another(operation, taken) {
  const kind = operation.element.id.replace(/-\d+$/, "");
  return { ...operation, element: { ...operation.element, id: freshId(kind, taken) } };
}
