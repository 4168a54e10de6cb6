"""Entries for tests of what the journal adds up to: a short way to say them."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Final

from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import AnyEvent, Blocks, Fill, Moved, Poured, Stripped

START: Final = datetime.fromisoformat("2027-04-05T08:00")
LIGHT: Final = "light"


def at(minute: int) -> datetime:
    return START + timedelta(minutes=minute)


def entry(minute: int, event: AnyEvent, key: str = "", number: int = 0) -> Entry:
    return Entry(key or f"k{minute}", at(minute), at(minute).replace(tzinfo=UTC), event, number)


def some(*counts: tuple[int, str]) -> tuple[Blocks, ...]:
    return tuple(Blocks(mark=mark, mix=LIGHT, count=count) for count, mark in counts)


def pour(batch: int, mould: str, *marks: str, base: str = "") -> Poured:
    return Poured(batch=batch, mix=LIGHT, fills=(Fill(mould=mould, base=base, marks=marks),))


def strip(mould: str, *whole: tuple[int, str], broken: tuple[Blocks, ...] = (), base: str = "") -> Stripped:
    return Stripped(mould=mould, base=base, whole=some(*whole), broken=broken)


def rack(name: str, *counts: tuple[int, str], mould: str = "") -> Moved:
    return Moved(rack=name, blocks=some(*counts), mould=mould)
