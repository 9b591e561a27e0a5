"""Shapes of what is asked and answered about photos."""

from __future__ import annotations

from marshmallow import fields, validate

from spares.actions.photos import LARGEST_PHOTO
from spares.web.schemas.base import Answer, VesselQuery, a_text, a_whole, many, maybe, yes
from spares.web.schemas.do import Change
from spares.web.schemas.values import reference, remark

MIMES = ("image/jpeg", "image/png", "image/webp")


class Photo(Change):
    """photo: a picture was taken of a machine, part, locker or fit point; its bytes come apart."""

    of = reference("machine, part, locker or fit point", required=True)
    sha256 = fields.String(required=True, validate=validate.Regexp(r"\A[0-9a-f]{64}\Z"))
    size = fields.Integer(required=True, strict=True, data_key="bytes",
                          validate=validate.Range(1, LARGEST_PHOTO))
    mime = fields.String(required=True, validate=validate.OneOf(MIMES))
    note = remark()


class PhotosQuery(VesselQuery):
    """Of what."""

    of = reference("machine, part, locker or fit point", required=True)


class PieceQuery(VesselQuery):
    """Which piece of how much."""

    begins = fields.Integer(load_default=0, data_key="from",
                            validate=validate.Range(0, LARGEST_PHOTO),
                            metadata={"description": "Where the piece begins [bytes]"})
    whole = fields.Integer(data_key="of", validate=validate.Range(1),
                           metadata={"description": "Length of the photo [bytes]; without it "
                                                    "this is all of it"})


class PieceAnswer(Answer):
    """How much has come."""

    have = a_whole("where to go on [bytes]")
    whole = yes("the photo is here and was checked")


class PhotoMark(Answer):
    """Where on a photo a fit point is."""

    doc = a_text()
    point = maybe("number of the fit point")
    name = maybe()
    x = a_whole("from the left [thousandths of the width]")
    y = a_whole("from the top [thousandths of the height]")


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
    marks = many(PhotoMark, "fit points that are marked on it")


class MarkedPhoto(PhotoLine):
    """A photo of something else, on which a fit point is marked."""

    of = a_text("number of what it shows")
    name = maybe("what that is called")


class PhotosAnswer(Answer):
    """The photos of a thing, oldest first."""

    of = a_text()
    photos = many(PhotoLine)
    marked_on = many(MarkedPhoto, "photos of other things on which this fit point is marked")


class MissingPhoto(Answer):
    """A photo whose bytes have not come."""

    change = a_text()
    sha256 = a_text()
    of = a_text()
    device = a_text("the device that took it")


class MissingAnswer(Answer):
    """The photos whose bytes have not come."""

    missing = many(MissingPhoto)
