"""Shapes of the exchange with devices, of pairing, and of the list of devices."""

from __future__ import annotations

from typing import Any

from marshmallow import fields, validate

from spares.actions.devices import GRANTS, LONGEST_NAME, ROLES
from spares.web.schemas.base import Answer, Asked, a_text, maybe, one_of
from spares.web.schemas.values import PlainText, Yes

WHOLE = fields.Integer
PAIRING_STATES = ("open", "claimed", "confirmed", "done", "refused", "expired", "locked")


def _name(**more: Any) -> fields.Field:
    return PlainText(longest=LONGEST_NAME, **more)


def _grants(**more: Any) -> fields.List:
    return fields.List(fields.String(validate=validate.OneOf(GRANTS)),
                       validate=validate.Length(0, len(GRANTS)), **more)


def _role(**more: Any) -> fields.String:
    return fields.String(validate=validate.OneOf(ROLES), **more)


class SyncBody(Asked):
    """What a device sends; each change in it is judged for itself (sync/PROTOCOL.md)."""

    proto = WHOLE(required=True)
    schema = WHOLE(required=True)
    vessel = fields.UUID(required=True)
    dev = fields.String(metadata={"description": "The device's number as it knows it"})
    inst = a_text("Random text made with the phone's outbox")
    cursor = maybe("As the last answer gave it; null at first")
    now = WHOLE(required=True, metadata={"description": "The device's clock [ms since 1970]"})
    off_prev = WHOLE(required=True, allow_none=True)
    boot_prev = maybe()
    stepped = fields.Boolean(required=True)
    last = WHOLE(required=True, metadata={"description": "Greatest number made"})
    ops = fields.List(fields.Raw())
    relay = fields.List(fields.Raw())
    gone = fields.List(fields.List(WHOLE()))
    want = WHOLE()
    epochs = fields.List(fields.List(fields.Raw()), metadata={
        "description": "Of an office: where rows in common stood in its own log"})


class SyncAnswer(Answer):
    """What a device gets; further members are told in sync/PROTOCOL.md."""

    proto = WHOLE(required=True)
    vessel = a_text()
    epoch = a_text()
    boot = a_text()
    now = WHOLE(required=True)
    dev = a_text()
    role = one_of(ROLES)
    clock = one_of(("good", "doubt"))
    results = fields.List(fields.Dict(), required=True)
    relayed = fields.List(fields.Dict(), required=True)
    next_n = WHOLE(required=True)
    need = fields.List(fields.List(WHOLE()), required=True)
    held = fields.List(fields.String(), required=True)
    changes = fields.List(fields.Dict(), required=True)
    cursor = maybe()
    more = fields.Boolean(required=True)


class HandoverBody(Asked):
    """Unsent changes of another phone, as that phone wrote them into a file."""

    vessel = fields.UUID(required=True)
    dev = fields.String(required=True, validate=validate.Regexp(r"[0-9A-Za-z]{8}\Z"))
    now = WHOLE(required=True, strict=True, validate=validate.Range(0, 2**53 - 1), metadata={
        "description": "That phone's clock when the file was written [ms since 1970]"})
    ops = fields.List(fields.Dict(), required=True, validate=validate.Length(1, 500))


class HandoverAnswer(Answer):
    """What became of each change."""

    results = fields.List(fields.Dict(), required=True)


class NewPairing(Asked):
    """The role is chosen here, by the skipper, and nowhere else."""

    role = _role(required=True)
    name = _name(load_default="")
    grants = _grants(load_default=list)


class PairingAnswer(Answer):
    """A pairing as it stands."""

    pairing = a_text()
    role = one_of(ROLES)
    grants = fields.List(fields.String(), required=True)
    state = one_of(PAIRING_STATES)
    name = a_text()
    digits = maybe("The same four on both screens")
    second_try = fields.Boolean(required=True, metadata={
        "description": "Another phone showed the same code"})
    expires_in_s = WHOLE(required=True)


class BegunPairing(PairingAnswer):
    """A pairing just begun: the only answer with its code."""

    code = a_text("For typing: 13 letters, good once")
    secret = a_text("For the picture code")
    url = maybe("What the picture code says; null where the boat's net is not served")
    qr_svg = maybe("The picture code")


