"""The moulds as they stand in the yard: what is poured into their cavities on one day, and which stay shut."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from blockrun.show.page import glued
from blockrun.show.words import named_together
from blockrun.units import counted, listed

if TYPE_CHECKING:
    from collections.abc import Container, Mapping

    from blockrun.planner.left_over import Fills
    from blockrun.show.day import Day, Fill, Filled
    from blockrun.show.paper.standing import Standing
    from blockrun.site import MouldKind, Site


@dataclass(frozen=True)
class Cell:
    """A cavity; of a slab, what is sawn out of it.

    Attributes
    ----------
    number : as it is painted on the mould; empty where there is one alone, and for what is sawn.
    mark, batch : what it gets and from which batch; empty where nothing is poured into it.
    sets : what is set into it and how large that is, such as ``stop-end`` and ``290 mm``.
    """

    number: str = ""
    mark: str = ""
    batch: str = ""
    sets: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Box:
    """A mould, or a base without its sides, on one day.

    Attributes
    ----------
    name, on : its number, ``03``, and with bases the one it stands on, ``on b04``.
    batches : that fill it, in filling order.
    cells : cavities from the one painted 1 on; of a slab, one for each mark that is sawn out of it.
    in_all : what is set into every cavity alike, ``wedges of 7 deg``.
    notes : what blocks are for and what is done to them later: ``cavity 4: to saw``.
    holds, leave : of one that stands full, marks in it and until when it is left alone; else empty.
    """

    name: str
    on: str = ""
    batches: tuple[str, ...] = ()
    cells: tuple[Cell, ...] = ()
    in_all: str = ""
    notes: tuple[str, ...] = ()
    holds: str = ""
    leave: str = ""


@dataclass(frozen=True)
class Row:
    """Moulds of one kind that are poured on a day or stand full, and the names of those that are empty at night."""

    kind: str
    boxes: tuple[Box, ...]
    empty: str


def mould_boxes(
    day: Day, site: Site, standing: Mapping[str, Sequence[Standing]], out_of_use: Container[str] = ()
) -> list[Row]:
    """Moulds of a day, kind by kind and number by number, bare bases after them.

    Parameters
    ----------
    standing : by kind, what stands full all day long.
    out_of_use : moulds that are not told to be empty.

    Returns
    -------
    Nothing where nothing is poured and nothing stands.
    """
    poured: dict[str, list[tuple[str, Fill]]] = defaultdict(list)
    for pour in day.pours:
        for fill in pour.fills:
            poured[fill.mould].append((str(pour.batch.batch), fill))
    extra = dict(_fillers(day))
    rows = [_row(kind, poured, extra, standing.get(kind.kind, ()), site.units, out_of_use) for kind in site.moulds]
    return rows if any(row.boxes for row in rows) else []


def _row(
    kind: MouldKind,
    poured: dict[str, list[tuple[str, Fill]]],
    extra: dict[str, Box],
    standing: Sequence[Standing],
    units: str,
    out_of_use: Container[str],
) -> Row:
    full = {one.mould: _left_alone(one) for one in standing if not one.is_bare}
    boxes: list[Box] = []
    for name in kind.mould_names:
        boxes += _boxes(kind, poured.get(name, []), units)
        boxes += [of[name] for of in (extra, full) if name in of]
    boxes += [_left_alone(one) for one in standing if one.is_bare]
    filled = {*poured, *extra, *full}
    # nobody knows of a filler whether what it got some day is out of it yet
    empty = [] if kind.filler else [name for name in kind.mould_names if name not in filled and name not in out_of_use]
    return Row(kind.kind, tuple(boxes), named_together(empty))


def _left_alone(one: Standing) -> Box:
    """A full mould, or a base whose sides are off."""
    name, base = (name.rpartition("/")[2] for name in (one.mould, one.base))
    holds = listed([glued(f"{n} {mark}") for mark, n in sorted(one.marks.items())])
    if one.is_bare:
        return Box(base, holds=holds, leave=one.leave)
    return Box(name, f"on {base}" if base else "", holds=holds, leave=one.leave)


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
        box = Box(first.mould.rpartition("/")[2], on, batches)
        if first.saw_plan:
            yield replace(box, cells=tuple(_sawn(filled)), notes=(f"a slab for saw plan {first.saw_plan}",))
        else:
            yield _set_up(box, kind, filled, units)


def _set_up(box: Box, kind: MouldKind, filled: Sequence[tuple[str, Filled]], units: str) -> Box:
    """A mould with its cavities; what is set into all of them alike is said once."""
    alike = {cavity.inserts for _, cavity in filled}
    cells = {
        cavity.cavity: Cell(
            mark=cavity.mark,
            batch=batch,
            sets=() if len(alike) == 1 else tuple((name, glued(size)) for name, size in cavity.inserts.sizes(units)),
        )
        for batch, cavity in filled
    }
    numbered = tuple(
        replace(cells.get(number, Cell()), number=str(number) if kind.cavities > 1 else "")
        for number in range(1, kind.cavities + 1)
    )
    in_all = next(iter(alike)).said(units) if len(alike) == 1 else ""
    return replace(box, cells=numbered, in_all=in_all, notes=tuple(_notes([cavity for _, cavity in filled])))


def _sawn(filled: Sequence[tuple[str, Filled]]) -> Iterator[Cell]:
    """``5 B``, ``1 A``."""
    blocks = Counter(cavity.mark for _, cavity in filled)
    yield from (Cell(mark=f"{n} {mark}", batch=filled[0][0]) for mark, n in blocks.items())


def _notes(cavities: Sequence[Filled]) -> Iterator[str]:
    """What blocks are for and what is done to them later, of each cavity; said of none where it is so in all."""
    told: dict[str, list[int]] = defaultdict(list)
    for one in cavities:
        told[", ".join(word for word in (one.role, *one.work.words) if word)].append(one.cavity)
    for words, numbers in told.items():
        which = f"{'cavity' if len(numbers) == 1 else 'cavities'} {listed([str(n) for n in sorted(numbers)])}: "
        if words:
            yield words if len(told) == 1 else glued(which) + words


def _fillers(day: Day) -> Iterator[tuple[str, Box]]:
    """Filler moulds by their name, with what is left of all batches of the day that went into them."""
    filled: dict[str, list[tuple[str, Fills]]] = defaultdict(list)
    for pour in day.pours:
        for fills in pour.left.fills:
            filled[fills.mould].append((str(pour.batch.batch), fills))
    for mould, of_mould in filled.items():
        cells = [Cell(mark=one.mark or "fill", batch=batch) for batch, one in of_mould for _ in range(one.cavities)]
        rest = [Cell()] * (of_mould[0][1].kind.cavities - len(cells))
        note = f"with what is left; {counted(len(cells), 'block')}"
        batches = tuple(batch for batch, _ in of_mould)
        yield mould, Box(mould.rpartition("/")[2], "", batches, (*cells, *rest), notes=(note,))
