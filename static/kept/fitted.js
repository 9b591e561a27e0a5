/** What sits where today by this phone's copy. Mirrors part of spares/domain/tree.py. */

const sortKey = ({ date = "", at }) => `${date} ${at}`;

/** Order documents as the boat's computer lists them: by number, then by id. */
export const byNumber = (one, other) => {
  const [a, b] = [one, other].map(({ no, ref }) => `${no ?? ""}\u001f${ref}`);
  return a < b ? -1 : Number(a > b);
};

/** Give what sits at a point {part, date, change}, or null if nobody knows or nothing does. */
export function fittedNow(aboard, point) {
  const history = aboard.exchangesAt(point).map(({ id, at, body }) =>
    ({ change: id, part: aboard.keptName(body.part), date: body.date ?? "", at }));
  const last = history.reduce((late, one) => (!late || sortKey(one) >= sortKey(late) ? one : late), null);
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
