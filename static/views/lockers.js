/** The lockers, as they are nested. */

import { useLoad } from "../load.js";
import { html } from "../pieces/html.js";
import { Lines } from "../pieces/in-turn.js";
import { nameOf } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Empty, Loaded } from "../pieces/problem.js";
import { Sign } from "../pieces/shapes.js";
import { href } from "../routes.js";
import { ABOARD, BEGIN, COUNT, PLACE, PLAN, TAG } from "../words.js";

function signOf(locker) {
  if (locker.lent_to) return COUNT.lent;
  if (locker.aboard === false) return COUNT.ashore;
  return locker.reachable === false ? TAG["not-reachable"] : null;
}

/** One line a locker, with its code as it stands on the label. */
export function LockersView() {
  const load = useLoad("lockers");
  return html`<${Page} title=${ABOARD.lockers} back=${[href(["aboard"]), PLACE.aboard]}>
    <${Loaded} load=${load}>${({ lockers }) => (lockers.length
      ? html`<p><a class="button" data-to="plan" href=${href(["aboard", "plan"])}>${PLAN.title}</a></p><${Lines} class="lines wide" of=${lockers} line=${(locker) => html`<li key=${nameOf(locker)}><a class="line stack-tight"
          data-locker=${nameOf(locker)} href=${href(["aboard", "lockers", nameOf(locker)])}>
          <span class="top head"><span class="name">${locker.no} ${locker.name}</span>
            <span class="code">${locker.code}</span></span>
          <span class="top"><span class="quiet small">${ABOARD.lines(locker.lines ?? 0)}</span>
            ${signOf(locker) && html`<${Sign} sign=${signOf(locker)} />`}</span></a></li>`} />`
      : html`<${Empty} text=${ABOARD.no_lockers} button=${BEGIN.lockers} href=${href(["aboard", "begin", "lockers"])} />`)}<//>
  <//>`;
}
