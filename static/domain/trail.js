/**
 * Trail of a broken piece: what is missing and found, and whether the machine may run. Mirrors
 * spares/domain/trail.py. A trail is {missing, looks, accepted, gone, disputed}: of the first
 * three every value that still stands, where phones that were apart wrote different ones.
 */

export const [OPEN, FOUND, ACCEPTED] = ["open", "found", "accepted"];

/** How many pieces a look found; 0 where nobody looked [pieces]. */
export const foundIn = (look) => look?.found ?? 0;

/** Count what is missing and found; of differing numbers the worse holds. null: nobody knows. */
export function gap({ missing, looks }) {
  const known = missing.every((one) => one !== null) && missing.length > 0;
  const found = looks.reduce((sum, some) => sum + Math.min(...some.map(foundIn)), 0);
  const most = known ? Math.max(...missing) : null;
  return { missing: most, found, left: most === null ? null : most - found };
}

/** Give every number of pieces that may be left, as the phones that differ have it. */
export function lefts({ missing, looks }) {
  let sums = new Set([0]);
  for (const some of looks) {
    sums = new Set([...sums].flatMap((sum) => some.map((look) => sum + foundIn(look))));
  }
  return new Set((missing.length ? missing : [null]).flatMap((one) => [...sums].map((sum) => (one === null ? null : one - sum))));
}

/** Say whether what somebody accepted, with name and reason, covers what is left. */
export function covers(accepted, left) {
  if (!accepted?.by || !accepted.why) return false;
  const pieces = accepted.pieces ?? null;
  if (left === null || pieces === null) return left === null && pieces === null;
  return left > 0 && left <= pieces;
}

/** Say how a trail stands; where phones differ it is closed only if each would have it closed. */
export function stateOf(said) {
  if (said.disputed.length) return OPEN;
  const left = lefts(said);
  if (left.size === 1 && left.has(0)) return FOUND;
  const some = [...left].filter((one) => one !== 0);
  const isCovered = said.accepted.length > 0 && said.accepted.every((one) => some.every((each) => covers(one, each)));
  return isCovered ? ACCEPTED : OPEN;
}

/** Give the first place in flow order where nobody looked, or -1. */
export const nextPlace = ({ looks }) => looks.findIndex((some) => some.some((look) => look === null));

/** Say whether the trail keeps its machine stopped. */
export const isOpen = (said) => !said.gone && stateOf(said) === OPEN;
