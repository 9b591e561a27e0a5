/** Long pages and lists are drawn from the top, some at a time, so that a touch between them is answered. */

import { painted } from "../painted.js";
import { useEffect, useMemo, useState } from "../vendor/hooks.js";
import { html } from "./html.js";

/** So many lines fill a phone's screen; so many more are drawn before a touch has its turn. */
const [FIRST, MORE] = [4, 4];

/** Give how many of `length` things are to be drawn by now: the first, and some more after each painting. */
function useTurns(length, first, more) {
  const [shown, setShown] = useState(first);
  useEffect(() => {
    if (shown >= length) return undefined;
    let current = true;
    painted().then(() => current && setShown(shown + more));
    return () => { current = false; };
  }, [shown, length]);
  return Math.min(shown, length);
}

/** A list, or another element `as`, whose lines are drawn in turn; `line` makes one, its key with it. */
export function Lines({ of, line, as = "ul", class: name = "lines" }) {
  const shown = useTurns(of.length, FIRST, MORE);
  const made = useMemo(() => [], [of, line]);       // what stands there already is not looked at again
  while (made.length < shown) made.push(line(of[made.length]));
  return html`<${as} class=${name}>${made.slice(0, shown)}<//>`;
}

/** Sections of a page, drawn one after the other; one that is not there takes no turn. */
export function InTurn({ children }) {
  const all = [children].flat();
  let turns = useTurns(all.filter(Boolean).length, 1, 1);
  return all.map((one) => (one && turns-- > 0 ? one : null));
}

/** What is folded away is drawn when it is opened; `children` makes it. */
export function Fold({ summary, children }) {
  const [opened, setOpened] = useState(false);
  return html`<details onToggle=${(event) => event.currentTarget.open && setOpened(true)}>
    <summary>${summary}</summary>${opened && children()}</details>`;
}
