/** Ord i og ved billeder. */

export const PICTURE = {
  as_table: "Som tabel",
  hide_table: "Skjul tabellen",
  leave: "Afgang",
  back: "Hjemme",
  before_leaving: "før afgang",
  time_line: "Eftersyn på turens tidslinje, efter maskine",
  time_line_head: ["Maskine", "Eftersyn", "Hvornår", "Hvorfor"],
  time_line_text: (before, within) => `${before} eftersyn før afgang, ${within} på turens dage.`,
  kinds: { trip: "skal gøres", before: "skal gøres", unknown: "historie ukendt", arrival: "skal gøres ved ankomst" },
  key: [["square-full", "på turen"], ["square-frame", "før afgang"],
    ["square-dotted", "før afgang, historie ukendt"], ["square-double", "skal gøres ved ankomst"]],
  several: "Et tal: så mange på én gang.",
  stop: "Trekant og streger: en havn med forsyning.",
  hours: "Timer siden hvert eftersyn, mod dets interval",
  hours_head: ["Maskine", "Eftersyn", "Hver", "Ved afgang", "Gange på turen", "Hjemme"],
  hours_text: (count) => `${count} eftersyn, der går efter timer; hver linje falder til nul, hvor eftersynet gøres.`,
  hours_key: "Den stiplede linje er intervallet; firkanter: eftersynet gøres.",
  every: (hours) => `hver ${hours}`,
  protection: "Sikkerhed mod penge",
  protection_head: (unit) => [`Pris (${unit || "penge"})`, "Masse (kg)", "Af 100 ture"],
  protection_text: (points, start, reached) => `${points} sæt, fra ${start} til ${reached} af 100 ture.`,
  fewer_than_one: "under 1",
  protection_key: (until) => `Lodret: af 100 ture dem, der intet mangler mod havari${until ? ` indtil ${until}` : ""}, `
    + "som ikke er om bord. Vandret: prisen, med det der skal gøres.",
  protection_chosen: "Ringen er det valgte sæt; intet sæt til den pris når over den stiplede linje.",
};
