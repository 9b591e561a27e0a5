/**
 * What each recorded change does to the cells of the stock. Mirrors spares/domain/movements.py.
 *
 * A cell is (part, locker, lot); the plain lot is "". Quantities are whole thousandths of the
 * part's unit. An entry is {id, dev, n, kind, at, g, seen, pos, body}.
 */

/** One piece [thousandths]. */
export const PIECE = 1000;

const cell = (line) => [line.part, line.locker, line.lot ?? ""];

/** Write a cell as one text, to keep it by. */
export const cellKey = (part, locker, lot = "") => [part, locker, lot].join("\u001f");

function exchanged(body) {
  const found = [];
  const q = body.q ?? PIECE;
  if (body.from && body.part) found.push([[body.part, body.from, body.lot ?? ""], -q]);
  if ((body.old_to ?? "landed") !== "landed" && body.old_part) {
    found.push([[body.old_part, body.old_to, body.old_lot ?? ""], q]);
  }
  return found;
}

function moved(body) {
  const lot = body.lot ?? "";
  return [[[body.part, body.from, lot], -body.q],
    [[body.part, body.to, body.to_lot ?? lot], body.q]];
}

const takeLine = (line) => [cell(line), -line.q];
const addLine = (line) => [cell(line), line.q];

const DELTAS = {
  put: (body) => [addLine(body)],
  took: (body) => [takeLine(body)],
  landed: (body) => [takeLine(body)],
  moved,
  service: (body) => body.lines.map(takeLine),
  convert: (body) => [...body.out.map(takeLine), ...body.in.map(addLine)],
  exchange: exchanged,
};

/**
 * List what a change does to cells, before parts are merged and changes undone.
 * @returns {{part, locker, lot, delta: number|null, count: number|null}[]} [thousandths]
 */
export function effects({ kind, body }) {
  if (kind === "counted") {
    const [part, locker, lot] = cell(body);
    return [{ part, locker, lot, delta: null, count: body.q }];
  }
  const added = new Map();
  for (const [place, delta] of DELTAS[kind]?.(body) ?? []) {
    const key = cellKey(...place);
    const [part, locker, lot] = place;
    const before = added.get(key)?.delta ?? 0;
    added.set(key, { part, locker, lot, delta: before + delta, count: null });
  }
  return [...added.values()].filter((effect) => effect.delta);
}

/** Say whether the author of one change had seen another when making it. */
export function saw(later, earlier) {
  if (later.dev === earlier.dev) return earlier.n < later.n;
  if (!later.seen) return false;
  const place = earlier.pos[later.seen.epoch];
  return place !== undefined && place <= later.seen.seq;
}

/** Say whether two changes were made without knowing of each other. */
export const areConcurrent = (one, other) => !saw(one, other) && !saw(other, one);
