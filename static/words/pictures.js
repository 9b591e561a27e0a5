/** Words in and beside pictures. */

export const PICTURE = {
  as_table: "As a table",
  hide_table: "Hide the table",
  leave: "Leave",
  back: "Back",
  before_leaving: "before leaving",
  time_line: "Services on the time line of the trip, by machine",
  time_line_head: ["Machine", "Service", "When", "Why"],
  time_line_text: (before, within) => `${before} services before leaving, ${within} on days of the trip.`,
  kinds: { trip: "due", before: "due", unknown: "history unknown", arrival: "due on arrival" },
  key: [["square-full", "in the trip"], ["square-frame", "before leaving"],
    ["square-dotted", "before leaving, history unknown"], ["square-double", "due on arrival"]],
  several: "A number: so many at once.",
  stop: "Triangle and dashes: a supply harbour.",
  hours: "Hours since each service, against its interval",
  hours_head: ["Machine", "Service", "Every", "When leaving", "Times in the trip", "When back"],
  hours_text: (count) => `${count} services that go by hours; each line falls to nothing where the service is done.`,
  hours_key: "The dashed line is the interval; squares: the service is done.",
  every: (hours) => `every ${hours}`,
  protection: "Protection against money",
  protection_head: (unit) => [`Cost (${unit || "money"})`, "Mass (kg)", "Of 100 trips"],
  protection_text: (points, start, reached) => `${points} kits, from ${start} to ${reached} of 100 trips.`,
  fewer_than_one: "fewer than 1",
  protection_key: (until) => `Upright: of 100 trips, those that need nothing against breakdown${until ? ` until ${until}` : ""} `
    + "that is not aboard. Along it: the cost, what is due included.",
  protection_chosen: "The ring is the kit chosen; no kit of its price passes the dashed line.",
};
