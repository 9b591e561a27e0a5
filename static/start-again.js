// Where a file of the page did not come, nothing starts and nobody says so: fetch the page once
// more, and if that is no better, say it. A classic script, so that it needs no other file.
"use strict";

(() => {
  const [KEY, PAUSE_MS] = ["spares-started-again", 30000];

  function mayTryAgain() {
    try {
      const last = Number(sessionStorage.getItem(KEY));
      sessionStorage.setItem(KEY, String(Date.now()));
      return Date.now() - last > PAUSE_MS;
    } catch {
      return false;     // without a memory it might go on for ever
    }
  }

  addEventListener("error", ({ target }) => {
    if (target?.tagName !== "SCRIPT") return;
    if (mayTryAgain()) location.reload();
    else document.getElementById("not-whole").hidden = false;
  }, true);
})();
