/** A candidate on the measuring sheet: one in the hand, or a part of the catalogue, and its verdict. */

import { judge } from "../fit-copy.js";
import { useDraft, useLoad, useSettled } from "../load.js";
import { useEffect, useRef } from "../vendor/hooks.js";
import { offersFrom } from "./sheet.js";

const TYPING_WAIT_MS = 400;

/** Name the fault of each field that the check could not read. */
export function faultsOf(error) {
  const faults = {};
  for (const one of error?.errors ?? []) {
    const named = /^#\/offers\/([^/]+)/.exec(one.pointer ?? "");
    if (named) faults[decodeURIComponent(named[1])] = one.detail;
  }
  return faults;
}

/** Judge with the fields that cannot be read left open, so that no older verdict stands for them. */
async function judgeReadable(ask) {
  try {
    return await judge(ask);
  } catch (error) {
    const faults = faultsOf(error);
    if (!Object.keys(faults).length) throw error;
    const open = Object.fromEntries(Object.keys(faults).map((attr) => [attr, null]));
    return { ...await judge({ ...ask, offers: { ...ask.offers, ...open } }), faults };
  }
}

/** What was typed is kept by place and part, so that no number passes from one part to another. */
function draftKey(point, prefix, part) {
  return `measure.${point}${part ? ` with ${part}` : prefix && ` ${prefix}`}`;
}

/**
 * Judge a candidate after each number.
 * @param {string} point
 * @param {{prefix: string, name: string, part: string|null}} who `part` null is not there at all,
 *   "" is in the hand
 */
export function useCandidate(point, { prefix, name, part }) {
  const draft = useDraft(draftKey(point, prefix, part), {});
  const offers = offersFrom(draft.values);
  const typed = useSettled(JSON.stringify(offers), TYPING_WAIT_MS, false);
  const load = useLoad(part === null ? null : `fit ${point} ${part} ${typed}`, () => judgeReadable({ point,
    ...(part && { part }), offers: JSON.parse(typed) }));
  const last = useRef({ of: null, answer: null });
  const of = `${point} ${part}`;
  useEffect(() => { if (load.data) last.current = { of, answer: load.data }; }, [load.data, of]);
  const kept = last.current.of === of && !load.error ? last.current.answer : null;
  return { prefix, name, part, draft, offers, load, answer: load.data ?? kept,
    faults: load.data?.faults ?? faultsOf(load.error) };
}
