/** People and phones: pairing, leaving, and changes that wait for the skipper. */

import { getJson, postJson } from "../api.js";
import { showInstant } from "../dates.js";
import { isSkipper } from "../kept/kept.js";
import { useLoad } from "../load.js";
import { ChoiceField, RadioField, TickField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Loaded, Problem } from "../pieces/problem.js";
import { Sure } from "../pieces/sure.js";
import { href } from "../routes.js";
import { summary } from "../state.js";
import { useEffect, useState } from "../vendor/hooks.js";
import { ABOARD, KEPT, PEOPLE, PLACE, wordFor } from "../words.js";

const ASK_EVERY_MS = 2000;
const OVER = ["done", "refused", "expired", "locked"];

/** A code for one new phone, until it is in or over. */
function Pairing({ first, close }) {
  const [pairing, setPairing] = useState(first);
  const [error, setError] = useState(null);
  const path = `pairings/${first.pairing}`;
  useEffect(() => {
    const timer = setInterval(() => {
      getJson(path).then((now) => {
        setPairing((before) => ({ ...before, ...now }));
        setError(null);
        if (OVER.includes(now.state)) clearInterval(timer);
      }, setError);
    }, ASK_EVERY_MS);
    return () => clearInterval(timer);
  }, [path]);
  const decide = (word) => postJson(`${path}/${word}`, {}).then(
    (now) => setPairing({ ...pairing, ...now }), setError);
  const { state } = pairing;
  return html`<section class="panel stack" data-pairing=${state}><${Problem} error=${error} />
    ${state === "open" && html`<p>${pairing.url ? PEOPLE.code_help : PEOPLE.code_alone}</p><p class="answer code">${pairing.code}</p>
      ${pairing.url && html`<p class="small">${PEOPLE.at(pairing.url)}</p>`}
      ${pairing.qr_svg && html`<img width="240" height="240" alt="" src=${`data:image/svg+xml,${encodeURIComponent(pairing.qr_svg)}`} />`}`}
    ${state === "claimed" ? html`<p class="strong">${PEOPLE.claimed(pairing.name, pairing.digits)}</p>
        ${pairing.second_try && html`<p class="strong">${PEOPLE.second}</p>`}
        <div class="buttons"><button type="button" class="main" onClick=${() => decide("confirm")}>${PEOPLE.yes}</button>
        <button type="button" onClick=${() => decide("refuse")}>${PEOPLE.no}</button></div>`
      : html`<p role="status">${wordFor(PEOPLE.states, state)}</p>`}
    ${OVER.includes(state) && html`<button type="button" onClick=${close}>${PEOPLE.add}</button>`}</section>`;
}

const rightsOf = (role, mayTake) => ({ role, grants: role === "guest" && mayTake ? ["take"] : [] });

/** What a phone's owner may do; a guest looks, and takes where the skipper lets one. */
function Rights({ of = "", role, onRole, mayTake, onTake }) {
  return html`<${RadioField} label=${PEOPLE.role} name=${of ? `rights-${of}` : "role"} value=${role} onValue=${onRole}
      options=${Object.entries(PEOPLE.roles)} />
    ${role === "guest" && html`<${TickField} label=${PEOPLE.may_take} name=${of ? `may-take-${of}` : "may-take"}
      checked=${mayTake} onValue=${onTake} />`}`;
}

/** Another role for a phone that is in already. */
function OtherRights({ phone, again }) {
  const [role, setRole] = useState(phone.role);
  const [mayTake, setTake] = useState(phone.grants.includes("take"));
  const [send, error] = useDecision(again);
  const submit = (event) => {
    event.preventDefault();
    send(`devices/${phone.dev}`, rightsOf(role, mayTake), "PATCH");
  };
  return html`<details><summary>${PEOPLE.rights}</summary><form class="stack" data-form="rights" onSubmit=${submit}>
    <${Rights} of=${phone.dev} role=${role} onRole=${setRole} mayTake=${mayTake} onTake=${setTake} />
    <${Problem} error=${error} /><button>${PEOPLE.rights_set}</button></form></details>`;
}

function AddPhone({ again }) {
  const [role, setRole] = useState("crew");
  const [mayTake, setTake] = useState(false);
  const [pairing, setPairing] = useState(null);
  const [error, setError] = useState(null);
  if (pairing) {
    return html`<${Pairing} first=${pairing} close=${() => { setPairing(null); again(); }} />`;
  }
  const make = () => postJson("pairings", { name: "", ...rightsOf(role, mayTake) }).then(setPairing, setError);
  return html`<section class="stack"><h2>${PEOPLE.add}</h2><${Problem} error=${error} />
    <${Rights} role=${role} onRole=${setRole} mayTake=${mayTake} onTake=${setTake} />
    <button type="button" class="main" onClick=${make}>${PEOPLE.new_code}</button></section>`;
}

