/**
 * What sits where today by this phone's copy, and which parts fit nothing any more.
 * Mirrors part of spares/domain/tree.py.
 */

import { kindOf } from "./log-index.js";

/** Proofs from the strongest on. */
const PROOFS = ["makers-list", "measured", "fitted-before", "candidate", "hearsay", ""];

const sortKey = ({ date = "", at }) => `${date} ${at}`;

/** Order documents as the boat's computer lists them: by number, then by id. */
export const byNumber = (one, other) => {
  const [a, b] = [one, other].map(({ no, ref }) => `${no ?? ""}\u001f${ref}`);
  return a < b ? -1 : Number(a > b);
};

/** Give what was fitted at a point, oldest first: {change, part, date, at}; part "" is nothing. */
export function fittedAt(aboard, point) {
  return aboard.exchangesAt(point).map(({ id, at, body }) =>
    ({ change: id, part: body.part && aboard.keptName(body.part), date: body.date ?? "", at }))
    .sort((one, other) => (sortKey(one) < sortKey(other) ? -1 : Number(sortKey(one) > sortKey(other))));
}

/** Give what sits at a point, or null if nobody knows or nothing does. */
export function fittedNow(aboard, point) {
  const last = fittedAt(aboard, point).at(-1);
  return last?.part ? last : null;
}

/** Say whether a fit point exists as the vessel is fitted today. */
export function isLive(aboard, point) {
  const seen = new Set();
  let one = point;
  while (one?.parent) {
    if (seen.has(one.ref)) return false;
    seen.add(one.ref);
    const now = fittedNow(aboard, one.parent);
    if (!now || now.part !== aboard.keptName(one.as_part)) return false;
    one = aboard.get(one.parent);
  }
  return Boolean(one);
}

/** Give the day on which the part that has this point was taken out; null while live, "" not known. */
export function retiredOn(aboard, point) {
  if (isLive(aboard, point)) return null;
  const history = fittedAt(aboard, point.parent);
  const held = history.findLastIndex((one) => one.part === aboard.keptName(point.as_part));
  if (held >= 0 && history[held + 1]) return history[held + 1].date;
  const parent = aboard.get(point.parent);
  return (parent && retiredOn(aboard, parent)) || "";
}

/** Give the fit points that take a part, live or not; where it was tried and did not fit is none. */
function pointsTaking(aboard, links, points) {
  const takes = links.filter((link) => link.role === "takes" && link.to);
  const speaksOf = (link) => points.filter((point) => link.to === point.ref
    || (kindOf(link.to) === "inner" && point.template === link.to));
  const tried = new Set(takes.filter((link) => link.proof === "tried-no").flatMap(speaksOf));
  return [...new Set(takes.filter((link) => link.proof !== "tried-no").flatMap(speaksOf))]
    .filter((point) => !tried.has(point));
}

/**
 * List parts that sit only at fit points which are not there today.
 * @returns {{part, point: object|null, of: string, taken_out: string}[]} documents by what people call them
 */
export function strandedParts(aboard) {
  const points = aboard.all("point").sort(byNumber);
  const live = new Set(points.filter((point) => isLive(aboard, point)));
  return aboard.all("part").filter((part) => aboard.keptName(part.ref) === part.ref).sort(byNumber).flatMap((part) => {
    const links = aboard.linksOf(part.ref).filter((link) => PROOFS.includes(link.proof ?? "") || link.proof === "tried-no");
    const taking = pointsTaking(aboard, links, points);
    const ends = links.filter((link) => link.role === "takes" && link.proof !== "tried-no" && link.to
      && kindOf(link.to) === "inner").map((link) => aboard.get(link.to)).filter(Boolean);
    if (!(taking.length || ends.length) || taking.some((point) => live.has(point))) return [];
    const point = taking[0] ?? null;
    return [{ part, point, of: point ? point.as_part ?? "" : ends[0].part,
      taken_out: point ? retiredOn(aboard, point) ?? "" : "" }];
  });
}

/** Give the names of stranded parts: none of their pieces counts as usable. */
export const strandedRefs = (aboard) => new Set(strandedParts(aboard).map((one) => one.part.ref));

/** Give the parts, as documents, that would fit nothing if `part` were fitted at `point`. */
export function strandedBy(aboard, point, part) {
  const after = { id: "", at: "~", body: { part, date: "9999-12-31" } };
  const then = { ...aboard, exchangesAt: (at) => (at === point ? [...aboard.exchangesAt(at), after] : aboard.exchangesAt(at)) };
  const now = strandedRefs(aboard);
  return strandedParts(then).map((one) => one.part).filter((one) => !now.has(one.ref));
}
