"""What an order asks for: blocks by part, course and mark."""

from __future__ import annotations

from collections import Counter
from itertools import groupby
from typing import TYPE_CHECKING, Final, TypeVar

from blockrun.errors import BadInput, BlockrunError, OutOfRange
from blockrun.mix import proportions_of
from blockrun.mix.volume import LITRES_PER_M3
from blockrun.order import spares, takeoff
from blockrun.order.castable import castable
from blockrun.order.domes import DomePart
from blockrun.order.parts import notes_of_parts
from blockrun.planner.ages import ages_of
from blockrun.planner.heavy import heavy_said, helpers_said, too_heavy
from blockrun.planner.inputs import faults_of_inputs
from blockrun.planner.mixes import mix_proportions, of_mix
from blockrun.planner.wanted import by_format, wanted
from blockrun.planner.weak import weak_said
from blockrun.show.blocklist import as_csv, block_rows
from blockrun.show.page import HEADING, QUIET, Page, glued
from blockrun.show.piece_numbers import numbers_of_cuts
from blockrun.show.slabs_needed import write_slabs
from blockrun.show.tape import note_on_tape, size_said, words_on_tape
from blockrun.show.workbook.one_sheet import sheet_of
from blockrun.units import counted, listed, runs_listed, show

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

    from rich.text import Text

    from blockrun.mix import Proportions
    from blockrun.order import MixSpec, Order, OrderLine
    from blockrun.planner.sawing import Sawing
    from blockrun.show.workbook.one_sheet import Cell
    from blockrun.site import Site

FOAM_KG_M3: Final = 95.0
"""Foam taken for a mix that is given by its wet density, as an order does not say (common practice, no source)."""

LEAST_ROOM: Final = 5
"""Characters for a count, at the least."""

Key = TypeVar("Key", str, "tuple[str, str]")
"""A mark or a mix, or both."""


def takeoff_list(order: Order, site: Site | None = None) -> str:
    """The blocks of an order, spares left out, as a CSV list that an order may name.

    Parameters
    ----------
    site : where the blocks are cast; dates the courses of parts and adds the masses as poured.
    """
    return as_csv(_rows(order, site))


def takeoff_sheet(order: Order, site: Site | None = None) -> bytes:
    """The same list as an XLSX file."""
    return sheet_of(_rows(order, site))


def _rows(order: Order, site: Site | None) -> list[tuple[Cell, ...]]:
    dry = _dry_densities(order, site)
    lines = takeoff(order, site.calendar, site.moulds) if site else takeoff(order)
    if site is None:
        return block_rows(lines, lambda line: line.volume_l / LITRES_PER_M3 * dry[line.mix])
    wet = {name: mix.wet_density_kg_m3 for name, mix in mix_proportions(site, order).items()}
    return block_rows(
        lines,
        lambda line: line.volume_l / LITRES_PER_M3 * dry[line.mix],
        lambda line: line.volume_l / LITRES_PER_M3 * wet[line.mix],
    )


def takeoff_text(
    order: Order, width: int, units: str = "SI", site: Site | None = None, sawing: Sawing | None = None
) -> Text:
    """Write counts, volumes and oven-dry masses of an order.

    Parameters
    ----------
    site : where they are cast; what its moulds can cast decides how the blocks of a dome are made.
    sawing : saw plans settled for it, where the site saws slabs.

    Returns
    -------
    Blocks of each course of each part, then of each mark over all, spares included, then the sum of each mix, the
    slabs it takes; and with a site the marks that are too heavy to lift, and what a plan would refuse.
    """
    return _Takeoff(order, width, units, site, sawing).text()


def moulds_decide(order: Order, site: Site | None) -> str:
    """Say that the blocks of domes hang on moulds nobody named; empty where some are named, or there is no dome."""
    domes = [part.name for part in order.parts if isinstance(part, DomePart)]
    if site is not None or not domes:
        return ""
    return (
        f"Moulds decide which blocks {listed(domes)} is made of, and how many: without them these are blocks for "
        "moulds yet to be made. For those of your yard: --site site.yaml"
    )


