"""Blocks and full moulds too heavy to lift, told before they are poured: mixes and blocks held against `lifting`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Final

from blockrun import units
from blockrun.mix.volume import LITRES_PER_M3
from blockrun.order.castable import castable
from blockrun.planner.lifting import TEAM, Lift, harder_end, hse_filter

if TYPE_CHECKING:
    from blockrun.mix import Proportions
    from blockrun.order import OrderLine
    from blockrun.site import Lifting, MouldKind, Site

_MM_A_CM: Final = 10
_MM_AN_INCH: Final = 25.4
_EACH: Final = 3
"""Marks that are too much even for three are said one by one up to so many, else all in one sentence (our choice)."""
PEOPLE: Final = {1: "one person", 2: "two people", 3: "three people"}
"""Those who lift together, in words."""


@dataclass(frozen=True)
class TooHeavy:
    """Something that those who lift it together in this yard should not.

    Parameters
    ----------
    mass_kg : as poured; of a mould with all its cavities full.
    people : how many may lift it so, or None where even three may not.
    """

    name: str
    mass_kg: float
    people: int | None
    full_mould: bool = False


def limit_kg(lifting: Lifting, people: int | None = None) -> float:
    """What people may lift together, kg: those who do in this yard, unless told."""
    return TEAM[people or lifting.people] * _harder_end(lifting).limit_kg


def too_heavy(site: Site, lines: Iterable[OrderLine], mixes: Mapping[str, Proportions]) -> list[TooHeavy]:
    """Marks and full moulds over the limit of those who lift.

    Parameters
    ----------
    site : how blocks are lifted, and its moulds; a mould without bases is looked at where its mass is told.

    Returns
    -------
    Blocks first, then moulds, the heaviest of each first.

    Source
    ------
    Mass as poured = volume as cast x wet density: a block just stripped has dried little (our choice, prudent).
    """
    wet = {line: wet_kg(line, mixes) for line in lines}
    blocks: dict[str, float] = {}
    for line, mass_kg in wet.items():
        blocks[line.mark] = max(mass_kg, blocks.get(line.mark, 0.0))
    moulds = {
        kind.kind: full_kg
        for kind in site.moulds
        if kind.mass_kg is not None and kind.bases is None and (full_kg := _full_kg(kind, wet)) is not None
    }
    most_kg = limit_kg(site.lifting)
    return [
        TooHeavy(name, mass_kg, enough(site.lifting, mass_kg), full_mould)
        for masses, full_mould in ((blocks, False), (moulds, True))
        for name, mass_kg in sorted(masses.items(), key=lambda item: (-item[1], item[0]))
        if mass_kg > most_kg
    ]


def heavy_said(heavy: Sequence[TooHeavy], site: Site, most: int | None = None) -> Iterator[str]:
    """Sentences on what is too heavy.

    Parameters
    ----------
    site : it is lifted there, and results print in its units.
    most : marks to name, the heaviest; all unless told.

    Returns
    -------
    One sentence for each, and one for all that even three may not lift where these are many; how many more there
    are, then what the limit takes for granted; nothing where all is light.
    """
    blocks = [item for item in heavy if not item.full_mould]
    beyond = [item for item in blocks if item.people is None]
    if len(beyond) > _EACH:
        yield _together(beyond, site, most)
        blocks = [item for item in blocks if item.people is not None]
    named = blocks[:most]
    for item in (*named, *(item for item in heavy if item.full_mould)):
        yield _said(item, site)
    if more := len(blocks) - len(named):
        are = "mark is" if more == 1 else "marks are"
        yield f"{more} more {are} too heavy to lift so; takeoff with --site names all."
    if heavy:
        yield _so(site)


def helpers_said(site: Site, lines: Iterable[OrderLine], mixes: Mapping[str, Proportions]) -> Iterator[str]:
    """Say that plans count one person for what one person may not lift; nothing where one may lift all."""
    wet: dict[str, float] = {}
    for line in lines:
        wet[line.mark] = max(wet_kg(line, mixes), wet.get(line.mark, 0.0))
    most_kg, heaviest_kg = limit_kg(site.lifting, 1), max(wet.values(), default=0.0)
    if heaviest_kg <= most_kg:
        return
    n = sum(mass_kg > most_kg for mass_kg in wet.values())
    marks = "1 mark weighs" if n == 1 else f"{n} marks weigh"
    yield (
        f"{marks} more than the {_kg(most_kg, site.units)} that one person may lift so, the heaviest "
        f"{_kg(heaviest_kg, site.units)} wet. Plans count one person for a strip and its moves, and move_time for each "
        "block: who helps to lift is not in them. See that somebody is free at each strip that asks for more."
    )


def _together(beyond: Sequence[TooHeavy], site: Site, most: int | None) -> str:
    """One sentence for marks that even three people may not lift, the heaviest first."""
    unit, names = site.units, [item.name for item in beyond]
    if most is not None and len(names) > most:
        names[most:] = [f"{len(names) - most} more"]
    marks = f"{', '.join(names[:-1])} and {names[-1]}"
    masses = f"{_kg(beyond[-1].mass_kg, unit)} to {_kg(beyond[0].mass_kg, unit)} wet"
    over = f"over the {_kg(limit_kg(site.lifting, max(TEAM)), unit)} that even three people may lift so together"
    return f"{marks} weigh {masses}, {over}: an easier lift, a hoist, or smaller blocks."


def _said(item: TooHeavy, site: Site) -> str:
    most, unit = limit_kg(site.lifting), site.units
    name = f"A full {item.name}" if item.full_mould else item.name
    wet = "" if item.full_mould else " wet"
    over = f"over the {_kg(most, unit)} that {PEOPLE[site.lifting.people]} may lift so"
    if item.full_mould:
        todo = "leave it where it is filled, or move it on wheels"
    else:
        if item.people is None and site.lifting.people < max(TEAM):
            over += f", and over the {_kg(limit_kg(site.lifting, max(TEAM)), unit)} of three together"
        todo = f"{_team(item.people, site) if item.people else 'an easier lift, a hoist'}, or a smaller block"
    return f"{name} weighs {_kg(item.mass_kg, unit)}{wet}, {over}: {todo}."


def _team(people: int, site: Site) -> str:
    """So many people, with what they may lift: together each lifts less than alone."""
    return f"{PEOPLE[people]}, who may lift {_kg(limit_kg(site.lifting, people), site.units)} so together"


def _so(site: Site) -> str:
    """Say which lift the limit is for, what of it costs most, and the filter of the HSE."""
    lifting, unit = site.lifting, site.units
    low, high, reach = (
        _length(side, unit) for side in (lifting.from_height_mm, lifting.to_height_mm, lifting.reach_mm)
    )
    factors = _harder_end(lifting).factors
    worst = min(factors, key=lambda name: factors[name])
    filtered = hse_filter(_lift(lifting), lifting.to_height_mm / _MM_A_CM)
    return (
        f"So is: hands from {low} to {high} up, {reach} before the ankles, body turned {lifting.twist_deg:g} deg, "
        f"{lifting.lifts_a_minute:g} a minute for {units.show_time(lifting.time_min)}, {lifting.grip} grip (NIOSH "
        f"equation); write your own under lifting. The {worst} costs most. The filter of the HSE for such a lift is "
        f"{_kg(filtered.man_kg, unit)} for a man and {_kg(filtered.woman_kg, unit)} for a woman. Two together are "
        "taken to lift 4/3 of what one may, three 3/2 of it (HSE guidance on lifting in teams). Guides, not law."
    )


def _lift(lifting: Lifting) -> Lift:
    """The lift as it begins."""
    return Lift(
        reach_cm=lifting.reach_mm / _MM_A_CM,
        height_cm=lifting.from_height_mm / _MM_A_CM,
        travel_cm=abs(lifting.to_height_mm - lifting.from_height_mm) / _MM_A_CM,
        twist_deg=lifting.twist_deg,
        lifts_a_minute=lifting.lifts_a_minute,
        hours=lifting.time_min / 60,
        grip=lifting.grip,
    )


@cache  # asked of every batch and mould of a plan, and lifts differ by yard alone
def _harder_end(lifting: Lifting) -> Lift:
    return harder_end(_lift(lifting), lifting.to_height_mm / _MM_A_CM)


def wet_kg(line: OrderLine, mixes: Mapping[str, Proportions]) -> float:
    """What one block of a line weighs as poured."""
    return line.volume_l / LITRES_PER_M3 * mixes[line.mix].wet_density_kg_m3


def _full_kg(kind: MouldKind, wet: Mapping[OrderLine, float]) -> float | None:
    """A mould with the heaviest it casts in every cavity, None where nothing ordered fits it.

    A slab is all of its cavity, of the mix of its blocks.
    """
    cavity_l = kind.length_mm * kind.height_mm * kind.thickness_mm / 1e6
    cast = [
        mass_kg * (cavity_l / line.volume_l if kind.saw else 1) for line, mass_kg in wet.items() if castable(kind, line)
    ]
    return (kind.mass_kg or 0.0) + kind.cavities * max(cast) if cast else None


def enough(lifting: Lifting, mass_kg: float) -> int | None:
    """The fewest people who may lift a mass together so; None where even three may not."""
    return next((people for people in TEAM if limit_kg(lifting, people) >= mass_kg), None)


def _length(length_mm: float, show_in: str) -> str:
    """As it is measured beside a person: in inches to the whole one."""
    return f"{length_mm / _MM_AN_INCH:.0f} in" if show_in == "US" else units.show(length_mm, "length", show_in)


def _kg(mass_kg: float, show_in: str) -> str:
    return units.show_to_three(mass_kg, "mass", "lb" if show_in == "US" else "kg")
