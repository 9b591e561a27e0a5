/** The measuring sheet: the row that rules a part out fastest first; a verdict after each number. */

import { getOrCopy, judge } from "../fit-copy.js";
import { useDraft, useLoad, useSettled } from "../load.js";
import { CautionBox } from "../pieces/caution-box.js";
import { Restored, TextField } from "../pieces/fields.js";
import { FromCopy } from "../pieces/from-copy.js";
import { html } from "../pieces/html.js";
import { nameOf, shortName } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Problem } from "../pieces/problem.js";
import { Advisories, Aftermath, Changes, Rows, VerdictHead } from "../pieces/verdict.js";
import { nothingMeasured, offersFrom, sheetRows } from "../pieces/sheet.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { useEffect, useRef } from "../vendor/hooks.js";
import { FIT, TITLE } from "../words.js";

const TYPING_WAIT_MS = 400;

const sentence = (text) => text[0].toUpperCase() + text.slice(1);

function Sheet({ rows, draft, faults }) {
  const { values, set } = draft;
  return html`<form class="stack sheet" onSubmit=${(event) => event.preventDefault()} data-form="measure">
    ${rows.map((row) => html`<div class="panel" key=${row.key}><${TextField} name=${row.key} label=${row.label}
      hint=${[row.required && `${FIT.required} ${row.required}`, row.measure && sentence(row.measure)].filter(Boolean).join(". ")}
      value=${values[row.key] ?? ""} onValue=${(text) => set({ [row.key]: text })}
      fault=${faults[row.attr]} autocapitalize="none" spellcheck=${false} /></div>`)}
  </form>`;
}

/** Name the fault of each field that the server could not read. */
export function faultsOf(error) {
  const faults = {};
  for (const one of error?.errors ?? []) {
    const named = /^#\/offers\/([^/]+)/.exec(one.pointer ?? "");
    if (named) faults[decodeURIComponent(named[1])] = one.detail;
  }
  return faults;
}

/** Typed measurements are kept on this phone until the sheet is emptied. */
export function MeasureView() {
  const { point } = route.value.params;
  const draft = useDraft(`measure.${point}`, {});
  const offers = offersFrom(draft.values);
  const typed = useSettled(JSON.stringify(offers), TYPING_WAIT_MS, false);
  const head = useLoad(`points/${encodeURIComponent(point)}`, getOrCopy).data;
  const nothing = head && nothingMeasured(head.requires);
  const judgeThese = (measured) => judge({ point, offers: measured });
  const empty = useLoad(nothing ? `fit ${point} {}` : null, () => judgeThese(nothing));
  const load = useLoad(nothing && `fit ${point} ${typed}`, () => judgeThese({ ...nothing, ...JSON.parse(typed) }));
  const last = useRef(null);
  useEffect(() => { if (load.data) last.current = load.data; }, [load.data]);
  const answer = load.data ?? last.current ?? empty.data;
  const rows = empty.data ? sheetRows(empty.data) : [];
  const faults = faultsOf(load.error);
  return html`<${Page} title=${head ? `${FIT.measure_title} ${shortName(head.machine_name)} · ${head.name}` : TITLE.measure}
    sub=${head && nameOf(head)} back=${[href(["fit", point]), head?.name ?? point]}>
    <${Restored} draft=${draft} />
    ${answer && html`<div class="verdict-now"><${VerdictHead} answer=${answer} /></div>`}
    <${FromCopy} answer=${answer} judged=${true} />
    ${load.error && !Object.keys(faults).length && html`<${Problem} error=${load.error} again=${load.again} />`}
    ${empty.error && html`<${Problem} error=${empty.error} again=${empty.again} />`}
    ${(empty.data || (head && !nothing)) && html`<p>${rows.length ? FIT.measure_help : FIT.no_rows}</p>`}
    <${Sheet} rows=${rows} draft=${draft} faults=${faults} />
    ${answer && html`<${Changes} answer=${answer} /><${Aftermath} answer=${answer} />
      <${Advisories} answer=${answer} /><${Rows} rows=${answer.rows} />`}
    ${Object.keys(offers).length > 0 && html`<button type="button" onClick=${draft.clear}>${FIT.start_over}</button>`}
    <${CautionBox} lines=${answer?.cautions} opening=${true} />
  <//>`;
}
