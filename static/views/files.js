/** Bring a vessel's tables in, after a look at what would happen; give them out. */

import { apiUrl, postFile } from "../api.js";
import { FILE_MS, Progress, bringIn, useBringing } from "../pieces/bringing.js";
import { ANEW } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { MovingIn } from "../pieces/moving-in.js";
import { NeedsHer } from "../pieces/needs-her.js";
import { Page } from "../pieces/page.js";
import { Problem } from "../pieces/problem.js";
import { ForSkipper } from "../pieces/who-may.js";
import { href } from "../routes.js";
import { announce, revision, summary, vessel } from "../state.js";
import { useId, useRef, useState } from "../vendor/hooks.js";
import { ABOARD, FILES, PLACE, toldFault, toldLog } from "../words.js";

const KINDS = { zip: "application/zip", json: "application/json", csv: "text/csv" };
const MOST_FAULTS = 300;
const NOTHING = { file: null, looked: null, error: null, isReading: false };

/** Tell a file's media type by the end of its name; null for what cannot be brought in. */
export function kindOfFile(name) {
  return KINDS[name.toLowerCase().split(".").pop()] ?? null;
}

/** Write what a file holds: `120 part, 25 locker`. */
export function thingsText(things) {
  return Object.entries(things).map(([kind, count]) => `${count} ${toldLog(kind).replaceAll("-", " ")}`).join(", ");
}

function Faults({ error }) {
  if (!error) return null;
  const named = error.errors.filter((one) => one.where);
  return html`<${Problem} error=${error} />
    ${named.length > 0 && html`<ul class="plain">${named.slice(0, MOST_FAULTS).map((one) => html`
      <li><span class="strong">${one.where}:</span>${" "}${toldFault(one.detail)}</li>`)}</ul>`}`;
}

function Looked({ answer, bring, isBusy }) {
  return html`<div class="panel stack" data-piece="looked" role="status">
    <p class="strong">${FILES.looked(answer.vessel, answer.changes)}</p><p>${thingsText(answer.things)}</p>
    ${answer.changes > 0 && html`<button type="button" class="main" disabled=${isBusy} onClick=${bring}>
      ${FILES.bring(answer.changes)}</button>`}</div>`;
}

function BringIn() {
  const id = useId();
  const [state, setState] = useState(NOTHING);
  const { isBusy, forget, ...bringing } = useBringing("file");
  const turn = useRef(0);
  const send = (file, more) => postFile(`import?${new URLSearchParams({ name: file.name, ...more })}`,
    file, kindOfFile(file.name), vessel.value ?? summary.value?.vessel?.mark, FILE_MS);
  const look = async (file) => {
    const mine = (turn.current += 1);       // what was asked last is answered last
    forget();
    if (!kindOfFile(file.name)) { setState({ ...NOTHING, error: { code: "invalid-input", detail: FILES.which, errors: [] } }); return; }
    setState({ ...NOTHING, file, isReading: true });
    const answered = (found) => mine === turn.current && setState({ ...NOTHING, ...found });
    try {
      answered({ file, looked: await send(file, { look: true }) });
    } catch (error) {
      if (!error.code) throw error;
      answered({ error });
    }
  };
  const bring = async () => {
    const brought = await bringIn("file", (progress) => send(state.file, { look: false, progress }));
    if (!brought) return;
    setState(NOTHING);
    revision.value += 1;
    announce(FILES.brought(brought.vessel, brought.changes));
  };
  const { looked } = state;
  const { brought } = bringing;
  return html`<section class="stack"><h2>${FILES.bring_in}</h2><p>${FILES.bring_help}</p>
    <div class="field"><label for=${id}>${FILES.file}</label>
      <input id=${id} type="file" name="file" accept=".zip,.json,.csv" disabled=${isBusy} ...${ANEW}
        onChange=${(event) => event.currentTarget.files[0] && look(event.currentTarget.files[0])} /></div>
    ${state.isReading && html`<p class="waiting" role="status">${FILES.reading}</p>`}
    ${bringing.id && html`<${Progress} id=${bringing.id} />`}
    <${Faults} error=${state.error ?? bringing.error} />
    ${looked && html`<${Looked} answer=${looked} isBusy=${isBusy} bring=${bring} />`}
    ${brought && html`<p class="answer" role="status">${FILES.brought(brought.vessel, brought.changes)}</p>`}
  </section>`;
}

function GiveOut() {
  return html`<section class="stack"><h2>${FILES.give_out}</h2><ul class="lines">
    ${Object.entries(FILES.exports).map(([path, [words, help]]) => html`<li><a class="line stack-tight" download
      href=${apiUrl(`export/${path}`)}><span class="name">${words}</span><br />
      <span class="quiet small">${help}</span></a></li>`)}</ul></section>`;
}

/** Files in and out. */
export function FilesView() {
  return html`<${Page} title=${ABOARD.files} back=${[href(["aboard"]), PLACE.aboard]}><${NeedsHer} /><${ForSkipper}><${BringIn} /><//>
    ${summary.value && html`<${ForSkipper}><${MovingIn} /><//><${GiveOut} />`}<//>`;
}
