/** An exchange at a fit point: new part in, old one out, both lockers, one change. */

import { getOrCopy } from "../fit-copy.js";
import { useDraft, useLoad } from "../load.js";
import { record } from "../outbox.js";
import { go, summary } from "../state.js";
import { useEffect, useRef, useState } from "../vendor/hooks.js";
import { FIT, SAY } from "../words.js";
import { ChoiceField, FaultSummary, Restored } from "./fields.js";
import { html } from "./html.js";
import { byLocker, nameOf, quantityText } from "./lines.js";
import { LockerPicker } from "./picker.js";
import { Problem } from "./problem.js";
import { today } from "./today.js";
import { Aftermath, Changes } from "./verdict.js";

const LANDED = "landed";

/** Put the change together; faults name their field. */
export function readExchange(point, part, fitted, values) {
  const faults = {};
  if (fitted && !values.old) faults.old = "choose-one";
  if (fitted && values.old === "locker" && !values.old_to) faults.old_to = "choose-one";
  const body = { point, part };
  if (values.from) body.from = values.from;
  if (fitted) body.old_to = values.old === "locker" ? values.old_to : LANDED;
  if (fitted && values.why) body.why = values.why;
  return { faults, body };
}

/** Bring the cursor to what just appeared in place of a button. */
function useArrival() {
  const place = useRef(null);
  useEffect(() => place.current?.focus(), []);
  return place;
}

function Sure({ answer, fitted, body, sending, yes, no }) {
  const heading = useArrival();
  return html`<div class="panel stack" data-piece="exchange-sure">
    <h2 tabindex="-1" ref=${heading}>${FIT.exchange_ask}</h2>
    <dl class="facts">
      <dt>${FIT.goes_in}</dt><dd>${answer.part.name} (${nameOf(answer.part)}) · ${body.from ?? FIT.from_none}</dd>
      <dt>${FIT.comes_out}</dt><dd>${fitted ? `${fitted.name} (${fitted.part}) · ${
        [body.old_to === LANDED ? FIT.old_landed : body.old_to, body.why && FIT.old_whys.find(([why]) => why === body.why)[1]]
          .filter(Boolean).join(" · ")}` : FIT.old_nowhere}</dd>
    </dl>
    <${Changes} answer=${answer} />
    ${answer.would_strand?.length ? html`<${Aftermath} answer=${answer} />` : html`<p>${FIT.nothing_stranded}</p>`}
    <button type="button" class="main" disabled=${sending} onClick=${yes}>${FIT.exchange_yes}</button>
    <button type="button" onClick=${no}>${SAY.cancel}</button></div>`;
}

/**
 * Before it is known where the new part lies and what comes out, the form would leave both counts as they are.
 * @param {{answer: object, point: string, part: string, close: function}} props
 */
export function Exchange(props) {
  const line = useLoad(`parts/${encodeURIComponent(props.part)}`);
  const there = useLoad(`points/${encodeURIComponent(props.point)}`, getOrCopy);
  if ([line, there].some(({ data, error }) => !data && !error)) {
    return [line, there].some(({ slow }) => slow) ? html`<p class="waiting quiet" role="status">${SAY.waiting}</p>` : null;
  }
  const missing = [line, there].find(({ data }) => !data);
  return html`${missing && html`<${Problem} error=${missing.error} again=${missing.again} />`}
    <${Form} ...${props} line=${line.data} fitted=${there.data?.fitted ?? null} />`;
}

function Form({ answer, point, part, close, line, fitted }) {
  const places = byLocker(line?.where).filter((place) => place.quantity > 0);
  const draft = useDraft(`exchange.${point}.${part}`, { from: null, old: "", old_to: "", why: "" });
  const values = { ...draft.values, from: draft.values.from ?? places[0]?.locker ?? "" };
  const [state, setState] = useState({ faults: {}, error: null, sure: false, sending: false });
  const heading = useArrival();
  const { faults, body } = readExchange(point, part, fitted, values);
  const look = (event) => {
    event.preventDefault();
    setState({ ...state, faults, error: null, sure: !Object.keys(faults).length });
  };
  const yes = async () => {
    setState({ ...state, sending: true });
    const done = await record("do/exchange", { ...body, at: today(summary.value) }, FIT.exchange_text(part, point), { form: true });
    if (done.state === "refused") {
      setState({ faults: {}, error: done.error, sure: false, sending: false });
      return;
    }
    draft.clear();
    close();
    if (answer.would_strand?.length) go(["aboard", "stranded"], { after: point });
    else go(["aboard", "points", point]);
  };
  if (state.sure) {
    return html`<${Sure} answer=${answer} fitted=${fitted} body=${body} sending=${state.sending}
      yes=${yes} no=${() => setState({ ...state, sure: false })} />`;
  }
  return html`<form class="panel stack" onSubmit=${look} data-form="exchange">
    <h2 tabindex="-1" ref=${heading}>${FIT.exchange_title}</h2>
    <${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
    <${ChoiceField} label=${FIT.from} value=${values.from} name="from"
      onValue=${(from) => draft.set({ from })}
      options=${[...places.map((place) => [place.locker,
        `${place.locker} ${place.name}: ${quantityText(place, line?.unit)}`]), ["", FIT.from_none]]} />
    ${fitted && html`<${ChoiceField} label=${`${FIT.old_to}: ${fitted.name}`} value=${values.old} name="old" fault=${state.faults.old}
      onValue=${(old) => draft.set({ old })}
      options=${[["", FIT.old_choose], [LANDED, FIT.old_landed], ["locker", FIT.old_locker]]} />`}
    ${fitted && values.old === "locker" && html`<${LockerPicker} label=${FIT.old_to} name="old_to"
      value=${values.old_to} fault=${state.faults.old_to} onValue=${(old_to) => draft.set({ old_to })} />`}
    <${Problem} error=${state.error} />
    ${fitted && html`<${ChoiceField} label=${FIT.old_why} hint=${FIT.old_why_hint} value=${values.why} name="why"
      onValue=${(why) => draft.set({ why })} options=${FIT.old_whys} />`}
    <button class="main">${FIT.exchange_check}</button>
    <button type="button" onClick=${close}>${SAY.cancel}</button>
  </form>`;
}
