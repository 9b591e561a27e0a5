/** One locker and what lies in it. */

import { useLoad } from "../load.js";
import { Apart } from "../pieces/apart.js";
import { LockerBlock } from "../pieces/hits.js";
import { html } from "../pieces/html.js";
import { nameOf } from "../pieces/lines.js";
import { OnPlan } from "../pieces/on-plan.js";
import { Page } from "../pieces/page.js";
import { Photos } from "../pieces/photos.js";
import { ThingLoaded } from "../pieces/unsettled.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { ABOARD, TITLE } from "../words.js";

/** The locker's page; the heading is its number, as on the label. */
export function LockerView() {
  const { locker } = route.value.params;
  const load = useLoad(`lockers/${encodeURIComponent(locker)}`);
  return html`<${Page} title=${TITLE.locker} back=${[href(["aboard", "lockers"]), ABOARD.lockers]}>
    <${ThingLoaded} load=${load} kind="locker" name=${locker}>${(data) => html`<${LockerBlock} locker=${data} bare=${true}><${Apart} thing=${data} /><//>
      <${OnPlan} locker=${nameOf(data)} picture=${true} />
      <${Photos} of=${`locker/${data.id}`} name=${nameOf(data)} />`}<//>
  <//>`;
}
