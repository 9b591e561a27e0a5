/** Light, hand, type and language: how this phone shows things. */

import { LANGUAGES, languageChosen, setLanguage } from "../language.js";
import { RadioField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { href } from "../routes.js";
import { hand, light, setHand, setLight, setType, type } from "../state.js";
import { ABOARD, PLACE } from "../words.js";

/** Night is a choice, never automatic: red light distorts colours and hinders focusing. */
export function LightView() {
  return html`<${Page} title=${ABOARD.light} back=${[href(["aboard"]), PLACE.aboard]}>
    <${RadioField} label=${ABOARD.light_word} name="light" value=${light.value} onValue=${setLight}
      options=${Object.entries(ABOARD.lights).map(([code, words]) => [code, words, ABOARD.lights_help[code]])} />
    ${light.value === "night" && html`<p class="strong" role="status">${ABOARD.night_note}</p>`}
    <${RadioField} label=${ABOARD.hand_word} name="hand" value=${hand.value} onValue=${setHand}
      options=${Object.entries(ABOARD.hands)} />
    <${RadioField} label=${ABOARD.type_word} name="type" value=${type.value} onValue=${setType}
      options=${Object.entries(ABOARD.types)} />
    <${RadioField} label=${ABOARD.language_word} name="language" value=${languageChosen} onValue=${setLanguage}
      options=${[...Object.entries(ABOARD.languages), ...Object.entries(LANGUAGES)]} />
  <//>`;
}
