// The elements of a site by their ids: the node as it was typed, the list it is in, what carries it.

const CARRIERS = { walls: ["soiling", "openings", "doors", "projections", "fixtures"], surfaces: ["soiling"] };
const NOT_LISTED = ["contacts"];

/** Return every element by its id. */
export function elementsOf(tree) {
  const found = new Map();
  for (const [list, nodes] of Object.entries(tree)) {
    if (!Array.isArray(nodes) || NOT_LISTED.includes(list)) continue;
    for (const node of nodes) {
      if (!node?.id) continue;
      found.set(node.id, { node, list, on: "", carrier: null });
      for (const inner of CARRIERS[list] ?? []) {
        for (const child of node[inner] ?? []) found.set(child.id, { node: child, list: inner, on: list, carrier: node.id });
      }
    }
  }
  return found;
}

/** Return what a person calls an element. */
export function nameOf({ node, list }) {
  const kind = node.kind ?? { walls: "wall", buildings: "building", doors: "door", drains: "drain", gum: "gum", stalls: "stalls" }[list] ?? "";
  const name = node.name ?? node.tenant ?? node.id;
  return kind && !name.toLowerCase().includes(kind) ? `${name} (${kind})` : name;
}

/** Return an id that nothing has yet. */
export function freshId(kind, taken) {
  for (let number = 1; ; number += 1) if (!taken.has(`${kind}-${number}`)) return `${kind}-${number}`;
}

/** Return a value at a dotted key. */
export const valueAt = (node, key) => key.split(".").reduce((value, step) => value?.[step], node);

/** Return the sentence that an element is said with. */
export function sentenceFor({ node, list, on }, sentences) {
  const fitting = sentences.filter((each) => each.list === list && each.on === on);
  if (list === "surfaces") return fitting.find((each) => (each.slug === "walk") === Boolean(node.along)) ?? fitting[0];
  return fitting[0];
}
