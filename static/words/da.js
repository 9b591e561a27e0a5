/** Dansk: ordene for hvert emne, med de samme navne som på engelsk. */

export * from "./da/across.js";
export * from "./da/apart.js";
export * from "./da/asking.js";
export * from "./da/bags.js";
export * from "./da/begin.js";
export * from "./da/cautions.js";
export * from "./da/codes.js";
export * from "./da/counting.js";
export * from "./da/deck-plan.js";
export * from "./da/gauges.js";
export * from "./da/help.js";
export * from "./da/joints.js";
export * from "./da/kept.js";
export * from "./da/lay-up.js";
export * from "./da/learning.js";
export * from "./da/loans.js";
export * from "./da/measuring.js";
export * from "./da/people.js";
export * from "./da/photos.js";
export * from "./da/pictures.js";
export * from "./da/places.js";
export * from "./da/scan.js";
export * from "./da/screens.js";
export * from "./da/trails.js";
export * from "./da/trips.js";
export * from "./da/unsettled.js";
export * from "./da/walk-round.js";
export * from "./da/work.js";

// hvad programmets egne tabeller og regler siger på engelsk
export * from "./told/da-fit.js";
export * from "./told/da-log.js";
export * from "./told/da-plans.js";
export * from "./told/da-problems.js";
export * from "./told/da-tables.js";