class _Takeoff:
    def __init__(self, order: Order, width: int, units: str, site: Site | None, sawing: Sawing | None) -> None:
        self.units = units
        self.sawing = sawing
        self.order = order
        self.site = site
        self.moulds = site.moulds if site else ()
        self.lines = takeoff(order, moulds=self.moulds)
        self.spares = spares(order, self.lines)
        self.dry_kg_m3 = _dry_densities(order, site)
        self.cuts = numbers_of_cuts(order, self.lines)
        self.page = Page(width, units)
        n_blocks = sum(line.count for line in (*self.lines, *self.spares))
        self.room = max(LEAST_ROOM, len(str(n_blocks)))

    def text(self) -> Text:
        self.page.line((self.order.name, HEADING))
        if note := moulds_decide(self.order, self.site):
            self.page.line(note)
        for part, lines in groupby(self.lines, key=lambda line: line.part):
            for courses, blocks in _alike(lines):
                self._write(f"{part}, {courses}" if courses else part, blocks)
        if self.spares:
            self._write("spares", self.spares)
        self._write_sums()
        if self.sawing:
            self._write_slabs(self.sawing)
        self._write_notes()
        if self.site:
            site = self.site.model_copy(update={"units": self.units})
            self._write_lifted(site)
            self._write_faults(site)
        if not self.site and any(_by_foam(spec) for spec in self.order.mixes):
            foam = show(FOAM_KG_M3, "density", self.units)
            self.page.line((f"Dry masses of a mix given by its wet density take foam of {foam}.", QUIET))
        return self.page.text()

    def _write(self, title: str, lines: Sequence[OrderLine]) -> None:
        self.page.blank()
        self.page.line((title, HEADING))
        for line in lines:
            each = f", {glued(f'{self._mass([line], each=True)} each')}" if line.count > 1 else ""
            size = glued(size_said(self.units, line.length_mm, line.height_mm, line.thickness_mm))
            what = f"{glued(line.mark)} {size}, {line.mix}: {self._sum([line])}{each}"
            what += "".join(f"; {word}" for word in (*_leaning(line), self._sawn(line), line.role) if word)
            self._counted(line.count, what)

    def _sawn(self, line: OrderLine) -> str:
        """What is sawn off, with the number by which pictures tell the cut."""
        number, cut = self.cuts.get((line.part, line.mark, line.cut)), words_on_tape(line.cut, self.units)
        return f"{number}: {cut}" if number else cut

    def _counted(self, count: int, what: str) -> None:
        self.page.line(what, label=f"{count:>{self.room}}", indent=self.room + 1)

    def _write_notes(self) -> None:
        """What is to be known of the walls and domes, cautions with it."""
        for name, notes in notes_of_parts(self.order, self.moulds):
            self.page.section(f"notes on {name}", ([note_on_tape(note)] for note in notes))

    def _write_lifted(self, site: Site) -> None:
        """What is too heavy to lift by hand, as poured, and what is too weak to be lifted as it is stripped."""
        mixes = mix_proportions(site, self.order)
        heavy = [
            *heavy_said(too_heavy(site, self.lines, mixes), site),
            *helpers_said(site, self.lines, mixes),
        ]
        self.page.section("heavy to lift", ([line] for line in heavy))
        self.page.section("weak to lift", ([line] for line in self._weak(site, mixes)))

    def _write_faults(self, site: Site) -> None:
        """What a plan would refuse."""
        faults = faults_of_inputs(site, self.order, wanted(site, self.order))
        every = BadInput.of(faults).all() if faults else ()
        self.page.section("to mend before planning", ([_fault_said(fault)] for fault in every))

    def _weak(self, site: Site, mixes: Mapping[str, Proportions]) -> list[str]:
        """Nothing where the cubes do not even tell when blocks are stripped: a plan says so."""
        try:
            strip_h = ages_of(site, self.order, {line.mix for line in self.lines}).strip_h
        except BlockrunError:
            return []
        return list(weak_said(site, self.lines, mixes, strip_h))

    def _write_sums(self) -> None:
        every = [*self.lines, *self.spares]
        self.page.blank()
        n_blocks = sum(line.count for line in every)
        self.page.line((f"all{', with spares' if self.spares else ''}: {counted(n_blocks, 'block')}", HEADING))
        n_mixes = Counter(mark for mark, _ in {(line.mark, line.mix) for line in every})
        for (mark, mix), lines in _grouped(every, lambda line: (line.mark, line.mix)):
            leans = "".join(f"; {word}" for word in _leaning(lines[0]))
            name = mark if n_mixes[mark] == 1 else f"{mark}, {mix}"
            self._counted(sum(line.count for line in lines), f"{name}: {self._sum(lines)}{leans}")
        for mix, lines in _grouped(every, lambda line: line.mix):
            self._counted(sum(line.count for line in lines), f"mix {mix}: {self._sum(lines)}")

    def _write_slabs(self, sawing: Sawing) -> None:
        formats = by_format([*self.lines, *self.spares])
        marks = {key: "/".join(sorted({line.mark for line in lines})) for key, lines in formats.items()}
        asked = {
            key: sum(line.count for line in lines)
            for key, lines in formats.items()
            if all(kind.saw for kind in self.moulds if castable(kind, lines[0]))
        }
        write_slabs(self.page, sawing, asked, marks, self.units)

    def _sum(self, lines: Sequence[OrderLine]) -> str:
        volume = glued(show(sum(line.volume_l * line.count for line in lines), "volume", self.units))
        return f"{volume}, {self._mass(lines)} dry"

    def _mass(self, lines: Sequence[OrderLine], *, each: bool = False) -> str:
        mass = sum(
            line.volume_l / LITRES_PER_M3 * self.dry_kg_m3[line.mix] * (1 if each else line.count) for line in lines
        )
        return glued(show(mass, "mass", self.units))


