// Runs before the first paint, so that the chosen light never flashes white.
// Classic script: a module would run too late.
(function setLight() {
  "use strict";
  function read(key) {
    try {
      return JSON.parse(localStorage.getItem("spares." + key));
    } catch {
      return null;
    }
  }
  const chosen = read("light") || "system";
  const dark = matchMedia("(prefers-color-scheme: dark)").matches;
  const light = chosen === "system" ? (dark ? "below" : "deck") : chosen;
  document.documentElement.dataset.light = light;
  document.documentElement.dataset.hand = read("hand") || "right";
}());
