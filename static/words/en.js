/** English: the words of every topic. */

export * from "./apart.js";
export * from "./asking.js";
export * from "./bags.js";
export * from "./begin.js";
export * from "./cautions.js";
export * from "./codes.js";
export * from "./counting.js";
export * from "./deck-plan.js";
export * from "./gauges.js";
export * from "./help.js";
export * from "./joints.js";
export * from "./kept.js";
export * from "./lay-up.js";
export * from "./learning.js";
export * from "./loans.js";
export * from "./measuring.js";
export * from "./people.js";
export * from "./photos.js";
export * from "./pictures.js";
export * from "./places.js";
export * from "./scan.js";
export * from "./screens.js";
export * from "./trails.js";
export * from "./trips.js";
export * from "./walk-round.js";
export * from "./work.js";
