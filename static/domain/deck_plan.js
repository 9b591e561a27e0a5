/** A plain plan of the decks and where on it the lockers are. Mirrors spares/domain/deck_plan.py. */

/** Places are whole thousandths of the width and height of a picture. */
export const WHOLE = 1000;
export const MOST_CORNERS = 100;
/** A corner this near to a line's first one closes it [thousandths]. */
const CLOSES = 45;
/** What lies this little beside the corner before is meant to be in line with it [thousandths]. */
const STRAIGHT = 30;
const RASTER = 10;
const CORNER = /^(0|[1-9]\d{0,3}),(0|[1-9]\d{0,3})$/;

/** Read the corners of a line, [[x, y], ...]; none where the text is not such a line. */
export function cornersOf(text) {
  const pairs = typeof text === "string" ? text.split(" ").map((one) => CORNER.exec(one)) : [];
  const found = pairs.filter(Boolean).map(([, x, y]) => [Number(x), Number(y)]);
  const isFine = found.length === pairs.length && found.length >= 2 && found.length <= MOST_CORNERS;
  return isFine && found.every((corner) => Math.max(...corner) <= WHOLE) ? found : [];
}

/** Give the number of a new deck: its name, so that two phones begin one; another where an old one of it was taken out. */
export function freshNumber(name, takenOut) {
  for (let turn = 2, no = name; ; turn += 1) {
    if (!takenOut.includes(no)) return no;
    no = `${name} ${turn}`;
  }
}

export const cornersText = (corners) => corners.map((corner) => corner.join(",")).join(" ");

/** Name the locker by whose place one is found: itself, else the nearest around it; null if none. */
export function placedBy(locker, parents, places) {
  const seen = new Set();
  for (let here = locker; here && !seen.has(here); here = parents.get(here)) {
    if (places.has(here)) return here;
    seen.add(here);
  }
  return null;
}

const near = (one, other, reach) => Math.hypot(one[0] - other[0], one[1] - other[1]) <= reach;

/** Put a tapped corner in line with the one before; a wet thumb never meets it quite. */
export function straightened([x, y], before) {
  const tidy = (value) => Math.min(WHOLE, Math.max(0, Math.round(value / RASTER) * RASTER));
  const along = (value, at) => (before && Math.abs(value - before[at]) <= STRAIGHT ? before[at] : tidy(value));
  return [along(x, 0), along(y, 1)];
}

/** Say whether a tap at the first corner closes a line. */
export const closes = (corner, corners) => corners.length > 2 && near(corner, corners[0], CLOSES);

/** Give those within reach of a tap, nearest first; each has x and y. `tall` is height by width. */
export function withinReach([x, y], things, reach, tall) {
  const away = (one) => Math.hypot(one.x - x, (one.y - y) * tall);
  return things.filter((one) => away(one) <= reach).sort((one, other) => away(one) - away(other));
}
