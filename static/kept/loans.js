/** What is lent to other vessels and borrowed from them, by this phone's copy. Mirrors spares/actions/loans.py. */

import { SparesError } from "../api.js";
import { asLines, sealed } from "../domain/slip.js";
import { grouped } from "./aboard.js";

/** How lots and movements of a loan say which. */
export const MARK = "loan ";
const BORROWED = "Borrowed from ";
const THOUSAND = 1000;
const DAY = 10;

const dayOf = (at) => new Date(parseInt(at.slice(0, 12), 16)).toISOString().slice(0, DAY);
export const loanOf = (note) => (note?.startsWith(MARK) ? note.slice(MARK.length) : null);

/** Name a part as people do. */
export function labelOf(aboard, part) {
  const record = aboard.get(part);
  return record?.no ?? record?.name ?? part;
}

/** Give the lots that were borrowed under a loan. */
export const lotsOf = (aboard, loan) => aboard.all("lot").filter((lot) => lot.batch === MARK + loan);

/** List what was lent to others and borrowed from them, and how much of it went back. */
export function loansOf(aboard) {
  const lent = lentOf(aboard);
  const lots = grouped(aboard.all("lot").filter((lot) => loanOf(lot.batch)), (lot) => loanOf(lot.batch));
  const borrowed = [...lots].map(([loan, own]) => borrowedLine(aboard, loan, own)).filter((line) => line.q);
  return { lent: lent.map(shown), borrowed: borrowed.map(shown) };
}

/** What was moved back by hand, without a slip, is of the loan of that place made first that is still out. */
function lentOf(aboard) {
  const places = new Map(aboard.all("locker").filter((one) => one.lent_to).map((one) => [one.ref, one.lent_to]));
  const [lent, cells, bySlip, byHand] = [new Map(), new Map(), new Map(), new Map()];
  const add = (sums, key, q) => sums.set(key, (sums.get(key) ?? 0) + q);
  for (const { id, kind, at, body } of aboard.live()) {
    if (kind !== "moved") continue;
    const [loan, part] = [body.batch ?? id, aboard.keptName(body.part)];
    if (places.has(body.to)) {
      if (!lent.has(loan)) lent.set(loan, { loan, who: places.get(body.to), on: dayOf(at), back_by: body.back_by ?? null,
        ...head(aboard, part), q: 0 });
      lent.get(loan).q += body.q;
      cells.set(loan, `${body.to} ${part}`);
    } else if (places.has(body.from)) {
      if (loanOf(body.note)) add(bySlip, loanOf(body.note), body.q);
      else add(byHand, `${body.from} ${part}`, body.q);
    }
  }
  return [...lent.values()].map((line) => {
    const [cell, came] = [cells.get(line.loan), bySlip.get(line.loan) ?? 0];
    const share = Math.max(0, Math.min(byHand.get(cell) ?? 0, line.q - came));
    add(byHand, cell, -share);
    return { ...line, back_q: came + share };
  });
}

/** Write the slip of a loan: what was lent, or at the borrower's what went back so far. */
export async function slipOf(aboard, loan, today) {
  const lots = lotsOf(aboard, loan);
  if (lots.length) return returnSlip(aboard, loan, lots, today);
  const moves = movesOf(aboard, loan);
  const place = moves.length ? aboard.get(moves[0].to) : null;
  if (!place?.lent_to) throw new SparesError("not-found", "no such loan is recorded here");
  const lender = { id: aboard.vessel(), ...headOf(aboard) };
  return sealed("loan", loan, lender, place.lent_to, today, partFacts(aboard, moves[0].part),
    moves.map(({ q, lot }) => ({ q, ...lotFacts(aboard, lot) })));
}

/** Give what the movements of an act say, those out to its borrower. */
export const movesOf = (aboard, loan) => aboard.live()
  .filter(({ id, kind, body }) => kind === "moved" && (body.batch ?? id) === loan).map(({ body }) => body);

/** Give what went back of a loan from here, each movement for itself, in the order of their stamps, in thousandths. */
const given = (aboard, loan, lots) => aboard.live()
  .filter(({ kind, body }) => kind === "landed" && body.note === MARK + loan && lots.some((lot) => lot.ref === body.lot))
  .sort((one, other) => (one.at < other.at ? -1 : Number(one.at > other.at))).map(({ body }) => body.q);

const total = (some) => some.reduce((all, q) => all + q, 0);

/** Say how much of a loan was given back from here, in thousandths. */
export const givenBack = (aboard, loan, lots) => total(given(aboard, loan, lots));

/** Give the cells in which borrowed pieces of these lots lie, in the order of their places. */
export const lyingOf = (aboard, lots) => aboard.cellsOf(aboard.keptName(lots[0].part))
  .filter((cell) => lots.some((lot) => lot.ref === cell.lot));

function returnSlip(aboard, loan, lots, today) {
  const back = given(aboard, loan, lots);
  if (!back.length) throw new SparesError("not-found", "nothing of it was given back yet");
  const { mark, name } = headOf(aboard);
  return sealed("return", loan, {}, name ?? mark ?? "", today, partFacts(aboard, lots[0].part),
    asLines(back).map((q) => ({ q })));
}

function borrowedLine(aboard, loan, lots) {
  const told = (lots[0].note ?? "").replace(BORROWED, "");
  const end = told.lastIndexOf(", ");
  const back_q = givenBack(aboard, loan, lots);
  const there = lyingOf(aboard, lots).reduce((sum, cell) => sum + cell.quantity, 0);
  return { loan, who: end < 0 ? "" : told.slice(0, end), on: told.slice(end < 0 ? 0 : end + 2),
    back_by: null, ...head(aboard, lots[0].part), q: there + back_q, back_q };
}

const shown = ({ q, back_q, ...line }) => ({ ...line, quantity: q / THOUSAND, back: back_q / THOUSAND });

const head = (aboard, part) => ({ part: labelOf(aboard, aboard.keptName(part)), name: aboard.get(aboard.keptName(part))?.name ?? null });

function headOf(aboard) {
  const { mark = null, name = null } = aboard.get(`vessel/${aboard.vessel()}`) ?? {};
  return { mark, name };
}

function partFacts(aboard, part) {
  const { name, maker, number, kind, unit } = aboard.get(aboard.keptName(part)) ?? {};
  return { name: name || labelOf(aboard, part), maker, number, kind, unit };
}

function lotFacts(aboard, lot) {
  const { condition, expires } = (lot && aboard.get(lot)) || {};
  return { condition, expires };
}
