"""Devices of a vessel: who may write, under which numbers, and what their tokens stand for."""

from __future__ import annotations

import hashlib
from collections.abc import Collection
from dataclasses import replace
from typing import Any

from sqlalchemy import func, select
from sqlmodel import Session, col

from spares.db import tables
from spares.db.epochs import fresh_dev
from spares.errors import NotFound
from spares.sync.store import Device, still_lost

#: What the exchange knows of a device, the same in its value and its row.
SHARED = ("role", "inst", "revoked", "revoked_ms", "last")
SHARED_LISTS = ("grants", "was", "roles_before")


def hash_of(token: str) -> str:
    """Give what is kept of a token: 256 random bits need no slow hash."""
    return hashlib.sha256(token.encode()).hexdigest()


def by_token(session: Session, token: str) -> tables.Device | None:
    """Find the device that a token stands for, whatever vessel it belongs to."""
    return session.execute(select(tables.Device).where(
        col(tables.Device.token_hash) == hash_of(token))).scalars().first()


def by_token_in_time(session: Session, token: str, wall_ms: int
                     ) -> list[tuple[tables.Device, int]]:
    """Find what a token stands for, with the time [ms] of each vessel's log, in one statement.

    It is a row for each vessel on which the device has, or had, a role; the one it was paired
    with first stands in front.
    """
    return _of_hash(session, hash_of(token), wall_ms)


def same_device(session: Session, vessel: str, dev: str, wall_ms: int
                ) -> list[tuple[tables.Device, int]]:
    """Give what `by_token_in_time` gives, of the device that has a number aboard a vessel."""
    row = session.get(tables.Device, (vessel, dev))
    # Numbers without a token are nobody's: they must not be taken for one device.
    return [] if row is None or not row.token_hash else _of_hash(session, row.token_hash, wall_ms)


def _of_hash(session: Session, token_hash: str, wall_ms: int) -> list[tuple[tables.Device, int]]:
    return [(row, max(wall_ms + adj_ms, last_ms)) for row, adj_ms, last_ms in session.execute(
        select(tables.Device, col(tables.Logbook.adj_ms), col(tables.Logbook.last_ms))
        .join(tables.Logbook, col(tables.Logbook.vessel) == col(tables.Device.vessel))
        .where(col(tables.Device.token_hash) == token_hash)
        .order_by(col(tables.Device.paired_ms), col(tables.Device.dev)))]


def may_ask(row: tables.Device, now_ms: int) -> bool:
    """Say whether a row gives rights now [ms]."""
    return not row.revoked and not (row.until_ms and now_ms > row.until_ms)


def device_of(row: tables.Device) -> Device:
    """Give a device as the exchange wants it."""
    said: dict[str, Any] = {name: getattr(row, name) for name in SHARED}
    said |= {name: tuple(getattr(row, name) or ()) for name in SHARED_LISTS}
    return Device(dev=row.dev, **said)


def save(session: Session, vessel: str, device: Device) -> None:
    """Keep what changed about a device."""
    row = session.get_one(tables.Device, (vessel, device.dev))
    _write(row, device)
    session.add(row)
    session.flush()


def pair(session: Session, vessel: str, token: str, *, name: str, role: str,
         grants: tuple[str, ...] = (), now_ms: int, until_ms: int = 0) -> tables.Device:
    """Pair a device: *token* stands for a fresh number from now on, until *until_ms*."""
    row = tables.Device(vessel=vessel, dev=fresh_dev(session, vessel), name=name, role=role,
                        grants=list(grants), token_hash=hash_of(token), paired_ms=now_ms,
                        seen_ms=now_ms, until_ms=until_ms)
    session.add(row)
    session.flush()
    return row


def pair_also(session: Session, vessel: str, of: tables.Device, *, role: str,
              grants: tuple[str, ...], now_ms: int, until_ms: int) -> tables.Device:
    """Give a device of another vessel a role aboard this one, under a number of its own here.

    One that had left this crew comes in anew: what it wrote before stays its own.
    """
    gone = session.execute(select(tables.Device).where(
        col(tables.Device.vessel) == vessel,
        col(tables.Device.token_hash) == of.token_hash)).scalars().first()
    row = tables.Device(vessel=vessel, dev=fresh_dev(session, vessel), name=of.name, role=role,
                        grants=list(grants), token_hash=of.token_hash, until_ms=until_ms,
                        paired_ms=max(now_ms, of.paired_ms + 1))
    # Its own vessel is the one that it was paired with first, and stays so.
    if gone is not None:
        row.was, row.paired_ms = _numbers_of(gone), gone.paired_ms
        gone.token_hash = ""
        session.add(gone)
    session.add(row)
    session.flush()
    return row


def paired(session: Session, vessel: str) -> list[tables.Device]:
    """List the devices that have, or had, a token, the one paired first in front."""
    return list(session.execute(select(tables.Device).where(
        col(tables.Device.vessel) == vessel, col(tables.Device.token_hash) != "")
        .order_by(col(tables.Device.paired_ms), col(tables.Device.dev))).scalars())


def people(session: Session, vessel: str) -> dict[str, tables.Device]:
    """Give, by each number that a device has or had, the row of the device itself."""
    return {dev: row for row in paired(session, vessel) for dev in _numbers_of(row)}


