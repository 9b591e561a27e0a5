/**
 * The words of the person's language, asked for before the rest of the page is read.
 * Another language needs none of the English ones; where its own do not come, asked for twice, English stands in.
 */

import { language } from "../language.js";

const WORDS = { en: () => import("./en.js"), da: () => import("./da.js") };
/** What the program's own tables and rules say, in another language; nothing waits for it. */
const TOLD = { da: () => import("./told/da.js") };

export const coming = WORDS[language]().catch(WORDS[language]).catch(WORDS.en);

/** Give the twins of what the program says; the module is empty in English, and where they do not come. */
export const tellings = () => TOLD[language]?.().catch(() => ({})) ?? Promise.resolve({});
