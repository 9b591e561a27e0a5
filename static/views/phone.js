/** This phone: what it keeps, what waits on it, and meeting the boat's computer. */

import { codeOfStop, postJson } from "../api.js";
import { showInstant } from "../dates.js";
import { device, exchange, keepHere, keeper, keptActs, meet, startKeeping, syncNow } from "../kept/kept.js";
import { isPersistent } from "../kept/start.js";
import { TextField } from "../pieces/fields.js";
import { ToThing } from "../pieces/bars.js";
import { BringFile, HandOver } from "../pieces/hand-over.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Detail, Problem } from "../pieces/problem.js";
import { Sure } from "../pieces/sure.js";
import { href } from "../routes.js";
import { replaceRoute, route } from "../state.js";
import { useEffect, useState } from "../vendor/hooks.js";
import { ABOARD, KEPT, PLACE, PROBLEM, wordFor } from "../words.js";

const ASK_EVERY_MS = 2000;
const LOCAL = ["localhost", "127.0.0.1", "[::1]"];
/** No answer of the skipper's: a hiccup of the net, a screen that went dark. */
const PASSES = ["no-answer", "store-busy", "server-fault", "slow-down", "busy"];
/** Said of a token that is lost, over or taken back: with another one it is let in again, and what waits goes aboard. */
const OUT = ["not_paired", "revoked"];

/** What came of a code, in words of its own; a link that was cut short is a wrong code. */
function ofCode(error) {
  const isCut = error.errors?.some((one) => one.pointer === "#/secret");
  const code = isCut ? "wrong-code" : codeOfStop(error.facts?.stop ?? "");
  return PROBLEM[code] ? { code, detail: "" } : error;
}

function Change({ change }) {
  const again = async () => {
    await keeper.value.again(change.id);
    syncNow();
  };
  return html`<li class="line" data-kept=${change.as}><p class="strong">${change.text.text}</p>
    <p>${KEPT.state[change.as]}${change.code ? `: ${wordFor(PROBLEM, codeOfStop(change.code))}` : ""}
      ${change.say && html` (<${Detail} error=${{ detail: change.say }} />)`}</p>
    ${change.as === "refused" && html`<div class="buttons">
      <${ToThing} asked=${change.text} />
      <button type="button" onClick=${again}>${KEPT.again}</button>
      <${Sure} text=${KEPT.give_up} asked=${KEPT.give_up_asked} onYes=${() => keeper.value.giveUp(change.id)} /></div>`}</li>`;
}

function Kept() {
  const { isSyncing, at, stop } = exchange.value;
  const changes = keptActs.value;
  const { name, role } = device.value;
  return html`<p class="strong">${KEPT.named(name, KEPT.roles[role] ?? role)}</p>
    <p>${at ? KEPT.last(showInstant(new Date(at).toISOString())) : KEPT.never}</p>
    ${stop && html`<p class="panel" role="status">${wordFor(PROBLEM, codeOfStop(stop))}</p>`}
    ${changes.length ? html`<ul class="lines">${changes.map((change) => html`<${Change}
        key=${change.id} change=${change} />`)}</ul>`
      : html`<p role="status" data-kept="none">${KEPT.all_aboard}</p>`}
    <button type="button" class="main" disabled=${isSyncing} onClick=${meet}>
      ${isSyncing ? KEPT.meeting : KEPT.meet}</button>
    ${changes.some((change) => change.as === "waiting") && html`<${HandOver} />`}
    ${isPersistent.value !== null && html`<p class="small quiet">
      ${isPersistent.value ? KEPT.stays : KEPT.may_go}</p>`}`;
}

/** On the boat's computer itself one press is enough. */
function KeepHere() {
  const [state, setState] = useState({ error: null, isBusy: false });
  const press = async () => {
    setState({ error: null, isBusy: true });
    try {
      await keepHere(KEPT.this_computer);
    } catch (error) {
      setState({ error, isBusy: false });
    }
  };
  return html`<p>${KEPT.keep_help}</p><${Problem} error=${state.error} />
    <button type="button" class="main" disabled=${state.isBusy} onClick=${press}>${KEPT.keep}</button>`;
}

/** Elsewhere the skipper's code is typed, and the skipper compares the digits. */
function Join({ secret }) {
  const [values, setValues] = useState({ code: "", name: "" });
  const [claim, setClaim] = useState(null);
  const [error, setError] = useState(null);
  useEffect(() => {
    if (!claim) return undefined;
    let isAsking = false;       // one at a time: the key comes once
    const timer = setInterval(async () => {
      if (isAsking) return;
      isAsking = true;
      try {
        const { state } = await postJson("pair/collect", { claim: claim.claim });
        setError(null);
        if (state !== "paired") return;
        setClaim(null);
        const wasOut = OUT.includes(exchange.value.stop);
        replaceRoute(["aboard", "phone"]);
        await startKeeping();
        if (wasOut) await meet();
      } catch (problem) {
        setError(ofCode(problem));
        if (![problem.code, ofCode(problem).code].some((code) => PASSES.includes(code))) setClaim(null);
      } finally {
        isAsking = false;
      }
    }, ASK_EVERY_MS);
    return () => clearInterval(timer);
  }, [claim]);
  const submit = async (event) => {
    event.preventDefault();
    setError(null);
    try {
      const key = secret ? { secret } : { code: values.code };
      setClaim(await postJson("pair", { ...key, name: values.name }));
    } catch (problem) {
      setError(ofCode(problem));
    }
  };
  if (claim) {
    return html`<p class="answer">${KEPT.digits(claim.digits)}</p>
      <p role="status">${KEPT.waiting_skipper}</p><${Problem} error=${error} />`;
  }
  const field = (name) => ({ name, value: values[name],
    onValue: (typed) => setValues({ ...values, [name]: typed }) });
  return html`<form class="stack" onSubmit=${submit} data-form="join"><h2>${KEPT.pair}</h2>
    <p>${KEPT.pair_help}</p><${Problem} error=${error} />
    ${!secret && html`<${TextField} label=${KEPT.code} ...${field("code")} />`}
    <${TextField} label=${KEPT.phone_name} ...${field("name")} />
    <button class="main" disabled=${!(secret || values.code) || !values.name}>${KEPT.join}</button></form>`;
}

/** What this phone keeps. */
export function PhoneView() {
  const { secret } = route.value.params;
  const isHere = LOCAL.includes(location.hostname) && !secret;
  return html`<${Page} title=${ABOARD.phone} back=${[href(["aboard"]), PLACE.aboard]}>
    ${device.value ? html`<${Kept} />` : html`<p>${KEPT.not_kept}</p>`}
    ${(!device.value || OUT.includes(exchange.value.stop)) && (isHere ? html`<${KeepHere} />`
      : html`<${Join} secret=${secret} />`)}
    ${(device.value ? device.value.role !== "guest" : isHere) && html`<${BringFile} />`}
  <//>`;
}
