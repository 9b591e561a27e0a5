/** A trip that is changed, in the form of a new one. */

import { together, useLoad } from "../load.js";
import { outboxHere } from "../outbox.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Loaded } from "../pieces/problem.js";
import { TripForm } from "../pieces/trip-form.js";
import { withWaiting } from "../pieces/trip-read.js";
import { counted, editValues } from "../pieces/trip-values.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { TITLE } from "../words.js";

/** The form for changing a trip. */
export function TripEditView() {
  const { trip: no } = route.value.params;
  const machines = useLoad("machines");
  const trip = useLoad(`trips/${encodeURIComponent(no)}`);
  return html`<${Page} title=${TITLE["trip-edit"]} back=${[href(["restock", no]), trip.data?.name ?? TITLE.trip]}>
    <${Loaded} load=${together(trip, machines)}>${([told, known]) => {
      const data = withWaiting(told, outboxHere.value);
      return html`<${TripForm} machines=${counted(known.machines)}
        initial=${editValues(data)} perDay=${{}} draftKey=${`trip.${data.id}`} trip=${data} />`;
    }}<//>
  <//>`;
}