/** A role aboard another vessel, for whoever is skipper aboard both. */
function AlsoAboard({ phone, again }) {
  const [values, setValues] = useState({ vessel: "", role: "crew" });
  const [error, setError] = useState(null);
  const load = useLoad("vessels");
  const others = (load.data?.vessels ?? []).filter(({ mark }) => mark !== summary.value?.vessel?.mark);
  if (!others.length) return null;
  const submit = (event) => {
    event.preventDefault();
    postJson(`devices/${phone.dev}/also`, { ...values, vessel: values.vessel || others[0].mark }).then(() => {
      setError(null);
      again();
    }, setError);
  };
  return html`<details><summary>${PEOPLE.also}</summary><form class="stack" data-form="also" onSubmit=${submit}>
    <${ChoiceField} label=${PEOPLE.also_vessel} name=${`also-${phone.dev}`} value=${values.vessel || others[0].mark}
      onValue=${(vessel) => setValues({ ...values, vessel })} options=${others.map(({ mark, name }) => [mark, `${name} (${mark})`])} />
    <${RadioField} label=${PEOPLE.role} name=${`also-role-${phone.dev}`} value=${values.role}
      onValue=${(role) => setValues({ ...values, role })} options=${Object.entries(PEOPLE.roles)} />
    <${Problem} error=${error} /><button>${PEOPLE.also_give}</button></form></details>`;
}

/** Send what was decided, and ask for the list anew; gives [send, why it was not taken]. */
function useDecision(again) {
  const [error, setError] = useState(null);
  const send = (path, body, method = "POST") => postJson(path, body, method).then(() => null, (why) => why).then((why) => {
    setError(why);
    again();
  });
  return [send, error];
}

function Phone({ phone, again }) {
  const [send, error] = useDecision(again);
  const revoke = (how) => send(`devices/${phone.dev}/revoke`, { how });
  const mayTake = phone.role === "guest" && phone.grants?.includes("take");
  const lost = phone.lost_numbers.map(([from, to]) => (from === to ? from : `${from}–${to}`)).join(", ");
  return html`<li class="line" data-dev=${phone.dev}>
    <p class="strong">${phone.name}${phone.this ? ` (${PEOPLE.this_one})` : ""}</p>
    <p>${[wordFor(KEPT.roles, phone.role), mayTake && PEOPLE.may_take_too, wordFor(PEOPLE.phone_states, phone.state),
      phone.seen_at ? PEOPLE.seen(showInstant(phone.seen_at)) : PEOPLE.never_seen].filter(Boolean).join(" · ")}</p>
    ${phone.also?.length > 0 && html`<p data-also>${PEOPLE.also_now(phone.also.map(({ vessel, role }) =>
    `${vessel} (${wordFor(KEPT.roles, role)})`).join(", "))}</p>`}
    ${phone.held > 0 && html`<p>${PEOPLE.held(phone.held)}</p>`}
    ${lost && html`<p class="strong">${PEOPLE.lost_numbers(lost)}</p>`}
    ${phone.state === "paired" && !phone.this && html`<div class="buttons">
      <${Sure} text=${PEOPLE.retire} asked=${PEOPLE.retire_asked} onYes=${() => revoke("retired")} />
      <${Sure} text=${PEOPLE.lose} asked=${PEOPLE.lose_asked} onYes=${() => revoke("lost")} /></div>`}<${Problem} error=${error} />
    ${phone.state === "paired" && !phone.this && isSkipper() && phone.grants && !phone.grants.includes("office")
      && html`<${OtherRights} phone=${phone} again=${again} />`}
    ${phone.state === "paired" && isSkipper() && html`<${AlsoAboard} phone=${phone} again=${again} />`}</li>`;
}

function Held() {
  const load = useLoad("held");
  const [send, error] = useDecision(load.again);
  const decide = (id, word) => send(`held/${id}`, { decide: word });
  const held = load.data?.held ?? [];         // why there is no answer, the list below says
  return held.length > 0 && html`<section>
    <h2>${PEOPLE.waiting}</h2><${Problem} error=${error} /><ul class="lines">${held.map((one) => html`<li class="line" key=${one.id}>
      <p class="strong">${one.text}</p>
      <p>${[one.name, showInstant(one.at), wordFor(PEOPLE.why, one.why)].join(" · ")}</p>
      <div class="buttons"><button type="button" onClick=${() => decide(one.id, "approve")}>${PEOPLE.take}</button>
      <button type="button" onClick=${() => decide(one.id, "reject")}>${PEOPLE.refuse}</button></div></li>`)}
    </ul></section>`;
}

/** The crew's phones. */
export function PeopleView() {
  const load = useLoad("devices");
  return html`<${Page} title=${ABOARD.people} back=${[href(["aboard"]), PLACE.aboard]}>
    <${Held} />
    <${Loaded} load=${load}>${({ devices }) => html`<ul class="lines">
      ${devices.filter((one) => one.state !== "server").map((phone) => html`<${Phone} key=${phone.dev}
        phone=${phone} again=${load.again} />`)}</ul>`}<//>
    <${AddPhone} again=${load.again} />
  <//>`;
}