def find_paired(session: Session, vessel: str, dev: str) -> tables.Device:
    """Give the row of a device that has, or had, a token.

    Raises:
        NotFound: there is none under this number.
    """
    row = session.get(tables.Device, (vessel, dev))
    if row is None or not row.token_hash:
        raise NotFound("there is no such device", dev=dev)
    return row


def touch(session: Session, vessel: str, dev: str, *, seen_ms: int, until_ms: int | None) -> None:
    """Note when a device was seen last, and until when its token is good (None: as before)."""
    row = session.get_one(tables.Device, (vessel, dev))
    row.seen_ms = seen_ms
    row.until_ms = row.until_ms if until_ms is None else until_ms
    session.add(row)
    session.flush()


def count_turned_away(session: Session, vessel: str, dev: str) -> None:
    """Count that a lost device asked."""
    row = session.get_one(tables.Device, (vessel, dev))
    row.turned_away += 1
    session.add(row)


def made_since(session: Session, vessel: str, dev: str, since_at: str) -> int:
    """Count the changes of a device in the log that hold after a stamp [1]."""
    return session.execute(select(func.count()).where(
        col(tables.LogEntry.vessel) == vessel, col(tables.LogEntry.dev) == dev,
        col(tables.LogEntry.at) > since_at)).scalar() or 0


def waiting_of(session: Session, row: tables.Device) -> int:
    """Count the changes of a device, under all its numbers, that wait for the skipper [1]."""
    return session.execute(select(func.count()).where(
        col(tables.HeldChange.vessel) == row.vessel,
        col(tables.HeldChange.dev).in_(_numbers_of(row)))).scalar() or 0


def lost_of(session: Session, row: tables.Device) -> list[list[int]]:
    """Give the ranges of numbers that a device made and lost."""
    return sorted([first, last] for _, first, last in lost_numbers(
        session, row.vessel, _numbers_of(row)))


def lost_numbers(session: Session, vessel: str, devs: Collection[str]
                 ) -> list[tuple[str, int, int]]:
    """Give the ranges of these devices' numbers that were lost and never came after all."""
    found = []
    for one in session.execute(select(tables.LostRange).where(
            col(tables.LostRange.vessel) == vessel, col(tables.LostRange.dev).in_(devs))
            .order_by(col(tables.LostRange.first))).scalars():
        used = [n for table in (tables.LogEntry, tables.UsedNumber) for n in session.execute(
            select(col(table.n)).where(
                col(table.vessel) == vessel, col(table.dev) == one.dev,
                col(table.n).between(one.first, one.last))).scalars()]
        found += [(one.dev, *left) for left in still_lost(one.first, one.last, used)]
    return found


def waiting(session: Session, vessel: str) -> list[tuple[tables.HeldChange, str]]:
    """Give the changes that wait for the skipper, oldest first, with their devices' names."""
    return [(row, name) for row, name in session.execute(
        select(tables.HeldChange, col(tables.Device.name)).join(tables.Device, (
            (col(tables.Device.vessel) == tables.HeldChange.vessel)
            & (col(tables.Device.dev) == tables.HeldChange.dev)))
        .where(col(tables.HeldChange.vessel) == vessel).order_by(col(tables.HeldChange.at)))]


def time_ms(session: Session, vessel: str, wall_ms: int) -> int:
    """Give the server's time [ms], which never stands behind a stamp that was given."""
    book = session.get_one(tables.Logbook, vessel)
    return max(wall_ms + book.adj_ms, book.last_ms)


def make_known(session: Session, vessel: str, dev: str) -> None:
    """See that there is a row for *dev*; one that comes only in an envelope has left the crew."""
    if session.get(tables.Device, (vessel, dev)) is None:
        session.add(tables.Device(vessel=vessel, dev=dev, role="crew", revoked="retired"))
        session.flush()


def renew(session: Session, vessel: str, device: Device) -> Device:
    """Give a device a fresh number; its token now stands for that one."""
    old = session.get_one(tables.Device, (vessel, device.dev))
    renewed = replace(device, dev=fresh_dev(session, vessel), inst="", last=0,
                      was=(*device.was, device.dev))
    row = tables.Device(vessel=vessel, dev=renewed.dev, name=old.name, token_hash=old.token_hash,
                        paired_ms=old.paired_ms, seen_ms=old.seen_ms, until_ms=old.until_ms,
                        desk=old.desk)
    _write(row, renewed)
    _write(old, replace(device, revoked="retired"))
    old.token_hash = old.desk = ""
    session.add_all([old, row])
    session.flush()
    return renewed


def stand_in_for(session: Session, vessel: str, dev: str) -> str:
    """Give a fresh number, with no token, for what cannot stand under *dev*."""
    row = tables.Device(vessel=vessel, dev=fresh_dev(session, vessel), role="crew",
                        revoked="retired", was=[dev])
    session.add(row)
    session.flush()
    return row.dev


def desk_of(session: Session, row: tables.Device) -> str:
    """Give the number under which a device writes at the server itself, away from its outbox."""
    if not row.desk:
        row.desk = stand_in_for(session, row.vessel, row.dev)
        row.was = [*(row.was or ()), row.desk]
        session.add(row)
        session.flush()
    return row.desk


def _numbers_of(row: tables.Device) -> list[str]:
    return [row.dev, *(row.was or ())]


def _write(row: tables.Device, device: Device) -> None:
    for name in SHARED:
        setattr(row, name, getattr(device, name))
    for name in SHARED_LISTS:
        setattr(row, name, list(getattr(device, name)))
