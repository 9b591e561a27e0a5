/** All words on screen, and the words for codes. Views import from here only. */

export * from "./words/asking.js";
export * from "./words/cautions.js";
export * from "./words/codes.js";
export * from "./words/counting.js";
export * from "./words/gauges.js";
export * from "./words/joints.js";
export * from "./words/kept.js";
export * from "./words/lay-up.js";
export * from "./words/learning.js";
export * from "./words/loans.js";
export * from "./words/measuring.js";
export * from "./words/people.js";
export * from "./words/photos.js";
export * from "./words/pictures.js";
export * from "./words/places.js";
export * from "./words/screens.js";
export * from "./words/trails.js";
export * from "./words/trips.js";
export * from "./words/walk-round.js";
export * from "./words/work.js";
