/** Templates: text is always escaped by construction (a value becomes a text node). */

import htm from "../vendor/htm.js";
import { h } from "../vendor/preact.js";

export const html = htm.bind(h);
