/**
 * A loan between two vessels: another's slip is taken in, borrowed pieces go back. Mirrors
 * spares/actions/lending.py. A slip must have been read (`domain/slip.js`) before it comes here.
 */

import { InvalidInput } from "../../domain/errors.js";
import { joinedId } from "../../domain/named_id.js";
import { fold, numberKey } from "../../domain/search_text.js";
import { quantityOf } from "../../domain/slip.js";
import { MARK, lotsOf, lyingOf, movesOf } from "../loans.js";
import { cutUp } from "./lots.js";
import { thousandths } from "./moving.js";
import { newPart } from "./naming.js";
import { asOneAct, setting, told } from "./setting.js";

const THOUSAND = 1000;

/** Another vessel's slip: a loan is stowed in a locker, a return goes home. One known already makes nothing. */
export function slipIn(asked) {
  const { aboard, body: { slip } } = asked;
  if (slip.kind === "return") return takeBack(asked);
  if (slip.lender.id === aboard.vessel()) {
    throw InvalidInput.at("#/slip/lender", "this is her own slip; it is for the borrower");
  }
  return borrow(asked);
}

function borrow({ aboard, body: { slip, locker }, dev }) {
  const { id } = actOfSlip(aboard, "borrowed", slip.loan);
  const names = slip.lines.map((_, at) => `lot/${joinedId("lot", slip.loan, String(at))}`);
  // Made anew after a refusal it bears another id: its pieces lie in the slip's lots.
  if (aboard.live().some(({ kind, body }) => kind === "put" && names.includes(body.lot))) return [];
  if (!locker) throw InvalidInput.at("#/locker", "say where the pieces are stowed");
  const place = aboard.named(locker, "locker");
  const { part, begun } = partFor(aboard, slip.part, dev);
  if (!place || !part) return null;
  const note = `Borrowed from ${slip.lender.name || slip.lender.mark || "another vessel"}, ${slip.on}`;
  const lots = slip.lines.map((line, at) => setting(aboard, names[at], told({
    part, condition: line.condition || "new", batch: MARK + slip.loan, note, expires: line.expires || null })));
  const bodies = slip.lines.map(({ q }, at) => ({ part, locker: place.ref, lot: names[at], q, note }));
  return asOneAct([...begun, ...lots, ...cutUp("put", id, bodies)], id);
}

/** Find the part of a slip by maker and number, else by its name; or begin it. */
function partFor(aboard, said, dev) {
  const wanted = keyOf(said.maker, said.number);
  const numbered = new Set(wanted ? aboard.all("number").filter((one) => keyOf(one.maker, one.number) === wanted)
    .map((one) => one.part) : []);
  const found = aboard.all("part").find((one) => {
    const isSame = wanted ? keyOf(one.maker, one.number) === wanted || numbered.has(one.ref)
      : !one.number && fold(one.name ?? "") === fold(said.name);
    return isSame && (one.unit || "pcs") === (said.unit || "pcs");
  });
  if (found) return { part: found.ref, begun: [] };
  const fields = Object.fromEntries(Object.entries(said).filter(([, value]) => value));
  const begun = newPart({ aboard, body: { fields }, dev });
  return { part: begun?.[0].body.doc, begun };
}

const keyOf = (maker, number) => (number ? `${fold(maker ?? "")}\u001f${numberKey(number)}` : null);

function takeBack({ aboard, body: { slip, locker } }) {
  const out = movesOf(aboard, slip.loan);
  const lent = out.reduce((sum, { q }) => sum + q, 0);
  const total = quantityOf(slip);
  if (!out.length || total > lent) {
    throw InvalidInput.at("#/slip/loan", out.length ? `only ${lent / THOUSAND} were lent under this loan`
      : "she lent nothing under this loan");
  }
  const { part, to: place } = out[0];
  let came = aboard.live().filter(({ kind, body }) => kind === "moved" && body.from === place && body.note === MARK + slip.loan)
    .reduce((sum, { body }) => sum + body.q, 0);
  const home = locker ? aboard.named(locker, "locker") : null;
  const drafts = [];
  let upTo = 0;
  let act = null;
  for (const line of slip.lines) {
    upTo += line.q;
    act = actOfSlip(aboard, "back", slip.loan, String(upTo));
    if (!act.isThere && upTo > came) {
      drafts.push(...cutUp("moved", act.id, next(out, came, upTo).map(([body, q]) =>
        ({ part, from: place, to: home?.ref ?? body.from, lot: body.lot, q, note: MARK + slip.loan }))));
    }
    came = Math.max(came, upTo);
  }
  if (act.isThere || !drafts.length) return [];
  return locker && !home ? null : asOneAct(drafts, act.id);
}

/**
 * Name the act by which a loan came here, or so much of it is back, and say whether it stands. Of two slips that are
 * taken in on two devices, what both tell of is done once; what was undone is done anew under a further name.
 */
function actOfSlip(aboard, kind, ...names) {
  for (let again = 0; ; again++) {
    const id = joinedId(kind, ...names, ...(again ? [String(again)] : []));
    const isThere = aboard.entries().some((entry) => entry.id === id);
    if (!isThere || aboard.live().some((entry) => entry.id === id)) return { id, isThere };
  }
}

/** Part what comes back now among the lots that went out, in their order. */
function next(out, came, total) {
  const found = [];
  let first = 0;
  for (const body of out) {
    const share = Math.min(total, first + body.q) - Math.max(came, first);
    if (share > 0) found.push([body, share]);
    first += body.q;
  }
  return found;
}

/** Borrowed pieces went back: all that are left of the loan, or so many. */
export function giveBack({ aboard, body: { loan, quantity }, id }) {
  const lots = lotsOf(aboard, loan);
  if (!lots.length) return null;
  const part = aboard.keptName(lots[0].part);
  const lying = lyingOf(aboard, lots).filter((cell) => cell.quantity > 0);
  const left = lying.reduce((sum, cell) => sum + cell.quantity, 0);
  const q = quantity === undefined || quantity === null ? left : thousandths(quantity);
  if (q <= 0 || q > left) throw InvalidInput.at("#/quantity", `${left / THOUSAND} of it are left here`);
  const bodies = [];
  let still = q;
  for (const cell of lying) {
    const share = Math.min(cell.quantity, still);
    if (share) bodies.push({ part, locker: cell.locker, lot: cell.lot, q: share, note: MARK + loan });
    still -= share;
  }
  return cutUp("landed", id, bodies);
}
