"""The joint sheet on a job card: pieces from the face outwards, order, passes, torque, warnings."""

from __future__ import annotations

from dataclasses import dataclass

from reportlab.platypus import Flowable

from spares.paper.cells import BOX, caution_lead, heading, text
from spares.paper.language import Words


@dataclass(frozen=True, slots=True)
class JointSheet:
    """One joint; lines are ready to print. `warnings` are pairs of mark and text."""

    name: str
    pieces: tuple[str, ...] = ()
    laid: str = ""
    order: tuple[int, ...] = ()
    passes: tuple[int, ...] = ()
    torque: str = ""
    remarks: tuple[str, ...] = ()
    warnings: tuple[tuple[str, str], ...] = ()
    note: str = ""


def joint_story(say: Words, sheet: JointSheet, size: float) -> list[Flowable]:
    """Lay out one joint sheet at a type size [pt]."""
    story: list[Flowable] = [*heading(say("joint.sheet", name=sheet.name), size)]
    story += [text(say.told(warning), size - 1, lead=caution_lead(say, say.told(mark)))
              for mark, warning in sheet.warnings]
    if sheet.pieces:
        story.append(text(say("joint.outwards"), size, bold=True))
        story += [text(f"{BOX} {number}. {piece}", size)
                  for number, piece in enumerate(sheet.pieces, start=1)]
    if sheet.order:
        story.append(text(" – ".join(map(str, sheet.order)), size,
                          lead=say("joint.order", laid=sheet.laid)))
    if sheet.passes:
        gone = "  ".join(f"{BOX} {share} %" for share in sheet.passes)
        story.append(text(f"{gone}  {BOX} {say('joint.round')}", size, lead=say("joint.passes")))
    story.append(text(sheet.torque, size, lead=say("joint.torque")))
    story += [text(remark, size - 2) for remark in sheet.remarks]
    return [*story, *([text(sheet.note, size - 1)] if sheet.note else [])]
