/** Words of the bag in which the kit of a job waits, and of how often a job comes round. */

import { sign } from "./sign.js";

export const BAG_STATE = {
  "not-begun": sign("Nothing gathered yet", "square-dotted", "aside"),
  begun: sign("Gathered in part", "square-half", "watch"),
  short: sign("Gathered, something is missing", "square-half", "watch"),
  bagged: sign("Complete in the bag", "square-full", "good"),
};

export const BAG = {
  title: "Bag of the kit",
  help: "What the job takes is gathered beforehand. It stays aboard and counts; other jobs take from it last.",
  gather: "Gathered: it lies in the bag",
  gather_rest: "Gathered the rest too",
  gather_text: (service) => `Gathered the kit of ${service}`,
  inside: "In the bag:",
  back: "Put it all back",
  back_text: (service) => `Put the kit of ${service} back`,
  stays: "No locker is known for what is left: move it to one.",
  look_only: "Guests look on: the crew gathers.",
  skipper_begins: "The skipper begins the bag; from then on the crew gathers too.",
  code: "Give the bag a label",
  code_text: "A code for the bag",
  label: (code) => `Print the label ${code}`,
};

export const INTERVAL = {
  title: "Sooner, later, or not here",
  help: "Empty takes an interval out. The reason stays in the note of the service.",
  hours: "Every so many hours",
  months: "Every so many months",
  not_wanted: "Not wanted here",
  because: "Why",
  now: "Record the interval",
  text: (service) => `${service}: interval`,
};
