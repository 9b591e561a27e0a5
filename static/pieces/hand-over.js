/** Handing over what this phone cannot send, and bringing what another could not. */

import { bring } from "../kept/hand-over.js";
import { keeper } from "../kept/kept.js";
import { saveText } from "../save-text.js";
import { announce, revision } from "../state.js";
import { useId, useState } from "../vendor/hooks.js";
import { KEPT } from "../words.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";

/** A button that writes what waits here into a file; it stays here until the boat's computer has it. */
export function HandOver() {
  const write = () => saveText(JSON.stringify(keeper.value.unsentFile()), KEPT.hand_over_file);
  return html`<p class="small quiet">${KEPT.hand_over_help}</p>
    <button type="button" onClick=${write} data-act="hand-over">${KEPT.hand_over}</button>`;
}

/** A field that takes another phone's file and brings it. */
export function BringFile() {
  const id = useId();
  const [state, setState] = useState({ said: null, error: null, isBusy: false });
  const choose = async ([file]) => {
    if (!file) return;
    setState({ said: null, error: null, isBusy: true });
    try {
      const said = KEPT.brought(await bring(await file.text()));
      setState({ said, error: null, isBusy: false });
      announce(said);
      revision.value += 1;
    } catch (error) {
      if (!error.code) throw error;
      setState({ said: null, error, isBusy: false });
    }
  };
  const chosen = ({ currentTarget }) => {
    choose(currentTarget.files);
    currentTarget.value = "";       // the same file again is a choice as well
  };
  return html`<section class="stack" data-piece="bring-file"><h2>${KEPT.bring}</h2><p>${KEPT.bring_help}</p>
    <div class="field"><label for=${id}>${KEPT.bring_choose}</label>
      <input id=${id} type="file" name="handed-over" accept=".json,application/json" disabled=${state.isBusy}
        onChange=${chosen} /></div>
    <${Problem} error=${state.error} />
    ${state.said && html`<p class="answer" role="status">${state.said}</p>`}</section>`;
}
