/** One joint sheet by itself, in big type; the screen stays on. */

import { useAwake } from "../awake.js";
import { useDraft, useLoad } from "../load.js";
import { CautionBox } from "../pieces/caution-box.js";
import { html } from "../pieces/html.js";
import { JointSheet } from "../pieces/joint-sheet.js";
import { Page } from "../pieces/page.js";
import { Photos } from "../pieces/photos.js";
import { Tightened } from "../pieces/tightened.js";
import { Empty, Loaded } from "../pieces/problem.js";
import { ForCrew, ForSkipper } from "../pieces/who-may.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { JOINT, PLACE, WORK } from "../words.js";

function Whole({ joint }) {
  const draft = useDraft(`joint.${joint.joint}`, { ticked: [] });
  return html`<${CautionBox} lines=${joint.cautions} opening=${true} />
    <div class="big"><${JointSheet} joint=${joint} draft=${draft} /></div>
    <${ForCrew}><${Tightened} joint=${joint} /><//><${Photos} of=${`joint/${joint.id}`} name=${joint.name} />
    <div class="buttons">${draft.values.ticked.length > 0 && html`<button type="button" onClick=${draft.clear}>${WORK.ticks_off}</button>`}
      <${ForSkipper}><a class="button" href=${href(["work", "joint", joint.joint, "edit"])}>${JOINT.edit}</a><//></div>`;
}

/** The joint's page. */
export function JointView() {
  const { joint: no } = route.value.params;
  const load = useLoad("joints");
  const joint = load.data?.joints.find((one) => one.joint === no);
  const back = joint?.point ? [href(["aboard", "points", joint.point]), joint.point_name ?? joint.point] : [href(["work"]), PLACE.work];
  useAwake();
  return html`<${Page} title=${joint?.name ?? JOINT.title} sub=${no} back=${back}>
    <${Loaded} load=${load}>${() => (joint ? html`<${Whole} key=${no} joint=${joint} />`
    : html`<${Empty} text=${JOINT.none} button=${PLACE.aboard} href=${href(["aboard", "machines"])} />`)}<//>
  <//>`;
}
