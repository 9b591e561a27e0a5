/** Restock: the trips. */

import { daysBetween, showDay } from "../dates.js";
import { getOrKept } from "../kept-answers.js";
import { useLoad } from "../load.js";
import { outboxHere } from "../outbox.js";
import { html } from "../pieces/html.js";
import { nameOf } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Empty, Loaded } from "../pieces/problem.js";
import { ForSkipper } from "../pieces/who-may.js";
import { href } from "../routes.js";
import { PLACE, RESTOCK, TRIP } from "../words.js";

function tripText(trip) {
  const days = trip.days ?? daysBetween(trip.departs_on, trip.returns_on);
  return `${showDay(trip.departs_on)} – ${showDay(trip.returns_on)}, ${RESTOCK.days(days)}`;
}

/** New trips that the boat's computer does not know yet. */
function Planned() {
  const planned = outboxHere.value.filter((entry) => entry.path === "trips");
  return planned.map(({ change_id, body }) => html`<li key=${change_id} class="line stack-tight" data-trip="new">
    <span class="answer">${body.name}</span><br /><span>${tripText(body)}</span><br />
    <span class="quiet small">${TRIP.new_waits}</span></li>`);
}

/** The list of trips, soonest first as the server gives them. */
export function RestockView() {
  const load = useLoad("trips", getOrKept);
  const toNew = href(["restock", "new"]);
  return html`<${Page} title=${PLACE.restock}>
    <${Loaded} load=${load}>${({ trips }) => (trips.length || outboxHere.value.some((entry) => entry.path === "trips")
      ? html`<ul class="lines">${trips.map((trip) => html`<li><a class="line stack-tight" data-trip=${nameOf(trip)}
          href=${href(["restock", nameOf(trip)])}><span class="answer">${trip.name}</span><br />
          <span>${tripText(trip)}</span></a></li>`)}<${Planned} /></ul>
        <${ForSkipper}><p><a class="button" href=${toNew}>${RESTOCK.new_trip}</a></p><//>`
      : html`<${Empty} text=${RESTOCK.no_trips} button=${RESTOCK.new_trip} href=${toNew} />`)}<//>
  <//>`;
}
