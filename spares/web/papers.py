"""GET papers, job cards and the lay-up list."""

from __future__ import annotations

from typing import Any

from flask import Response, current_app

from spares.actions.card import card
from spares.actions.lay_up import lay_up
from spares.actions.papers.paper import paper
from spares.web.api import ApiBlueprint
from spares.web.language import language_of
from spares.web.schemas import papers
from spares.web.schemas.base import VesselQuery
from spares.web.store import context

PDF = "application/pdf"
_BINARY = {"type": "string", "format": "binary"}

blueprint = ApiBlueprint("papers", "Papers to print, job cards, lay-up")


@blueprint.route("/papers/<name>.pdf")
@blueprint.arguments(papers.PaperQuery, location="query")
@blueprint.response(200, _BINARY, content_type=PDF)
def paper_pdf(query: dict[str, Any], name: str) -> Response:
    """Print a paper.

    shopping, put-away and trip (of a trip), stores, insurance, handover, index, lid (of a locker),
    stranded, card (of a service), lay-up, measuring (of a fit point), trail (of a trail, or to
    fill in for a machine).
    """
    asked = {**query, "language": language_of(query)}
    asked.pop("vessel", None)
    response: Response = current_app.response_class(paper(context(), name, **asked), mimetype=PDF)
    response.headers["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return response


@blueprint.route("/services/<ref>/card")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, papers.Card)
def job_card(query: dict[str, Any], ref: str) -> dict[str, Any]:
    """Show the job card of a service: cautions, kit with lockers, what is missing."""
    return card(context(), ref)


@blueprint.route("/layup")
@blueprint.arguments(papers.LayUpQuery, location="query")
@blueprint.response(200, papers.LayUp)
def laying_up(query: dict[str, Any]) -> dict[str, Any]:
    """List where water is let out or treated, what was recorded there, what is left open."""
    return lay_up(context(), spring=query["spring"])
