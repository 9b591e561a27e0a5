/** A new trip, filled from the last one. */

import { inOrder } from "../in-order.js";
import { together, useLoad } from "../load.js";
import { html } from "../pieces/html.js";
import { nameOf } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Loaded } from "../pieces/problem.js";
import { TripForm } from "../pieces/trip-form.js";
import { counted, hoursPerDay, usualValues } from "../pieces/trip-values.js";
import { href } from "../routes.js";
import { PLACE, RESTOCK, TITLE } from "../words.js";

/** The form for a new trip. */
export function TripNewView() {
  const machines = useLoad("machines");
  const trips = useLoad("trips");
  const newest = [...(trips.data?.trips ?? [])].sort((a, b) => inOrder(b.returns_on ?? "", a.returns_on ?? ""))[0];
  const last = useLoad(newest ? `trips/${encodeURIComponent(nameOf(newest))}` : null);
  const isReady = !newest || last.data || last.error;
  const from = last.data?.trip ?? last.data;
  return html`<${Page} title=${TITLE["trip-new"]} back=${[href(["restock"]), PLACE.restock]}>
    <${Loaded} load=${together(machines, trips)}>${([data]) => isReady && html`<${TripForm} machines=${counted(data.machines)}
      initial=${usualValues(from)} perDay=${hoursPerDay(from)} draftKey="trip" help=${from && RESTOCK.hours_help} />`}<//>
  <//>`;
}
