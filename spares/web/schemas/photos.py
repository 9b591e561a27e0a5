"""Shapes of what is asked and answered about photos."""

from __future__ import annotations

from marshmallow import fields, validate

from spares.actions.photos import LARGEST
from spares.web.schemas.base import Answer, VesselQuery, a_text, a_whole, many, maybe, yes
from spares.web.schemas.do import Change
from spares.web.schemas.values import reference, remark

MIMES = ("image/jpeg", "image/png", "image/webp")


class Photo(Change):
    """photo: a picture was taken of a machine, part, locker or fit point; its bytes come apart."""

    of = reference("machine, part, locker or fit point", required=True)
    sha256 = fields.String(required=True, validate=validate.Regexp(r"\A[0-9a-f]{64}\Z"))
    size = fields.Integer(required=True, strict=True, data_key="bytes",
                          validate=validate.Range(1, LARGEST))
    mime = fields.String(required=True, validate=validate.OneOf(MIMES))
    note = remark()


class PhotosQuery(VesselQuery):
    """Of what."""

    of = reference("machine, part, locker or fit point", required=True)


class PieceQuery(VesselQuery):
    """Which piece of how much."""

    begins = fields.Integer(load_default=0, data_key="from", validate=validate.Range(0, LARGEST),
                            metadata={"description": "Where the piece begins [bytes]"})
    whole = fields.Integer(data_key="of", validate=validate.Range(1),
                           metadata={"description": "Length of the photo [bytes]; without it "
                                                    "this is all of it"})


class PieceAnswer(Answer):
    """How much has come."""

    have = a_whole("where to go on [bytes]")
    whole = yes("the photo is here and was checked")


class PhotoLine(Answer):
    """A photo of a thing."""

    change = a_text()
    sha256 = a_text()
    bytes = a_whole()
    mime = a_text()
    note = maybe()
    at = a_text()
    device = a_text()
    here = yes("its bytes have come")


class PhotosAnswer(Answer):
    """The photos of a thing, oldest first."""

    of = a_text()
    photos = many(PhotoLine)


class MissingPhoto(Answer):
    """A photo whose bytes have not come."""

    change = a_text()
    sha256 = a_text()
    of = a_text()
    device = a_text("the device that took it")


class MissingAnswer(Answer):
    """The photos whose bytes have not come."""

    missing = many(MissingPhoto)
