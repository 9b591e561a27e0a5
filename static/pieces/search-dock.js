/** The field for a code or words, within the thumb's reach; `/` brings the cursor here. */

import { replaceRoute, route } from "../state.js";
import { useLayoutEffect, useRef } from "../vendor/hooks.js";
import { FIND, FIT, SCAN } from "../words.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";
import { useScan } from "./scan-button.js";
import { Shape } from "./shapes.js";

/** The text in the field: a label's own text when one was opened. */
export function searchText(now = route.value) {
  return now.params.label ?? now.query.q ?? "";
}

/** @param {{place: "find"|"fit"}} props */
export function SearchDock({ place }) {
  const field = useRef(null);
  const text = searchText();
  const scan = useScan(place, text);
  useLayoutEffect(() => {
    if (place === "fit") field.current?.focus();
  }, [place]);
  const typed = (event) => replaceRoute([place], { q: event.currentTarget.value || null });
  const clear = () => {
    replaceRoute([place]);
    field.current.focus();
  };
  const keys = (event) => {
    if (event.key === "Escape" && text) clear();
  };
  return html`<${Problem} error=${scan.error} />${scan.panel}<form class="search" role="search" onSubmit=${(event) => event.preventDefault()}>
    <label for="search">${place === "fit" ? FIT.field : `${FIND.label}: ${FIND.hint}`}</label>
    <div class="row"><input id="search" ref=${field} type="text" inputmode="text" value=${text}
        autocomplete="off" autocapitalize="characters"
        autocorrect="off" spellcheck=${false} enterkeyhint="search" onInput=${typed} onKeyDown=${keys} />
      ${text && html`<button type="button" onClick=${clear}>${FIND.clear}</button>`}
      <button type="button" class="scan-open" aria-expanded=${scan.isOpen} onClick=${scan.open}>
        <${Shape} name="scan" /><span class=${text ? "visually-hidden" : undefined}>${SCAN.open}</span></button></div>
  </form>`;
}
