/** Aboard: everything that is on her, to browse. */

import { StoppedLine, useStopped } from "../pieces/do-not-run.js";
import { html } from "../pieces/html.js";
import { LastBackup } from "../pieces/last-backup.js";
import { Page } from "../pieces/page.js";
import { Problem } from "../pieces/problem.js";
import { UnsettledLine } from "../pieces/unsettled.js";
import { href } from "../routes.js";
import { noVessel, summary } from "../state.js";
import { ABOARD, PLACE } from "../words.js";

const PAGES = ["machines", "lockers", "counts", "parts", "stranded", "papers", "files", "loans", "changes", "vessels", "people", "phone", "light",
  "signs", "begin"];

/** What there is before a vessel is begun. */
const BEFORE = ["begin", "files", "people", "phone", "light"];

/** The list of what can be browsed. */
export function AboardView() {
  const vessel = summary.value?.vessel;
  const why = summary.value?.not_writing;
  return html`<${Page} title=${PLACE.aboard} sub=${vessel && `${vessel.name} (${vessel.mark})`}>
    <${Problem} error=${why && { code: "not-writing", detail: why }} />
    <${StoppedLine} stopped=${useStopped()} />
    <ul class="lines wide">${!noVessel.value && html`<${UnsettledLine} />`}${(noVessel.value ? BEFORE : PAGES).map((page) => html`<li><a class="line stack-tight" data-page=${page}
      href=${href(["aboard", page])}><span class="name">${ABOARD[page]}</span><br />
      <span class="quiet small">${ABOARD[`${page}_help`]}</span></a></li>`)}</ul>
    ${!noVessel.value && html`<${LastBackup} />`}
  <//>`;
}
