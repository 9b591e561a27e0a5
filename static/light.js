// Runs before the first paint, so that the chosen light never flashes white and
// the first words are in the person's language.
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
  const asked = read("language") || "system";
  const language = asked === "system" ? navigator.language.slice(0, 2) : asked;
  document.documentElement.lang = language === "da" ? "da" : "en";
  document.documentElement.dataset.light = light;
  document.documentElement.dataset.hand = read("hand") || "right";
  document.documentElement.dataset.type = read("type") || "normal";
}());
