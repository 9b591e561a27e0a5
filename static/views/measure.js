/** The measuring sheet: the row that rules a part out fastest first; a verdict after each number. */

import { getOrCopy, judge } from "../fit-copy.js";
import { useDraft, useLoad } from "../load.js";
import { paperUrl } from "../paper-url.js";
import { useCandidate } from "../pieces/candidate.js";
import { CautionBox } from "../pieces/caution-box.js";
import { ChoiceField, RadioField, Restored } from "../pieces/fields.js";
import { FromCopy } from "../pieces/from-copy.js";
import { html } from "../pieces/html.js";
import { nameOf, shortName } from "../pieces/lines.js";
import { MeasuringRows } from "../pieces/measuring.js";
import { Page } from "../pieces/page.js";
import { PartPicker } from "../pieces/picker.js";
import { Photos } from "../pieces/photos.js";
import { Problem } from "../pieces/problem.js";
import { Advisories, Aftermath, Changes, Rows, VerdictHead } from "../pieces/verdict.js";
import { COME_FROM, sheetRows } from "../pieces/sheet.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { useEffect } from "../vendor/hooks.js";
import { FIT, MEASURE, TITLE } from "../words.js";
import { candidates as recorded } from "./fit-point.js";

function Heads({ shown }) {
  return html`<div class=${`verdict-now ${shown.length > 1 ? "two" : ""}`}>${shown.map((one) => html`
    <div key=${one.prefix} data-candidate=${one.prefix || "first"}>
      ${shown.length > 1 && html`<p class="small strong">${one.part || one.name}</p>`}
      ${one.answer && html`<${VerdictHead} answer=${one.answer} />`}</div>`)}</div>`;
}

/** Which part stands in each column. */
function Choices({ head, shown, choice }) {
  const known = head ? recorded(head).map((part) => [nameOf(part), `${nameOf(part)} ${part.name}`]) : [];
  const field = (one, mark) => html`<${ChoiceField} key=${mark} label=${MEASURE.which(one.name)} name=${mark}
    value=${one.part} onValue=${(part) => choice.set({ [mark]: part })}
    options=${[["", MEASURE.in_hand], ...known, ...(one.part && !known.some(([no]) => no === one.part)
      ? [[one.part, one.part]] : [])]} />`;
  return html`<div class="panel stack measured" data-piece="compare">
    <div class="cells">${field(shown[0], "first")}${field(shown[1], "second")}</div>
    <details><summary>${FIT.other_part}</summary>
      <${PartPicker} label=${`${FIT.other_part}: ${MEASURE.second.toLowerCase()}`} hint=${FIT.other_part_hint}
        name="other-part" ask=${getOrCopy} onPick=${(part) => choice.set({ second: nameOf(part) })} /></details>
    <button type="button" onClick=${() => choice.set({ second: null })}>${MEASURE.only_first}</button></div>`;
}

function Follows({ answer }) {
  return html`<${Changes} answer=${answer} /><${Aftermath} answer=${answer} />
    <${Advisories} answer=${answer} />
    <details data-piece="rows"><summary>${FIT.rows}</summary><${Rows} rows=${answer.rows} untitled=${true} /></details>`;
}

/** What the verdicts say besides: of one candidate at once, of two behind a line for each. */
function AllFollows({ shown }) {
  if (shown.length === 1) return shown[0].answer && html`<${Follows} answer=${shown[0].answer} />`;
  return shown.filter((one) => one.answer).map((one) => html`<details key=${one.prefix}>
    <summary>${MEASURE.more_of(one.name)}</summary><${Follows} answer=${one.answer} /></details>`);
}

/** Where the typed figures come from; once for each candidate. */
function ComeFrom({ shown }) {
  return html`<details data-piece="come-from" open=${shown.some((one) => one.draft.values[COME_FROM])}>
    <summary>${MEASURE.come_from} ${shown.map((one) => MEASURE.ways.find(
      ([how]) => how === (one.draft.values[COME_FROM] ?? ""))[1]).join("; ")}</summary>
    <div class="measured"><div class="cells">${shown.map((one) => html`<${RadioField} key=${one.prefix}
      label=${shown.length > 1 ? MEASURE.come_from_of(one.name) : MEASURE.come_from}
      name=${`${one.prefix}${COME_FROM}`} value=${one.draft.values[COME_FROM] ?? ""} options=${MEASURE.ways}
      onValue=${(how) => one.draft.set({ [COME_FROM]: how })} />`)}</div></div></details>`;
}

function Troubles({ shown }) {
  const told = shown.filter((one) => one.load.error && !Object.keys(one.faults).length);
  return told.map((one) => html`<${Problem} key=${one.prefix} error=${one.load.error} again=${one.load.again} />`);
}

/** Typed measurements are kept on this phone until the sheet is emptied. */
export function MeasureView() {
  const { params: { point }, query } = route.value;
  const choice = useDraft(`measured.${point}`, { first: "", second: null });
  const head = useLoad(`points/${encodeURIComponent(point)}`, getOrCopy).data;
  const empty = useLoad(`fit ${point} {}`, () => judge({ point, offers: {} }));
  const { first, second } = choice.values;
  useEffect(() => { if (query.first) choice.set({ first: query.first, second: second ?? "" }); }, [query.first]);
  const both = [
    useCandidate(point, { prefix: "", name: MEASURE.first, part: second === null ? "" : first }),
    useCandidate(point, { prefix: "second.", name: MEASURE.second, part: second }),
  ];
  const shown = second === null ? both.slice(0, 1) : both;
  const rows = empty.data ? sheetRows(empty.data) : [];
  const clear = () => shown.forEach((one) => one.draft.clear());
  const typed = shown.some((one) => Object.keys(one.offers).length > 0);
  const restored = shown.some((one) => one.draft.restored && Object.keys(one.offers).length > 0);
  return html`<${Page} title=${head ? `${FIT.measure_title} ${shortName(head.machine_name)} · ${head.name}` : TITLE.measure}
    sub=${head && nameOf(head)} back=${[href(["fit", point]), head?.name ?? point]}>
    <${Restored} draft=${{ restored, clear }} />
    <${Heads} shown=${shown} />
    <${FromCopy} answer=${shown[0].answer} judged=${true} />
    <${Troubles} shown=${shown} />
    ${empty.error && html`<${Problem} error=${empty.error} again=${empty.again} />`}
    ${second === null ? html`<button type="button" onClick=${() => choice.set({ second: "" })}>${MEASURE.compare}</button>`
      : html`<${Choices} head=${head} shown=${shown} choice=${choice} />`}
    ${empty.data && html`<p>${rows.length ? FIT.measure_help : FIT.no_rows}</p>`}
    ${rows.length > 0 && html`<${ComeFrom} shown=${shown} />`}
    <${MeasuringRows} rows=${rows} candidates=${shown} />
    <div class="buttons">
      ${typed && html`<button type="button" onClick=${clear}>${FIT.start_over}</button>`}
      <a class="button" href=${paperUrl(`papers/measuring.pdf?point=${encodeURIComponent(point)}`)}
        target="_blank" rel="noopener">${MEASURE.print}</a></div>
    ${head?.id && html`<${Photos} of=${`${head.type ?? "point"}/${head.id}`} name=${head.name ?? point} />`}
    <${AllFollows} shown=${shown} />
    <${CautionBox} lines=${shown[0].answer?.cautions} opening=${true} />
  <//>`;
}
