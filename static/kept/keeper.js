/**
 * Keeps one vessel on this phone: her log's copy, and what was made here until it is in the log.
 * All tabs share both on the disk; one of them at a time exchanges with the boat's computer.
 */

import { SparesError, newId } from "../api.js";
import { askAboutAllHeld, putIn, waitingInOrder } from "../sync/box.js";
import { entriesOf, entryOf, known, newCopy, unsentEntries } from "../sync/copy.js";
import { MOST_BYTES, takeAnswer, takeIntoCopy, writeRequest } from "../sync/exchange.js";
import { makePace } from "../sync/pace.js";
import { indexOf, openAboard } from "./aboard.js";
import { openBox } from "./box-store.js";
import { cursorOnDisk, loadCopy, saveCopy, wipeCopy } from "./copy-store.js";
import { addEntry } from "./log-index.js";
import { forgetPhotos, holdRoom } from "./open.js";

const MOST_ROUNDS = 2000;
/** A request over a poor net is never made smaller than this [bytes]. */
const LEAST_BYTES = 20_000;
const fresh = () => newId().replaceAll("-", "");

/** @param {{vessel, mark, dev, ask: function, told: function, now?: function}} given `ask` posts a request
 *  and gives the answer or throws; `told` hears after each change of what is kept */
export async function openKeeper({ vessel, mark, dev, ask, told, now = Date.now }) {
  const self = { vessel, dev, inst: fresh() };
  const other = globalThis.BroadcastChannel ? new BroadcastChannel(`spares ${vessel}`) : null;
  let copy = await loadCopy(vessel);
  const box = openBox(self);
  let looked = await box.look();
  let aboard = null;
  const fresher = new Set();

  const pace = makePace(MOST_BYTES, LEAST_BYTES);
  let arranged = { of: null, epochs: "", index: null };

  /** Arrange the rows; those that came since are added, another copy is arranged anew. */
  const arrange = () => {
    const epochs = JSON.stringify(copy.epochs);
    if (arranged.of !== copy.rows || arranged.epochs !== epochs) {
      arranged = { of: copy.rows, epochs, index: indexOf(entriesOf(copy)) };
      fresher.clear();
      return;
    }
    for (const id of fresher) addEntry(arranged.index, entryOf(copy, id));
    fresher.clear();
  };

  const show = (inside) => {
    looked = inside;
    aboard = null;
    told();
  };
  const look = async () => show(await box.look());
  const inBox = async (work, texts) => {
    const found = await box.change(work, texts);
    show(box.latest());     // not read again: where that failed, a change that is on the disk would be told as lost
    other?.postMessage("box");
    return found;
  };
  if (other) {
    other.onmessage = async () => {
      while (await cursorOnDisk(vessel) !== copy.cursor) {
        const { cursor } = copy;
        const found = await loadCopy(vessel);
        if (copy.cursor === cursor) copy = found;       // else this tab has pulled meanwhile
      }
      await look();
    };
  }

  /**
   * Put drafts {id, kind, body} in, all of them or none; they are on the disk when this returns. An act that
   * is there, though its end was not heard, is not put in twice: with another time it would be refused.
   */
  const record = (drafts, text) => inBox((inside) => {
    const waits = new Set([...inside.waiting.values()].map(({ id }) => id));
    const isThere = (id) => waits.has(id) || inside.held.has(id) || copy.rows.has(id);
    return drafts.filter(({ id, body }) => !isThere(id) && !isThere(body.batch))
      .map((draft) => putIn(inside, draft, known(copy), now()));
  }, Object.fromEntries(drafts.map((draft) => [draft.id, text])));

  /** Ask; what did not come through is halved, or a poor net would never let anything pass. */
  async function asked(request) {
    try {
      const answer = await ask(request);
      pace.passed();
      return answer;
    } catch (error) {
      if (error.code === "no-answer") pace.failed();
      throw error;
    }
  }

  async function round(isFetching) {
    if (await cursorOnDisk(vessel) !== copy.cursor && !copy.rebuilt) copy = await loadCopy(vessel);
    const request = await box.change((inside) => writeRequest(inside, copy, vessel, now(), pace.size()));
    if (!isFetching && !copy.rebuilt) request.want = 1;
    const answer = await asked(request);
    if (!answer.stop) {
      try {
        takeIntoCopy(copy, request, answer);
        for (const id of copy.touched.kept) fresher.add(id);
        if (!copy.rebuilt) await saveCopy(vessel, copy);
      } catch (error) {
        copy = await loadCopy(vessel);      // what is not on the disk was not taken
        throw error;
      }
    }
    return inBox((inside) => takeAnswer(inside, copy, request, answer, fresh));
  }

  async function exchange(goesOn, fetches) {
    for (let rounds = 0; rounds < MOST_ROUNDS; rounds += 1) {
      if (!await round(fetches())) return;
      if (!goesOn()) throw new SparesError("put-off");
    }
    throw new SparesError("busy");      // not in step yet: it is gone on with later
  }

  await holdRoom(vessel);
  return {
    vessel,
    mark,
    record,
    /**
     * Exchange until both have everything, or `goesOn` says no; another tab that is at it is waited for.
     * While `fetches` says no, as little as may be is asked for with what is sent.
     */
    sync: (goesOn = () => true, fetches = () => true) => {
      const work = () => exchange(goesOn, fetches);
      return navigator.locks ? navigator.locks.request(`spares ${vessel}`, work) : work();
    },
    /** Make a refused change anew, as it was, under a new id: what stood in its way may be gone. */
    again: (id) => {
      const anew = newId();
      const text = looked.texts.get(id);
      // In one transaction: another tab, or a second tap, must not make it twice.
      return inBox((inside) => {
        const refused = inside.refused.get(id)?.change;
        if (refused) putIn(inside, { id: anew, kind: refused.kind, body: refused.body }, known(copy), now());
        inside.refused.delete(id);
      }, text ? { [anew]: text } : {});
    },
    /** Ask what became of all that waits for the skipper. */
    askAboutHeld: () => inBox(askAboutAllHeld),
    /** Give up what the server refused. */
    giveUp: (id) => inBox((inside) => inside.refused.delete(id)),
    wipe: async () => {
      await wipeCopy(vessel);
      await forgetPhotos(vessel);
      copy = newCopy();
      await look();
    },
    /** What waits, is held, was refused: {id, kind, body, text, as, code?, say?}, oldest first. */
    listed: () => listed(looked),
    seen: () => copy.seen,
    isWhole: () => copy.cursor !== null && looked.box.off_prev !== null,
    waiting: () => waitingInOrder(looked.box),
    /** The same as a file that another phone can bring: {vessel, dev, now, ops}. */
    unsentFile: () => ({ vessel, dev: looked.box.dev, now: now(), ops: waitingInOrder(looked.box) }),
    /** What lies aboard by this copy, with what waits. */
    aboard: () => {
      arrange();
      aboard ??= openAboard(arranged.index, unsentEntries(copy, looked.box, waitingInOrder(looked.box)));
      return aboard;
    },
    close: () => other?.close(),
  };
}

function listed({ box, texts }) {
  const named = (change, as, more = {}) =>
    ({ id: change.id, t: change.t, kind: change.kind, body: change.body, text: texts.get(change.id) ?? { path: "", body: change.body, text: change.kind }, as, ...more });
  return [
    ...waitingInOrder(box).map((change) => named(change, "waiting")),
    ...[...box.held.values()].map((change) => named(change, "held")),
    ...[...box.refused.values()].map(({ change, code, say }) => named(change, "refused", { code, say })),
  ];
}
