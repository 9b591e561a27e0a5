/** The first hour: her name, then lockers, labels, machines, a first trip, in any order. */

import { postJson } from "../api.js";
import { useDraft, useLoad } from "../load.js";
import { TextField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Problem } from "../pieces/problem.js";
import { Shape } from "../pieces/shapes.js";
import { href } from "../routes.js";
import { go, noVessel, revision, setVessel } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { ABOARD, BEGIN, PLACE, SAY } from "../words.js";

const PAGES = { lockers: ["aboard", "begin", "lockers"], labels: ["aboard", "papers"],
  machines: ["aboard", "begin", "machine"], trip: ["restock", "new"] };

function NameHer() {
  const draft = useDraft("begin-vessel", { mark: "", name: "" });
  const [state, setState] = useState({ error: null, sending: false });
  const { values, set } = draft;
  const submit = async (event) => {
    event.preventDefault();
    setState({ error: null, sending: true });
    try {
      const { vessel } = await postJson("begin/vessel", { mark: values.mark.trim(), name: values.name.trim() });
      draft.clear();
      noVessel.value = false;
      setVessel(vessel);
      go(["aboard", "begin"]);
    } catch (error) {
      if (!error.code) throw error;
      setState({ error, sending: false });
    }
    revision.value += 1;
  };
  return html`<form class="stack" onSubmit=${submit} data-form="begin-vessel">
    <p>${BEGIN.none}</p><h2>${BEGIN.vessel}</h2>
    <${TextField} label=${BEGIN.vessel_name} name="vessel-name" value=${values.name} onValue=${(name) => set({ name })} />
    <${TextField} label=${BEGIN.mark} hint=${BEGIN.mark_hint} name="mark" maxlength="3" autocapitalize="characters"
      value=${values.mark} onValue=${(mark) => set({ mark })} />
    <${Problem} error=${state.error} />
    <button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : BEGIN.vessel_now}</button>
    <p><a class="button" href=${href(["aboard", "files"])}>${BEGIN.or_file}</a></p></form>`;
}

/** One step: how much of it there is, and where it is done; any of them may come first. */
function Step({ name, count }) {
  const have = BEGIN.have[name]?.(count ?? 0);
  return html`<li><a class="line stack-tight" data-step=${name} href=${href(PAGES[name])}>
    <span class="name"><${Shape} name=${count ? "square-full" : "square-frame"} /> ${BEGIN.steps[name]}</span><br />
    <span class="small">${count ? have : BEGIN.steps_help[name]}</span></a></li>`;
}

function Steps() {
  const lockers = useLoad("lockers").data?.lockers.length;
  const machines = useLoad("machines").data?.machines.length;
  const trip = useLoad("trips").data?.trips.length;
  return html`<p>${BEGIN.intro}</p><ul class="lines"><${Step} name="lockers" count=${lockers} />
    <${Step} name="labels" /><${Step} name="machines" count=${machines} /><${Step} name="trip" count=${trip} /></ul>`;
}

/** Where a newcomer begins, and goes on. */
export function BeginView() {
  return html`<${Page} title=${ABOARD.begin} back=${!noVessel.value && [href(["aboard"]), PLACE.aboard]}
    sub=${noVessel.value ? null : ABOARD.begin_help}>${noVessel.value ? html`<${NameHer} />` : html`<${Steps} />`}<//>`;
}
