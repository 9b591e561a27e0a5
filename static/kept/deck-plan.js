/** The deck plan, and fit points marked on photos, by this phone's copy. Mirrors spares/actions/deck_plan.py. */

import { placedBy } from "../domain/deck_plan.js";
import { bagsOf } from "./bags.js";

const byText = (text) => (one, other) => (text(one) < text(other) ? -1 : Number(text(one) > text(other)));

function deckOf(aboard, deck, lines) {
  return { doc: deck.ref, no: deck.no ?? null, name: deck.name ?? null, position: deck.position ?? 0,
    lines: lines.filter((one) => one.deck === deck.ref).sort(byText((one) => one.ref))
      .map(({ ref, corners, closed }) => ({ doc: ref, corners, closed: Boolean(closed) })) };
}

/** Give the plan of each deck, and for each locker where it is found on one of them. */
export function planOf(aboard) {
  const decks = aboard.all("deck").sort((one, other) => (one.position ?? 0) - (other.position ?? 0)
    || byText(({ name, ref }) => `${name ?? ""} ${ref}`)(one, other));
  const lines = aboard.all("deck-line");
  const there = new Set(decks.map((one) => one.ref));
  const lockers = aboard.all("locker");
  const parents = new Map(lockers.map((one) => [one.ref, one.parent]));
  const places = new Map(aboard.all("deck-place").filter((one) => there.has(one.deck)).map((one) => [one.locker, one]));
  const bags = bagsOf(aboard);
  const byOf = (one) => placedBy(one.ref, parents, places);
  // a job's bag is asked for no place
  const found = lockers.filter((one) => byOf(one) || !bags.has(one.ref)).map((one) => {
    const by = byOf(one);
    const { ref, deck, x, y } = places.get(by) ?? {};
    return { doc: one.ref, locker: one.no ?? null, name: one.name ?? null, code: one.code ?? null, aboard: one.aboard !== false,
      place: by && { doc: ref, deck, x, y, of: by === one.ref ? null : aboard.get(by)?.no ?? null } };
  });
  const numbers = new Set(decks.map((one) => one.no));
  return { decks: decks.map((deck) => deckOf(aboard, deck, lines)),
    taken_out: aboard.everNumbered("deck").filter((no) => !numbers.has(no)).sort(byText((no) => no)),
    lockers: found.sort(byText(({ locker, doc }) => `${locker ?? ""} ${doc}`)) };
}

/** Give the fit points that are marked on a photo, by their number. */
export function marksOf(aboard, photo) {
  return aboard.all("photo-mark").filter((one) => one.photo === photo).flatMap((one) => {
    const point = aboard.get(one.point);
    return point ? [{ doc: one.ref, point: point.no ?? null, name: point.name ?? null, x: one.x, y: one.y }] : [];
  }).sort(byText(({ point, doc }) => `${point ?? ""} ${doc}`));
}

/** Give the photos, by their hash, on which a fit point is marked. */
export const photosMarked = (aboard, point) =>
  new Set(aboard.all("photo-mark").filter((one) => one.point === point).map((one) => one.photo));

/** Put the marks of now on the photos of an answer; *marked_on* are those of other things by this phone's copy. */
export function withMarks(answer, aboard, marked_on) {
  const known = new Map((answer.marked_on ?? []).map((photo) => [photo.change, photo]));
  return { ...answer, photos: answer.photos.map((photo) => ({ ...photo, marks: marksOf(aboard, photo.sha256) })),
    marked_on: marked_on.map((photo) => ({ ...photo, ...known.get(photo.change), marks: photo.marks })) };
}
