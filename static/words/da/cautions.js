/** Hvad der står ved enhver advarsel. */

export const CAUTION_WORD = "Pas på";

export const DEFERRAL = "Lokale regler og fabrikantens bog bestemmer; "
  + "hvor der kræves autorisation, overlades det til en autoriseret.";

export const OPENING = {
  mark: "stored energy",
  text: "Rækkefølge: kend energien, stop, afbryd, lås af eller sæt skilt på, "
    + "slip det oplagrede løs, prøv at det er dødt.",
};

export const PIECES = {
  mark: "pieces",
  text: "Start ikke, før sporet er lukket, eller det, der mangler, er godkendt skriftligt.",
};
