/**
 * Machines that began on this phone, as the boat's computer will tell of them; what comes round on them
 * with its cautions is told by her. Mirrors machine_thing of spares/actions/things.py.
 */

import { gaugesOf, testRunsOf } from "./gauges.js";
import { idOf } from "./log-index.js";
import { begunPoint } from "./written.js";

const inOrder = (items) => items.sort((one, other) => ((one.no ?? "") < (other.no ?? "") ? -1 : 1));
const HEAD = ["no", "name", "model", "maker", "serial", "place", "code", "counter", "note"];

const pointsOf = (aboard, ref) => inOrder(aboard.all("point").filter((one) => one.machine === ref));

function headOf(aboard, doc) {
  return { type: "machine", id: idOf(doc.ref), ...Object.fromEntries(HEAD.map((name) => [name, doc[name] ?? null])),
    counter_of: doc.counter_of ? aboard.get(doc.counter_of)?.no ?? null : null,
    hazards: (doc.hazards ?? "").split(/[,\s]+/).filter(Boolean), do_not_run: [], hours: null, read_on: null };
}

/** Give the machine of a number that this phone's copy has, or null. */
export function machineBegun(aboard, number) {
  const doc = aboard.named(number, "machine");
  return doc && { ...headOf(aboard, doc), readings: [], cautions: [], burns: doc.burns ?? null,
    gauges: gaugesOf(aboard, doc.ref), test_runs: testRunsOf(aboard, doc.ref),
    points: pointsOf(aboard, doc.ref).map((point) => begunPoint(aboard, point)), begun_here: true,
    services: inOrder(aboard.all("service").filter((one) => one.machine === doc.ref)).map((one) => one.no) };
}

/** The list of machines with those that began here, without those whose beginning was taken back. */
export function machinesNow(list, aboard) {
  const known = new Set(list.machines.map((one) => one.id));
  const begun = aboard.unsentOf("machine").map((name) => aboard.get(name)).filter((doc) => doc && !known.has(idOf(doc.ref)));
  const stay = list.machines.filter((one) => aboard.record(`machine/${one.id}`)?.gone !== true);
  return { ...list, machines: [...stay, ...begun.map((doc) => ({ ...headOf(aboard, doc), points: pointsOf(aboard, doc.ref).length }))] };
}
