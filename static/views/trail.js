/** One trail: the mark, cautions on top, what to shut off, the places in flow order, what closes it. */

import { showDay } from "../dates.js";
import { keptSince } from "../kept/answers.js";
import { useDraft, useLoad } from "../load.js";
import { paperUrl } from "../paper-url.js";
import { CautionBox } from "../pieces/caution-box.js";
import { leftText } from "../pieces/do-not-run.js";
import { TextField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Loaded } from "../pieces/problem.js";
import { Sign } from "../pieces/shapes.js";
import { Ticks } from "../pieces/ticks.js";
import { TrailFirstRun } from "../pieces/trail-first-run.js";
import { Accepted, TrailClose } from "../pieces/trail-close.js";
import { TrailOrder } from "../pieces/trail-order.js";
import { TrailPlace } from "../pieces/trail-place.js";
import { ForCrew } from "../pieces/who-may.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { STOPPED, TITLE, TRAIL, TRAIL_STATE, signFor } from "../words.js";

/** Bring the next place into sight: the cautions above it have been read by then. */
const toNext = () => document.querySelector(".trail-place.next")?.scrollIntoView({ block: "center" });

function Stands({ trail }) {
  const sign = signFor(TRAIL_STATE, trail.state);
  return html`<section class=${trail.do_not_run ? "do-not-run stack-tight" : "stack-tight"} role="status" data-state=${trail.state}>
    <p class="answer">${trail.do_not_run ? html`<${Sign} sign=${sign} text=${STOPPED.machines([trail.machine])} />`
      : html`<${Sign} sign=${sign} />`}</p>
    <p class="strong">${leftText(trail)}</p>
    ${trail.not_looked > 0 && html`<p>${TRAIL.not_looked(trail.not_looked)}</p>`}
    ${trail.disputed.length > 0 && html`<p>${TRAIL.disputed}</p>`}
    ${trail.do_not_run && trail.next && html`<div><button type="button" class="main" data-to="next" onClick=${toNext}>${TRAIL.next}</button></div>`}
    ${trail.accepted && html`<${Accepted} trail=${trail} />`}</section>`;
}

function Facts({ trail }) {
  const out = [trail.point, trail.point_name].filter(Boolean).join(" ");
  const begun = [trail.began_on && showDay(trail.began_on), trail.by].filter(Boolean).join(", ");
  return html`<dl class="facts">
    ${out && html`<dt>${TRAIL.came_out}</dt><dd>${out}</dd>`}
    ${begun && html`<dt>${TRAIL.begun}</dt><dd>${begun}</dd>`}</dl>
    ${trail.note && html`<p class="told">${trail.note}</p>`}`;
}

function Whole({ trail }) {
  const ticks = useDraft(`trail.${trail.no}`, { ticked: [] });
  const who = useDraft("trail-who", { by: "" });
  return html`<${Stands} trail=${trail} /><${CautionBox} lines=${trail.cautions} opening=${true} pieces=${true} />
    <${Facts} trail=${trail} />
    <${Ticks} title=${TRAIL.shut_off} lines=${trail.shut_off} draft=${ticks} name="shut-off" />
    <section class="stack"><h2>${TRAIL.flow_title}</h2>
      <${ForCrew}><${TextField} label=${TRAIL.who} name="who" value=${who.values.by} onValue=${(by) => who.set({ by })} /><//>
      ${trail.places.length === 0 && html`<p>${TRAIL.no_places}</p>`}
      <ol class="trail-places stack">${trail.places.map((place) => html`<${TrailPlace} key=${`${place.place} ${place.state}`} trail=${trail}
        place=${place} by=${who.values.by} />`)}</ol>
      <${ForCrew}><${TrailOrder} trail=${trail} /><//></section>
    <${TrailClose} trail=${trail} />
    <${Ticks} title=${TRAIL.after} lines=${[...trail.after, ...TRAIL.after_more]} draft=${ticks} name="after" />
    <${TrailFirstRun} trail=${trail} />
    ${!keptSince.value && html`<p><a class="button" target="_blank" rel="noopener"
      href=${paperUrl(`papers/trail.pdf?trail=${encodeURIComponent(trail.no)}`)}>${TRAIL.paper}</a></p>`}`;
}

/** The trail's page. */
export function TrailView() {
  const { trail: no } = route.value.params;
  const load = useLoad(`trails/${encodeURIComponent(no)}`);
  return html`<${Page} title=${load.data?.what ?? TITLE.trail} sub=${load.data && [no, load.data.machine_name].join(" · ")}
    back=${[href(["work", "trails"]), TRAIL.title]}>
    <${Loaded} load=${load}>${(data) => html`<${Whole} key=${no} trail=${data} />`}<//>
  <//>`;
}
