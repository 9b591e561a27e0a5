/** Hooks that load answers, wait a little, and keep what is half typed. */

import { getJson } from "./api.js";
import { forget, keep, recall } from "./phone-store.js";
import { revision, vessel } from "./state.js";
import { useEffect, useRef, useState } from "./vendor/hooks.js";

const KEPT_ANSWERS = 60;
const answers = new Map();

function remember(key, data) {
  answers.delete(key);
  answers.set(key, data);
  if (answers.size > KEPT_ANSWERS) answers.delete(answers.keys().next().value);
}

/**
 * Load an answer and load it again after every recorded change; a null path loads nothing.
 * While it loads, the last answer to the same question stands.
 * @returns {{data: object|null, error: Error|null, slow: boolean, again: function}}
 */
export function useLoad(path, ask = getJson) {
  const key = path && `${vessel.value ?? ""} ${path}`;
  const [state, setState] = useState({ key: null, data: null, error: null });
  const [slow, setSlow] = useState(false);
  const [round, setRound] = useState(0);
  const version = revision.value;
  useEffect(() => {
    if (!path) return undefined;
    let current = true;
    const timer = setTimeout(() => current && setSlow(true), 1000);
    const settle = (data, error) => {
      clearTimeout(timer);
      if (!current) return;
      if (data) remember(key, data);
      setSlow(false);
      setState({ key, data: data ?? answers.get(key) ?? null, error });
    };
    ask(path).then((data) => settle(data, null), (error) => settle(null, error));
    return () => { current = false; clearTimeout(timer); setSlow(false); };
  }, [key, version, round]);
  const fresh = state.key === key;
  return {
    data: fresh && state.data ? state.data : (path && answers.get(key)) ?? null,
    error: fresh ? state.error : null,
    slow,
    again: () => setRound(round + 1),
  };
}

/** Several loads as one, whose data is theirs in order: there once all are, or why it is not. */
export const together = (...loads) => ({
  data: loads.every(({ data }) => data) ? loads.map(({ data }) => data) : null,
  error: loads.find(({ error }) => error)?.error ?? null,
  slow: loads.some(({ slow }) => slow),
  again: () => loads.forEach((one) => one.again()),
});

/** Give a text a little later than it is typed; `at_once` skips the wait. */
export function useSettled(text, wait_ms, at_once) {
  const [settled, setSettled] = useState(text);
  useEffect(() => {
    if (at_once) { setSettled(text); return undefined; }
    const timer = setTimeout(() => setSettled(text), wait_ms);
    return () => clearTimeout(timer);
  }, [text, at_once]);
  return at_once ? text : settled;
}

/** Name what is half typed in a form: things of two vessels bear the same numbers. */
export const draftName = (key, of = vessel.peek()) => `draft.${of ? `${of} ` : ""}${key}`;

/**
 * Keep a form's half-typed fields on the phone under a key until `clear` is called.
 * `restored` tells that they come from an earlier visit.
 */
export function useDraft(key, initial) {
  const first = useRef(null);
  const name = draftName(key);
  if (first.current?.name !== name) {
    const kept = recall(name);
    first.current = { name, values: { ...initial, ...kept }, restored: kept !== null };
  }
  const [, redraw] = useState(0);
  const set = (facts) => {
    first.current.values = { ...first.current.values, ...facts };
    keep(first.current.name, first.current.values);
    redraw((count) => count + 1);
  };
  const clear = () => {
    forget(name);
    first.current = { name, values: { ...initial }, restored: false };
    redraw((count) => count + 1);
  };
  return { values: first.current.values, restored: first.current.restored, set, clear };
}
