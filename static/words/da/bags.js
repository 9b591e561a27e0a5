/** Ord om posen, som et arbejdes sæt venter i. */

import { sign } from "../sign.js";

export const BAG_STATE = {
  "not-begun": sign("Intet samlet endnu", "square-dotted", "aside"),
  begun: sign("Delvis samlet", "square-half", "watch"),
  short: sign("Samlet, noget mangler", "square-half", "watch"),
  bagged: sign("Alt ligger i posen", "square-full", "good"),
};

export const BAG = {
  title: "Sættets pose",
  help: "Det, arbejdet kræver, samles på forhånd. Det bliver om bord og tæller med; andre arbejder tager fra posen til sidst.",
  gather: "Samlet: det ligger i posen",
  gather_rest: "Resten er også samlet",
  gather_text: (service) => `Sættet til ${service} samlet`,
  inside: "I posen:",
  back: "Læg det hele tilbage",
  back_text: (service) => `Sættet til ${service} lagt tilbage`,
  stays: "Der kendes intet rum til det, der er tilbage: flyt det til et.",
  look_only: "Gæster ser til: besætningen samler.",
  skipper_begins: "Skipperen begynder posen; derefter samler besætningen også.",
  code: "Giv posen et mærke",
  code_text: "En kode til posen",
  label: (code) => `Udskriv mærket ${code}`,
};

export const INTERVAL = {
  title: "Før, senere eller slet ikke",
  help: "Tomt felt fjerner intervallet. Grunden bliver stående i arbejdets bemærkning.",
  hours: "For hver så mange timer",
  months: "For hver så mange måneder",
  not_wanted: "Ønskes ikke her",
  because: "Hvorfor",
  now: "Notér intervallet",
  text: (service) => `${service}: interval`,
};
