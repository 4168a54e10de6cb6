"""Cubes that were crushed, beside those of the site, and what all of them together say of ages.

Blocks bear another load than cubes of the same stuff, by their shape; no factor for foamed blocks is known here that
somebody published, so blocks are told and are not in the curve.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Final

from blockrun.errors import BlockrunError
from blockrun.planner.ages import Ages
from blockrun.planner.learned import CubeRow, Finding
from blockrun.site import Strength
from blockrun.site.cubes import Cubes
from blockrun.units import counted, digits, show
from blockrun.yard.journal.events import Crushed
from blockrun.yard.learn.cube_rows import not_among
from blockrun.yard.ready.cubes import RecordedCubes

if TYPE_CHECKING:
    from blockrun.mix import Proportions
    from blockrun.site import Site
    from blockrun.yard.learn.past import Past

NEW_FILE: Final = "--write puts cubes into a new cubes.csv beside the site: name it under curing, as cubes: cubes.csv."
TOO_YOUNG: Final = "for younger than they may be: the yard was warmer than 20 degC. Write equivalent_age_h."
KEPT: Final = (
    "Cubes are taken as old as they can be: by days at 20 degC, or in the air of the yard where that was warmer. Of "
    "those kept cooler correct equivalent_age_h. Strength is not promised: cubes tell it, of the batches they are of."
)


@dataclass(frozen=True)
class CubesCrushed:
    """What cubes tell.

    Parameters
    ----------
    past : what was recorded.
    mixes : as planned.
    went : the site in the air as it went, in which they are taken to be kept.
    """

    past: Past
    mixes: dict[str, Proportions]
    went: Site

    @property
    def rows(self) -> tuple[CubeRow, ...]:
        """Cubes with a dry density that are not among those of the site."""
        cubes = self._recorded
        rows = (
            CubeRow(
                one.mix,
                one.batch,
                one.dry_density_kg_m3,
                one.age_d,
                cubes.age_h(at, one),
                one.strength_mpa,
                at.date(),
                one.marked,
            )
            for at, one in cubes.tests
            if one.dry_density_kg_m3 is not None
        )
        return not_among(rows, self.past.plan.site.curing.cubes)

    def found(self) -> Iterator[Finding]:
        """What is learnt."""
        yield self._of_cubes([one for _, one in self._recorded.tests])
        crushed = (entry.event for entry in self.past.entries)
        blocks = [one for one in crushed if isinstance(one, Crushed) and one.what == "block"]
        if blocks:
            seen = f"{len(blocks)} crushed: {_strengths_said(blocks, self.past.plan.site)}"
            yield Finding("Blocks crushed", "", seen, "told only: no curve is drawn of blocks")

    @cached_property
    def _recorded(self) -> RecordedCubes:
        return RecordedCubes(self.went, self.past.entries)

    def _of_cubes(self, cubes: Sequence[Crushed]) -> Finding:
        site, rows = self.past.plan.site, self.rows
        known = len(site.curing.cubes.tests) if site.curing.cubes else 0
        says = f"{known} cubes" if known else "no cubes"
        if not cubes:
            return Finding("Strength", says, "no cube was crushed", "nothing to tell")
        bare = sum(one.dry_density_kg_m3 is None for one in cubes)
        seen = f"{counted(len(cubes), 'cube')} crushed: {_strengths_said(cubes, site)}"
        notes = []
        if bare:
            untold = f"{counted(bare, 'cube')} without a dry density cannot be told apart from lighter ones"
            notes.append(f"{untold}: weigh them dried.")
        if young := len(self._recorded.too_young()):
            notes.append(f"The table has {counted(young, 'cube')} {TOO_YOUNG}")
        if not rows:
            return Finding("Strength", says, seen, "no row to add", notes=tuple(notes))
        where = () if site.curing.cubes else (NEW_FILE,)
        told = (*self._said(site, rows), *notes, KEPT, *where)
        return Finding("Strength", says, seen, f"{counted(len(rows), 'cube')} to add", notes=told)

    def _said(self, site: Site, rows: Sequence[CubeRow]) -> Iterator[str]:
        """What the curve says of each rule, now and with the rows."""
        new = _with(site, rows)
        densities = {name: mix.oven_dry_density_kg_m3 for name, mix in self.mixes.items()}
        now, then = Ages(site, densities), Ages(new, densities)
        for where, done, asked in then.asked():
            if isinstance(asked, Strength):
                strength = show(asked.mpa, "strength", site.units)
                yield f"{done} at {strength}: {_now_and_then(_hours(now, asked), _hours(then, asked), 'age')}."
            elif where[-1] == "strip_at":
                yield from (_at_strip(site, new, mix, density, asked) for mix, density in sorted(densities.items()))


def _at_strip(site: Site, new: Site, mix: str, density: float, age_h: float) -> str:
    now, then = (_strength(one, mix, density, age_h) for one in (site, new))
    none = "" if now or then else f": crush some of it about {digits(age_h)} h old"
    return f"{mix} at {digits(age_h)} h, when it is stripped: {_now_and_then(now, then, 'strength')}{none}."


def _now_and_then(now: str, then: str, what: str) -> str:
    """What cubes tell, by those that were there and with those to add; empty where they tell nothing."""
    if not now:
        return f"no cubes so far told its {what}; with these it is {then}" if then else f"no cubes tell its {what} yet"
    return (
        f"{now} by the cubes so far, {then} with these" if then else f"{now} by the cubes so far; these leave it open"
    )


def _strength(site: Site, mix: str, density: float, age_h: float) -> str:
    """The strength that it has; empty where cubes do not tell it."""
    from blockrun.cure import Reckoner

    try:
        mpa = Reckoner(site.curing, site.units).strength_at_least(density, age_h, mix)
    except BlockrunError:
        return ""
    return f"at least {show(mpa, 'strength', site.units)}"


def _hours(ages: Ages, asked: Strength) -> str:
    """The age at which it has that strength; empty where cubes do not tell it."""
    try:
        return f"{digits(ages.hours(asked))} h at 20 degC"
    except BlockrunError:
        return ""


def _with(site: Site, rows: Sequence[CubeRow]) -> Site:
    """The site with further cubes."""
    old = site.curing.cubes.tests if site.curing.cubes else ()
    tests = (row.cube for row in rows)
    return site.model_copy(update={"curing": site.curing.model_copy(update={"cubes": Cubes((*old, *tests))})})


def _strengths_said(crushed: Sequence[Crushed], site: Site) -> str:
    found = sorted(one.strength_mpa for one in crushed)
    low, high = (show(float(f"{mpa:.3g}"), "strength", site.units) for mpa in (found[0], found[-1]))
    ages = sorted(one.age_d for one in crushed)
    age = f"{digits(ages[0])}" if ages[0] == ages[-1] else f"{digits(ages[0])} to {digits(ages[-1])}"
    strength = low if low == high else f"{low.rpartition(' ')[0]} to {high}"
    return f"{strength} at {age} d"
