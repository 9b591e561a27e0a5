/**
 * A trip's list with the counts of now: what was recorded on this phone since the list was worked
 * out changes what is usable, short and to be bought. The needs themselves stay as they were.
 */

import { dayAfter, daysBetween } from "../dates.js";

const MISSING = ["too-late", "order-by", "short"];
const THOUSAND = 1000;
const READY_DAYS = 3;

const thousandths = (value) => Math.round(Number(value ?? 0) * THOUSAND);

/** Whether a piece in this place counts for a need. */
function counts(cell) {
  return cell.aboard !== false && !cell.lent_to && cell.condition !== "suspect";
}

function placesOf(line) {
  const places = new Map();
  for (const cell of line.where ?? []) {
    const known = places.get(cell.locker) ?? { held: 0, usable: counts(cell) };
    places.set(cell.locker, { held: known.held + thousandths(cell.quantity), usable: known.usable || counts(cell) });
  }
  return places;
}

/** Give by how much [thousandths] one movement changes what is usable, and note it in `places`. */
function changeBy(places, kind, body) {
  const q = thousandths(body.quantity ?? 1);
  const at = (locker) => places.get(locker) ?? { held: 0, usable: true };
  const put = (locker, held) => places.set(locker, { ...at(locker), held });
  const worth = (locker, amount) => (at(locker).usable ? amount : 0);
  if (kind === "put") {
    put(body.locker, at(body.locker).held + q);
    return body.condition === "suspect" ? 0 : worth(body.locker, q);
  }
  if (kind === "counted") {
    const change = worth(body.locker, q - at(body.locker).held);
    put(body.locker, q);
    return change;
  }
  if (kind === "moved") {
    put(body.from, at(body.from).held - q);
    put(body.to, at(body.to).held + q);
    return worth(body.to, q) - worth(body.from, q);
  }
  if (!["took", "landed", "lent"].includes(kind)) return 0;
  put(body.locker, at(body.locker).held - q);
  return -worth(body.locker, q);
}

function stateOf(line, short, departs_on, ready_days, today) {
  if (line.state === "accepted" || line.state === "cannot-say") return { state: line.state };
  if (short <= 0) return { state: "enough", order_by: null, late_days: 0 };
  if (MISSING.includes(line.state)) return {};
  if (line.lead_days === null || line.lead_days === undefined) return { state: "short" };
  const order_by = dayAfter(departs_on, -(line.lead_days + (ready_days ?? READY_DAYS)));
  const late_days = Math.max(0, daysBetween(order_by, today));
  return { state: late_days ? "too-late" : "order-by", order_by, late_days };
}

function costOf(line, buy) {
  if (!line.cost?.amount || !line.buy) return buy ? null : line.cost;
  const minor = Math.round((Number(line.cost.amount) * 100 * buy) / line.buy);
  return { ...line.cost, amount: (minor / 100).toFixed(2) };
}

/**
 * Redo one line for what is usable now; what it needs stays as it was.
 * @param {number} usable pieces  @param {{departs_on, ready_days}} trip  @param {string} today ISO
 */
export function lineNow(line, usable, trip, today) {
  const short = Math.max(0, thousandths(line.minimum) - thousandths(usable));
  const pack = thousandths(line.pack ?? 1);
  const buy = (Math.ceil(short / pack) * pack) / THOUSAND;
  return { ...line, ...stateOf(line, short, trip.departs_on, trip.ready_days, today), redone: true,
    usable, short: short / THOUSAND, buy, cost: costOf(line, buy) };
}

/**
 * Redo a list.
 * @param {object} restock the kept answer, `where` of each line as it was then
 * @param {{kind: string, body: object}[]} moves what was recorded since, oldest first
 * @param {string} today ISO
 * @returns {object} the same answer with usable, short, buy, cost and state of now
 */
export function withCountsOfNow(restock, moves, today) {
  const { trip } = restock;
  return { ...restock, lines: restock.lines.map((line) => {
    const own = moves.filter(({ body }) => body.part === line.part);
    if (!own.length) return line;
    const places = placesOf(line);
    const change = own.reduce((sum, { kind, body }) => sum + changeBy(places, kind, body), 0);
    return lineNow(line, (thousandths(line.usable) + change) / THOUSAND, trip, today);
  }) };
}