def _alike(lines: Iterable[OrderLine]) -> Iterator[tuple[str, list[OrderLine]]]:
    """Courses of a part that are of the same blocks together, named, with what each of them is of."""
    found: dict[tuple[object, ...], tuple[list[int], list[OrderLine]]] = {}
    for course, blocks in groupby(lines, key=lambda line: line.course):
        there = list(blocks)
        said = tuple((line.mark, line.mix, line.count, line.role, line.cut, line.length_mm) for line in there)
        numbers, _ = found.setdefault((course is None, said), ([], there))
        numbers += [] if course is None else [course]
    for numbers, there in found.values():
        several = f"in each of courses {runs_listed(numbers)}"
        yield several if len(numbers) > 1 else "".join(f"course {number}" for number in numbers), there


def _grouped(lines: Iterable[OrderLine], key: Callable[[OrderLine], Key]) -> Iterator[tuple[Key, list[OrderLine]]]:
    """Lines by what they have in common, in its order."""
    for name, alike in groupby(sorted(lines, key=key), key=key):
        yield name, list(alike)


def _fault_said(fault: BlockrunError) -> str:
    place = f"{fault.file}:{fault.line}: " if fault.file else ""
    return f"{place}{fault.what}. {fault.todo}"


def _leaning(line: OrderLine) -> Iterator[str]:
    """What makes the faces lean, named as on the day sheets and among the keys of a mould."""
    leans = (("wedges", line.bevel_deg), ("tapers", line.taper_deg), ("bed wedges", line.bed_deg))
    for inserts, angle in leans:
        if angle:
            yield f"{inserts} of {angle:.1f} deg"


def _dry_densities(order: Order, site: Site | None) -> dict[str, float]:
    """Oven-dry density of each mix; by the foam and the cubes of the site where it is given."""
    if site is None:
        return {spec.name: _dry_density(order, spec) for spec in order.mixes}
    asked = [spec for spec in order.mixes if spec.oven_dry_density_kg_m3 is None]
    made = {spec.name: mix_proportions(site, order, spec.name)[spec.name] for spec in asked}
    by_hand = {spec.name: spec.oven_dry_density_kg_m3 for spec in order.mixes if spec.oven_dry_density_kg_m3}
    return by_hand | {name: mix.oven_dry_density_kg_m3 for name, mix in made.items()}


def _dry_density(order: Order, spec: MixSpec) -> float:
    if spec.strength_mpa is not None:
        what = f"mix {spec.name} is asked for by its strength, and only the cubes of a yard tell what it weighs"
        raise BadInput(what, "Name the site too, with --site site.yaml, or write a density.", name="strength")
    if spec.oven_dry_density_kg_m3:
        return spec.oven_dry_density_kg_m3
    try:
        return proportions_of(spec, FOAM_KG_M3, units="SI").oven_dry_density_kg_m3
    except (BadInput, OutOfRange) as fault:
        raise of_mix(order, spec, fault) from fault


def _by_foam(spec: MixSpec) -> bool:
    """Whether what it weighs dry depends on the foam: asked for wet, with the water of its slurry alone."""
    return spec.wet_density_kg_m3 is not None and spec.slurry_water_cement is not None
