/** The mark of a machine that must not run: worked out from the open trails, shown wherever it stands. */

import { useLoad } from "../load.js";
import { href } from "../routes.js";
import { STOPPED, TRAIL, TRAIL_STATE, signFor } from "../words.js";
import { html } from "./html.js";
import { Shape, Sign } from "./shapes.js";

/** Give the open trails by the number of their machine. */
export function stoppedBy(answer) {
  const found = new Map();
  for (const one of answer?.do_not_run ?? []) {
    found.set(one.machine, (answer.trails ?? []).filter((trail) => one.trails.includes(trail.no)));
  }
  return found;
}

/** The open trails of now, by machine; this phone's own are among them. */
export const useStopped = () => stoppedBy(useLoad("trails").data);

/** The mark as a sign, in a line. */
export const StopSign = () => html`<${Sign} sign=${STOPPED.sign} />`;

/** The mark in a line that stands alone, where the machine must not run. */
export const StopMark = ({ machine }) => (useStopped().has(machine) ? html`<span class="top"><${StopSign} /></span>` : null);

/** Write what is missing of a trail: `1 of 6 missing, 0 found, 1 not found`. */
export const leftText = (trail) => TRAIL.left(trail.missing, trail.of_pieces, trail.found, trail.left);

/** @param {{machine: string, trails: object[]|undefined, more?: string}} props nothing where it may run */
export function DoNotRun({ machine, trails, more }) {
  if (!trails?.length) return null;
  return html`<section class="do-not-run stack-tight" data-piece="do-not-run" data-machine=${machine} role="status">
    <p class="answer"><${Shape} name=${STOPPED.sign.shape} /> ${STOPPED.machines([machine])}</p>
    ${trails.map((trail) => html`<p key=${trail.no}><a class="button" href=${href(["work", "trail", trail.no])}>${STOPPED.why(trail.no, trail.what)}</a>
      <br /><span class="small">${[leftText(trail), trail.not_looked > 0 && TRAIL.not_looked(trail.not_looked)].filter(Boolean).join(" · ")}</span></p>`)}
    ${more && html`<p>${more}</p>`}</section>`;
}

/** The closed trails of a machine: a gap that was accepted stays in sight. */
export function ClosedTrails({ machine }) {
  const closed = (useLoad("trails").data?.trails ?? []).filter((one) => one.machine === machine && one.state !== "open");
  if (!closed.length) return null;
  return html`<section data-piece="closed-trails"><h2>${TRAIL.title}</h2><ul class="lines">${closed.map((trail) => html`<li key=${trail.no}>
    <a class="line stack-tight" data-state=${trail.state} href=${href(["work", "trail", trail.no])}><span class="top head">
      <span class="name">${trail.what}</span><span class="quiet small nowrap">${trail.no}</span></span>
      <span class="top"><${Sign} sign=${signFor(TRAIL_STATE, trail.state)} /></span></a></li>`)}</ul></section>`;
}

/** The marks of several machines, one line each: for a page that is about more than one. */
export function StoppedLine({ stopped }) {
  if (!stopped.size) return null;
  return html`<p class="do-not-run" data-piece="stopped" role="status"><a href=${href(["work", "trails"])}>
    <${Shape} name=${STOPPED.sign.shape} /> ${STOPPED.machines([...stopped.keys()])}</a></p>`;
}
