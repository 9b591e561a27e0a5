/** A service on a line: square and word, when it is due, on which machine. */

import { showDay } from "../dates.js";
import { showHours } from "../numbers.js";
import { href } from "../routes.js";
import { ROUND, SERVICE, WORK, signFor } from "../words.js";
import { StopSign } from "./do-not-run.js";
import { html } from "./html.js";
import { shortName } from "./lines.js";
import { Sign } from "./shapes.js";

/** Write when it is due: by hours, by date, whichever is known; "estimated" where it is reckoned. */
export function dueText(service) {
  const due = [
    service.due_at_hours !== null && service.due_at_hours !== undefined
      && WORK.due_at(showHours(service.due_at_hours)),
    service.due_on && WORK.due_on(showDay(service.due_on)),
  ].filter(Boolean).join(", ");
  if (!due) return null;
  if (service.from_baseline) return `${due} (${ROUND.counted_from})`;
  return service.estimated ? `${due} (${WORK.estimated})` : due;
}

/** Write what is left of hours and days; once one of them is over, only what is over. */
export function leftText(service) {
  const known = (left) => left !== null && left !== undefined;
  const { hours_left: hours, days_left: days } = service;
  const late = [hours, days].some((left) => known(left) && left < 0);
  const told = (left) => known(left) && (!late || left < 0);
  return [told(hours) && WORK.hours_left(hours), told(days) && WORK.days_left(days)]
    .filter(Boolean).join(", ");
}

export const serviceNo = (service) => service.service ?? service.no ?? service.id;

/** @param {{service: object, stopped?: boolean}} props; one line of the answer of `due`, and whether its machine must not run */
export function ServiceLine({ service, stopped = false }) {
  const places = service.points?.length ? service.points : [service.machine].filter(Boolean);
  return html`<li><a class="line stack-tight" data-service=${serviceNo(service)}
    href=${href(["work", serviceNo(service)])}>
    <span class="top head"><span class="name">${service.what}</span>
      <span class="quiet small nowrap">${serviceNo(service)}</span></span>
    <span class="top"><${Sign} sign=${signFor(SERVICE, service.state)} />
      <span class="small">${leftText(service)}</span></span>
    ${stopped && html`<span class="top"><${StopSign} /></span>`}
    <span class="quiet small">${service.machine_name && `${shortName(service.machine_name)} · `}${places.map((place) => html`<span class="nowrap">${place}</span> `)}
      ${dueText(service) && `· ${dueText(service)}`}</span>
  </a></li>`;
}
