/** The language of the page: chosen by the person, else as the phone says, else English. */

import { keep, recall } from "./phone-store.js";

/** Each language by the name it gives itself. */
export const LANGUAGES = { en: "English", da: "Dansk" };

const asked = recall("language", "system");
const phones = (globalThis.navigator?.language ?? "en").slice(0, 2);
const wanted = asked === "system" ? phones : asked;

export const language = LANGUAGES[wanted] ? wanted : "en";

/** What was chosen: `system` or a language. */
export const languageChosen = asked;

/** Choose a language; the page starts anew in it, and what was half typed is kept. */
export function setLanguage(name) {
  keep("language", name);
  globalThis.location.reload();
}

if (globalThis.document) document.documentElement.lang = language;
