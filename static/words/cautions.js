/**
 * What stands with every caution. The texts of the hazards themselves come with the answers;
 * these here are needed even when an answer names none.
 */

export const CAUTION_WORD = "Caution";

export const DEFERRAL = "Local rules and the maker's book decide; "
  + "where a licence is required, leave it to the licensed trade.";

/** Holds for any opening, whatever the machine. */
export const OPENING = {
  mark: "stored energy",
  text: "Order to follow: know the energy, shut down, isolate, lock or tag, "
    + "release what is stored, try that it is dead.",
};

/** Holds while a piece of a machine is missing. */
export const PIECES = {
  mark: "pieces",
  text: "Do not run before the trail is closed or the gap accepted in writing.",
};
