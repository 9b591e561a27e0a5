/** Long pages and lists are drawn from the top, some at a time, so that a touch between them is answered. */

import { painted } from "../painted.js";
import { useContext, useEffect, useMemo, useRef, useState } from "../vendor/hooks.js";
import { createContext } from "../vendor/preact.js";
import { html } from "./html.js";

/** So many lines fill a phone's screen; so many more are drawn before a touch has its turn. */
const [FIRST, MORE] = [4, 2];

/** Who waits for what is drawn within: so a page grows at its end only, and nothing drawn is styled anew. */
const Around = createContext(null);

/**
 * Give how many of `length` things are to be drawn by now: the first, and some more after each
 * painting once all within is drawn. `own` goes to what is drawn within, by `Around`.
 */
function useTurns(length, first, more) {
  const [shown, setShown] = useState(first);
  const around = useContext(Around);
  const { current: own } = useRef({ within: 0, around });
  const busy = (by) => { for (let one = around; one; one = one.around) one.within += by; };
  useEffect(() => {
    if (shown >= length) return undefined;
    let current = true;
    const turn = async () => {
      do await painted(); while (current && own.within);
      if (current) setShown(shown + more);
    };
    busy(1);
    turn();
    return () => {
      current = false;
      busy(-1);
    };
  }, [shown, length]);
  return { shown: Math.min(shown, length), own };
}

/** A list, or another element `as`, whose lines are drawn in turn; `line` makes one, its key with it. */
export function Lines({ of, line, as = "ul", class: name = "lines" }) {
  const { shown, own } = useTurns(of.length, FIRST, MORE);
  const made = useMemo(() => [], [of, line]);       // what stands there already is not looked at again
  while (made.length < shown) made.push(line(of[made.length]));
  return html`<${as} class=${name}><${Around.Provider} value=${own}>${made.slice(0, shown)}<//><//>`;
}

/** Sections of a page, drawn one after the other; one that is not there takes no turn. */
export function InTurn({ children }) {
  const all = [children].flat();
  const { shown, own } = useTurns(all.filter(Boolean).length, 1, 1);
  let turns = shown;
  return html`<${Around.Provider} value=${own}>${all.map((one) => (one && turns-- > 0 ? one : null))}<//>`;
}

/** What is folded away is drawn when it is opened; `children` makes it. */
export function Fold({ summary, children }) {
  const [opened, setOpened] = useState(false);
  return html`<details onToggle=${(event) => event.currentTarget.open && setOpened(true)}>
    <summary>${summary}</summary>${opened && children()}</details>`;
}
