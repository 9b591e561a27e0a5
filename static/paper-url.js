/** Addresses of papers and labels, which the boat's computer prints in the language of this page. */

import { apiUrl } from "./api.js";
import { language } from "./language.js";

/** Give the address of a paper: `paperUrl("papers/card.pdf?service=S22")`. */
export function paperUrl(path) {
  return apiUrl(`${path}${path.includes("?") ? "&" : "?"}language=${language}`);
}
