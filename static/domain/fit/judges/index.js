/**
 * Judges: one function a question, named by the kind sheets. Mirrors spares/domain/fit/judges.
 *
 * A judge takes the context, the sheet's line, the claim asked and the claim offered and gives a
 * finding. One that is alone answers also where the part says nothing of the attribute itself, or
 * nothing is asked (null then); one by place answers where nothing is asked. One of amounts finds a
 * match wherever a plain amount is inside plain limits, and looks further only where it is not.
 * MAY_FAIL tells of a place whether something of that sort would not do there.
 */

import { judgeOtherAge, judgeRubberAge } from "./ages.js";
import { judgeAnodeMetal, judgePassageDepth, judgePencilLength } from "./anodes.js";
import { judgeClosure } from "./bearings.js";
import { judgeBeltKind, judgeBeltSection, judgeGrooveDepth, judgeGrooves, judgeLength,
  judgeRibCount, judgeRibProfile } from "./belts.js";
import { judgeEngagement, judgeHand, judgeHoleDiameter, judgeNutClass, judgePropertyClass,
  judgeScrewMetal, judgeStack, someScrewEats } from "./fasteners.js";
import { judgeSpecification, judgeViscosity } from "./fluids.js";
import { judgeColour, judgeRating } from "./fuses.js";
import { WIDER, judgeBoltCircle, judgeBoltHole, judgeBoltThread } from "./holes.js";
import { judgeHoseHeat, judgeOnDiameter, judgeSpan, judgeSpigot, judgeStandard, judgeWall,
  someHoseSoftens } from "./hoses.js";
import { judgeMaterial, judgePumpMetal, judgeRubber, someRubberFails } from "./materials.js";
import { judgeGlandMax, judgeGlandMin, judgeMinSqueeze, judgeOringCode,
  judgeOringHeat } from "./orings.js";
import { judgeAny, judgeCode, judgeDay, judgeFlag, judgeQuantity, judgeRank,
  judgeWord } from "./plain.js";
import { judgeBarb, judgeDirection, judgePort } from "./ports.js";
import { judgeFlow, judgeMaxFlow, judgeMaxSpeed, judgeRotation } from "./pumps.js";
import { judgeForm, judgeLipSpeed, judgeRibs, judgeSealRotation, judgeSeatDepth, judgeSeatSize,
  judgeShaftGroove, judgeSpring } from "./seals.js";
import { judgeThread } from "./threads.js";

const JUDGES = {
  quantity: judgeQuantity, word: judgeWord, flag: judgeFlag, rank: judgeRank, any: judgeAny,
  code: judgeCode, day: judgeDay, thread: judgeThread, flow: judgeFlow, max_speed: judgeMaxSpeed,
  max_flow: judgeMaxFlow, rotation: judgeRotation, bolt_thread: judgeBoltThread,
  bolt_hole: judgeBoltHole, bolt_circle: judgeBoltCircle, port: judgePort, barb: judgeBarb,
  direction: judgeDirection, material: judgeMaterial, rubber: judgeRubber,
  pump_metal: judgePumpMetal, belt_kind: judgeBeltKind, belt_section: judgeBeltSection,
  groove_depth: judgeGrooveDepth, length: judgeLength, rib_profile: judgeRibProfile,
  rib_count: judgeRibCount, grooves: judgeGrooves, oring_code: judgeOringCode,
  gland_max: judgeGlandMax, min_squeeze: judgeMinSqueeze, gland_min: judgeGlandMin,
  oring_heat: judgeOringHeat, packing_shaft: judgeSeatSize, packing_bore: judgeSeatSize,
  seat_depth: judgeSeatDepth, seal_form: judgeForm, ribs: judgeRibs,
  seal_rotation: judgeSealRotation, spring: judgeSpring, lip_speed: judgeLipSpeed,
  shaft_groove: judgeShaftGroove, closure: judgeClosure, hand: judgeHand,
  engagement: judgeEngagement, stack: judgeStack, hole_diameter: judgeHoleDiameter,
  property_class: judgePropertyClass, nut_class: judgeNutClass, screw_metal: judgeScrewMetal,
  spigot: judgeSpigot, hose_heat: judgeHoseHeat, wall: judgeWall, standard: judgeStandard, on_diameter: judgeOnDiameter,
  span: judgeSpan, anode_metal: judgeAnodeMetal, pencil_length: judgePencilLength,
  passage_depth: judgePassageDepth, rating: judgeRating, fuse_colour: judgeColour,
  viscosity: judgeViscosity, specification: judgeSpecification, rubber_age: judgeRubberAge,
  other_age: judgeOtherAge,
};
const ALONE = new Set(["flow", "max_speed", "max_flow", "bolt_thread", "bolt_circle", "oring_code",
  "oring_heat", "packing_shaft", "packing_bore", "seal_rotation", "lip_speed", "shaft_groove",
  "hand", "engagement", "belt_kind"]);
const BY_PLACE = new Set(["material", "rubber", "pump_metal", "ribs", "spring", "screw_metal",
  "wall", "closure", "anode_metal", "rating", "fuse_colour", "rubber_age", "other_age"]);

const AMOUNTS = new Set(["quantity", "bolt_hole", "bolt_circle", "barb", "packing_shaft",
  "packing_bore", "engagement", "hose_heat"]);

const MAY_FAIL = { rubber: someRubberFails, screw_metal: someScrewEats,
  hose_heat: someHoseSoftens };

const nameOf = (attribute) => attribute.judge || attribute.type;

/** Give the judge that a line of a sheet names, else that of its type. */
export function judgeOf(attribute) {
  const name = nameOf(attribute);
  if (!Object.hasOwn(JUDGES, name)) throw new RangeError(`there is no judge '${name}'`);
  return JUDGES[name];
}

/** Tell whether the judge of a line answers without an offer of that attribute. */
export const answersAlone = (attribute) => ALONE.has(nameOf(attribute));

/** Tell whether the judge of a line finds a match wherever an amount is inside its limits. */
export const comparesAmounts = (attribute) => AMOUNTS.has(nameOf(attribute));

/** Give how many times the least that is asked is still plain; null where all above it is. */
export const plainUpTo = (attribute) => (nameOf(attribute) === "bolt_hole" ? WIDER : null);

/** Tell whether the judge of a line knows of something that would not do at a place. */
export const mayFail = (book, attribute, place) => (
  MAY_FAIL[nameOf(attribute)]?.(book, place) ?? false);

/** Tell whether the judge of a line answers where nothing is asked. */
export const answersByPlace = (attribute) => answersAlone(attribute)
  || BY_PLACE.has(nameOf(attribute));

/** Give every judge with how it may be asked, as a test compares them. */
export const judgeList = () => Object.keys(JUDGES)
  .map((name) => [name, ALONE.has(name), BY_PLACE.has(name), AMOUNTS.has(name),
    Object.hasOwn(MAY_FAIL, name)]);
