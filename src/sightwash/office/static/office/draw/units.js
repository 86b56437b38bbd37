// Lengths as people type them, and back. The server reads every value again; this is for drawing while one types.

export const FOOT = 0.3048;
const SIZES = { ft: FOOT, feet: FOOT, foot: FOOT, "'": FOOT, in: FOOT / 12, inch: FOOT / 12, inches: FOOT / 12, '"': FOOT / 12,
  yd: 3 * FOOT, m: 1, metre: 1, metres: 1, meter: 1, meters: 1, cm: 0.01, mm: 0.001 };
const PIECE = /^\s*(?:(\d+)\s+(?=\d+\/))?(\d*\.?\d+)(?:\/(\d+))?\s*([a-z'"]*)\.?/i;

/** Return a typed length in metres; NaN where it is none. */
export function lengthOf(typed, system) {
  let rest = String(typed ?? "").trim().replace(/[’′]/g, "'").replace(/[”″]/g, '"').replace(/−/g, "-").replace(/''/g, '"');
  if (!rest) return NaN;
  const sign = rest.startsWith("-") ? -1 : 1;
  rest = rest.replace(/^[-+]/, "");
  let total = 0, pieces = 0;
  while (rest.trim()) {
    const found = PIECE.exec(rest);
    if (!found) return NaN;
    const [whole, place, number, over, unit] = [found[0], found[1], found[2], found[3], found[4].toLowerCase()];
    const bare = unit === "";
    if (bare && (pieces || whole.length < rest.trimEnd().length)) return NaN;
    const size = bare ? (system === "us" ? FOOT : 1) : SIZES[unit];
    if (size === undefined) return NaN;
    total += (Number(place ?? 0) + Number(number) / Number(over ?? 1)) * size;
    rest = rest.slice(whole.length);
    pieces += 1;
  }
  return sign * total;
}

/** Return metres as a person writes them: feet and inches to half an inch, or metres to the centimetre. */
export function lengthText(metres, system) {
  if (system !== "us") return `${Number(metres.toFixed(2))} m`;
  const halves = Math.round(Math.abs(metres) / FOOT * 24);
  const sign = metres < 0 && halves ? "-" : "";
  const feet = Math.floor(halves / 24), inches = (halves % 24) / 2;
  if (!feet && !inches) return "0 ft";
  return sign + [feet ? `${feet} ft` : "", inches ? `${inches} in` : ""].filter(Boolean).join(" ");
}

export const pointText = (point, system) => point.map((part) => lengthText(part, system)).join(", ");
export const pointsText = (points, system) => points.map((point) => pointText(point, system)).join("; ");

/** Return the typed parts of a point; null where there are not two or three. */
export function pointParts(text) {
  const parts = String(text ?? "").split(",").map((part) => part.trim());
  return (parts.length === 2 || parts.length === 3) && parts.every(Boolean) ? parts : null;
}

/** Return typed points, each as its typed parts; null where one of them is none. */
export function pointsParts(text) {
  const points = String(text ?? "").split(";").map((part) => part.trim()).filter(Boolean).map(pointParts);
  return points.includes(null) ? null : points;
}

/** Return a point in metres; null where it is none. */
export function pointOf(text, system) {
  const parts = pointParts(text);
  const point = parts && parts.slice(0, 2).map((part) => lengthOf(part, system));
  return point && point.every(Number.isFinite) ? point : null;
}

/** Return points in metres; those that are none are left out. */
export function pointsOf(text, system) {
  return String(text ?? "").split(";").map((part) => pointOf(part, system)).filter(Boolean);
}

const WAYS = { right: 0, up: 90, left: 180, down: 270 };

/** Return a direction on the sheet in degrees, turning left from "right"; NaN where it is none. */
export function wayOf(typed) {
  const word = String(typed ?? "").trim().toLowerCase();
  if (word in WAYS) return WAYS[word];
  const found = /^(-?\d+(?:\.\d+)?)\s*(?:deg|degrees|°)?$/.exec(word);
  return found ? Number(found[1]) : NaN;
}

/** Return a direction in words. */
export function wayText(degrees) {
  const turned = ((degrees % 360) + 360) % 360;
  for (const [word, at] of Object.entries(WAYS)) if (Math.abs(((turned - at + 540) % 360) - 180) < 0.005) return word;
  return `${Number(turned.toFixed(2))} deg`;
}