class ShowCode(Asked):
    """What a phone shows: the code as typed, or the secret as scanned.

    It may say which role it would like; it gets the one that the skipper chose.
    """

    code = PlainText(shortest=1, longest=40)
    secret = fields.String(validate=validate.Regexp(r"[0-9a-f]{32}\Z"))
    name = _name(load_default="")
    role = _role()


class Claim(Answer):
    """The phone stands before the skipper."""

    claim = a_text("What to collect with")
    digits = a_text("The same four on both screens")
    state = one_of(("waiting",))
    expires_in_s = WHOLE(required=True)


class Collect(Asked):
    """Ask whether the skipper has decided."""

    claim = fields.String(required=True, validate=validate.Regexp(r"[0-9a-f]{64}\Z"))
    bearer = Yes(load_default=False, metadata={
        "description": "A program wants the token itself instead of a cookie"})


class Waiting(Answer):
    """The skipper has not decided yet."""

    state = one_of(("waiting",))


class VesselHead(Answer):
    """Which vessel the device belongs to."""

    id = a_text()
    mark = maybe()
    name = maybe()


class VesselRole(VesselHead):
    """A vessel aboard which the one who asks has rights."""

    role = one_of(ROLES)


class Me(Answer):
    """Who asks, as the server sees it."""

    dev = maybe("Null: this browser is not paired; only on the server itself")
    name = maybe()
    role = one_of(ROLES)
    grants = fields.List(fields.String(), required=True)
    here = fields.Boolean(required=True, metadata={"description": "On the server itself"})
    vessel = fields.Nested(VesselHead, required=True)
    vessels = fields.List(fields.Nested(VesselRole), required=True)
    certificate_until = maybe("Last day of the certificate on the boat's net; null without one")


class PairedMe(Me):
    """A device just paired; programs that asked for it get their token."""

    state = one_of(("paired",))
    token = fields.String()


class HereBody(Asked):
    """The browser on the server itself takes part as the skipper's."""

    name = _name(load_default="")


class AlsoLine(Answer):
    """A role aboard another vessel."""

    vessel = maybe("Her mark")
    role = one_of(ROLES)


class DeviceLine(Answer):
    """One device."""

    dev = a_text()
    name = a_text()
    role = one_of(ROLES)
    grants = fields.List(fields.String(), required=True)
    state = one_of(("paired", "retired", "lost"))
    this = fields.Boolean(required=True)
    paired_at = maybe()
    seen_at = maybe()
    last = WHOLE(required=True)
    next_n = WHOLE(required=True)
    held = WHOLE(required=True)
    lost_numbers = fields.List(fields.List(WHOLE()), required=True)
    also = fields.List(fields.Nested(AlsoLine), required=True)


class DeviceList(Answer):
    """All devices, or only the one that asks."""

    devices = fields.List(fields.Nested(DeviceLine), required=True)


class DeviceChange(Asked):
    """What is set otherwise; what is left out stays."""

    name = _name()
    role = _role()
    grants = _grants()


class AlsoBody(Asked):
    """Aboard which other vessel, and with what rights."""

    vessel = PlainText(longest=LONGEST_NAME, required=True)
    role = _role(required=True)
    grants = _grants(load_default=list)


class Revoke(Asked):
    """retired: left the crew, may hand in what it still has. lost: nothing is taken."""

    how = fields.String(required=True, validate=validate.OneOf(("retired", "lost")))


class HeldLine(Answer):
    """A change that waits for the skipper."""

    id = a_text()
    kind = a_text()
    dev = a_text()
    name = a_text()
    text = a_text()
    at = a_text()
    why = a_text()


class HeldList(Answer):
    """All that waits."""

    held = fields.List(fields.Nested(HeldLine), required=True)


class Decide(Asked):
    """What the skipper says."""

    decide = fields.String(required=True, validate=validate.OneOf(("approve", "reject")))
    say = PlainText(longest=200, load_default="")


class Decided(Answer):
    """What became of it."""

    id = a_text()
    outcome = one_of(("ok", "refused"))
    seq = WHOLE(required=True, allow_none=True)


class CodesBody(Asked):
    """How many label codes a device wants for itself."""

    what = fields.String(required=True, validate=validate.OneOf(("lot", "locker")))
    count = WHOLE(load_default=20, strict=True, validate=validate.Range(1, 100))


class Codes(Answer):
    """Codes that nobody else will give to anything."""

    codes = fields.List(fields.String(), required=True)
