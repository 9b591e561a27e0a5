/** A view whose file is brought when it is opened for the first time. */

import { useEffect, useState } from "../vendor/hooks.js";
import { bringView, viewNow } from "../views.js";
import { SAY } from "../words.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";

const SIGN_MS = 1000;

/** @param {{view: string}} props; another view is another instance (by its key) */
export function Brought({ view }) {
  const [Shown, setShown] = useState(() => viewNow(view));
  const [state, setState] = useState({ slow: false, error: null });
  const bring = () => {
    setState({ slow: false, error: null });
    const timer = setTimeout(() => setState({ slow: true, error: null }), SIGN_MS);
    bringView(view).then((come) => setShown(() => come), () => setState({ slow: false, error: { code: "no-answer" } }))
      .finally(() => clearTimeout(timer));
  };
  useEffect(() => {
    if (!Shown) bring();
  }, [view]);
  if (Shown) return html`<${Shown} />`;
  if (state.error) return html`<div class="page"><${Problem} error=${state.error} again=${bring} /></div>`;
  return state.slow ? html`<p class="waiting quiet page" role="status">${SAY.waiting}</p>` : null;
}
