"""The moulds as they stand in the yard, with the marks that go into their cavities on one day."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blockrun.show.words import counted, listed, named_together

if TYPE_CHECKING:
    from blockrun.show.day import Day, Fill, Filled
    from blockrun.site import MouldKind, Site


@dataclass(frozen=True)
class Cell:
    """A cavity: the mark it gets, and from which batch; empty where nothing is poured into it."""

    mark: str = ""
    batch: str = ""


@dataclass(frozen=True)
class Box:
    """A mould as it is poured on one day.

    Attributes
    ----------
    name : its number, ``03``, and with bases the one it stands on, ``on b04``.
    batches : that fill it, in filling order.
    cells : cavities from the one painted 1 on; of a slab, one for each mark that is sawn out of it.
    notes : what is set in or done later, and where: ``4: stop-end at 290 mm``.
    """

    name: str
    on: str
    batches: tuple[str, ...]
    cells: tuple[Cell, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Row:
    """Moulds of one kind that are poured on a day, and the names of those that are not."""

    kind: str
    boxes: tuple[Box, ...]
    others: str


def mould_boxes(day: Day, site: Site) -> list[Row]:
    """Moulds of a day, kind by kind and number by number; kinds of which none is poured are left out."""
    poured: dict[str, list[tuple[str, Fill]]] = defaultdict(list)
    for pour in day.pours:
        for fill in pour.fills:
            poured[fill.mould].append((str(pour.batch.batch), fill))
    extra = dict(_fillers(day))
    rows = (_row(kind, poured, extra, site.units) for kind in site.moulds)
    return [row for row in rows if row.boxes]


def _row(kind: MouldKind, poured: dict[str, list[tuple[str, Fill]]], extra: dict[str, Box], units: str) -> Row:
    names = [f"{kind.kind}/{number:02d}" for number in range(1, kind.count + 1)]
    boxes = [box for name in names for box in _boxes(kind, poured.get(name, []), units)]
    boxes += [extra[name] for name in names if name in extra]
    others = [name for name in names if name not in poured and name not in extra]
    return Row(kind.kind, tuple(boxes), named_together(others))


def _boxes(kind: MouldKind, fills: Sequence[tuple[str, Fill]], units: str) -> Iterator[Box]:
    """A box for each time a mould is filled on a day."""
    turns: dict[int, list[tuple[str, Fill]]] = defaultdict(list)
    for batch, fill in fills:
        turns[fill.turn].append((batch, fill))
    for of_turn in turns.values():
        first = of_turn[0][1]
        batches = tuple(dict.fromkeys(batch for batch, _ in of_turn))
        filled = [(batch, cavity) for batch, fill in of_turn for cavity in fill.cavities]
        on = f"on {first.base.rpartition('/')[2]}" if first.base else ""
        cells = tuple(_sawn(filled)) if first.saw_plan else tuple(_cells(kind, filled))
        notes = [f"a slab for saw plan {first.saw_plan}"] if first.saw_plan else []
        notes += [] if first.saw_plan else _notes([cavity for _, cavity in filled], units)
        yield Box(first.mould.rpartition("/")[2], on, batches, cells, tuple(notes))


def _cells(kind: MouldKind, filled: Sequence[tuple[str, Filled]]) -> Iterator[Cell]:
    by_number = {cavity.cavity: Cell(cavity.mark, batch) for batch, cavity in filled}
    yield from (by_number.get(number, Cell()) for number in range(1, kind.cavities + 1))


def _sawn(filled: Sequence[tuple[str, Filled]]) -> Iterator[Cell]:
    """``5 B``, ``1 A``."""
    blocks = Counter(cavity.mark for _, cavity in filled)
    yield from (Cell(f"{n} {mark}", filled[0][0]) for mark, n in blocks.items())


def _notes(cavities: Sequence[Filled], units: str) -> list[str]:
    """What is set in and done later, cavities with the same together; said of none where it is so in all."""
    told: dict[str, list[int]] = defaultdict(list)
    for one in cavities:
        words = ", ".join(word for word in (one.role, *one.work.words, one.inserts.said(units)) if word)
        told[words].append(one.cavity)
    return [
        words if len(told) == 1 else f"{listed([str(number) for number in sorted(numbers)])}: {words}"
        for words, numbers in told.items()
        if words
    ]


def _fillers(day: Day) -> Iterator[tuple[str, Box]]:
    """Filler moulds that take what is left of batches, by their name."""
    for pour in day.pours:
        for fills in pour.left.fills:
            batch = str(pour.batch.batch)
            cells = (Cell(fills.mark or "fill", batch),) * fills.cavities
            rest = (Cell(),) * (fills.kind.cavities - fills.cavities)
            note = f"with what is left; {counted(fills.cavities, 'block')}"
            yield fills.mould, Box(fills.mould.rpartition("/")[2], "", (batch,), (*cells, *rest), (note,))
