"""What each rule on the age of blocks comes to in hours at 20 degC: the one place where strengths become ages.

A mould holds blocks of any mixes, so a rule has one age for all of them: that at which the weakest mix ordered has
the strength. Blocks go to the rack right from the mould, so a mould is stripped no sooner than its blocks may be
moved. The audit works both out anew.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from blockrun.cure import Reckoner
from blockrun.errors import BadInput, OutOfRange
from blockrun.planner.placed import at, of_cubes, said_again
from blockrun.site import Strength
from blockrun.units import digits, show, show_share

if TYPE_CHECKING:
    from blockrun.cure.reckoning import Reckoned
    from blockrun.order import MixSpec, Order
    from blockrun.site import MouldKind, Site

Where = tuple[str | tuple[str, str], ...]
"""Keys of the site file down to a value, as `blockrun.planner.placed.at` takes them."""


@dataclass(frozen=True)
class Ages:
    """What the rules of a site come to for some mixes.

    Parameters
    ----------
    site : with its rules, and the cubes that strengths are reckoned from.
    densities_kg_m3 : oven-dry density of each mix that is cast, by its name.
    specs : the mixes as ordered, cast or not.
    """

    site: Site
    densities_kg_m3: Mapping[str, float]
    specs: Sequence[MixSpec] = ()

    @property
    def strip_h(self) -> float:
        """Hours at 20 degC from the last pour of a turn to its strip, after which its blocks are moved at once."""
        move = self.site.curing.move_at_h
        strip_h = self.hours(self.site.curing.strip_at_h)
        return strip_h if move is None else max(strip_h, self.hours(move))

    def sides_h(self, kind: MouldKind) -> float | None:
        """Hours at 20 degC until the sides of a mould may come off; None without bases."""
        return None if kind.sides_off_at_h is None else self.hours(kind.sides_off_at_h)

    @property
    def lay_h(self) -> float | None:
        """Hours at 20 degC until a block may be laid; None where laying waits for days of the calendar."""
        lay = self.site.curing.lay_at_min
        return self.hours(lay) if isinstance(lay, Strength) else None

    @property
    def lay_min(self) -> int:
        """Minutes of the calendar until a block may be laid; 0 where laying waits for a strength."""
        lay = self.site.curing.lay_at_min
        return 0 if isinstance(lay, Strength) else lay

    def hours(self, asked: float | Strength) -> float:
        """Hours at 20 degC of an age or a strength.

        Raises
        ------
        BadInput, OutOfRange : the cubes do not tell that strength of a mix; it says which to test.
        """
        return self.reckoned(asked)[1].hours if isinstance(asked, Strength) else asked

    def reckoned(self, asked: Strength) -> tuple[str, Reckoned]:
        """The mix that has a strength last, and when; raises as :meth:`hours`."""
        lightest_first = sorted(self.densities_kg_m3.items(), key=lambda mix: (mix[1], mix[0]))
        of_each = {mix: self._reckoner.hours_for(asked.mpa, density, mix) for mix, density in lightest_first}
        return max(of_each.items(), key=lambda of: of[1].hours)

    @cached_property
    def _reckoner(self) -> Reckoner:
        return Reckoner(self.site.curing, self.site.units)

    def asked(self) -> Iterator[tuple[Where, str, float | Strength]]:
        """Each rule that waits for an age at 20 degC or a strength: where the file has it, and what is then done."""
        curing = self.site.curing
        for kind in self.site.moulds:
            if kind.sides_off_at_h is not None:
                yield ("moulds", ("kind", kind.kind), "sides_off_at"), f"{kind.kind}: sides off", kind.sides_off_at_h
        yield ("curing", "strip_at"), "Stripped", curing.strip_at_h
        if curing.move_at_h is not None:
            yield ("curing", "move_at"), "Moved", curing.move_at_h
        if isinstance(curing.lay_at_min, Strength):
            yield ("curing", "lay_at"), "Laid", curing.lay_at_min

    def in_short(self) -> Iterator[str]:
        """A sentence on every strength that was turned into an age."""
        for _, done, asked in self.asked():
            if isinstance(asked, Strength):
                yield f"{self._reckoned(done, asked)}."

    def said(self) -> Iterator[str]:
        """All there is to know of strengths turned into ages, and of a strip that waits for the move."""
        for _, done, asked in self.asked():
            if isinstance(asked, Strength):
                yield f"{self._reckoned(done, asked)}: {self._how_sure(asked)}"
        yield from self._whose_cubes()
        curing = self.site.curing
        if curing.move_at_h is not None and self.hours(curing.move_at_h) > self.hours(curing.strip_at_h):
            age = f"{digits(self.strip_h)} h at 20 degC"
            yield f"Blocks are moved as they are stripped, so moulds wait for move_at, {age}."

    def _whose_cubes(self) -> Iterator[str]:
        """Say of which mixes strengths were reckoned from cubes of others too."""
        from blockrun.planner.whose_cubes import at_lightest_said, whose_cubes_said

        told: dict[str, float | None] = {spec.name: None for spec in self.specs if spec.strength_mpa is not None}
        if any(isinstance(asked, Strength) for _, _, asked in self.asked()):
            told = {**told, **{mix: density for mix, density in self.densities_kg_m3.items() if mix not in told}}
        cast = {mix: told[mix] for mix in sorted(told.keys() & self.densities_kg_m3.keys())}
        if cast:
            yield from whose_cubes_said(self.site, self.specs, cast)
        for spec in self.specs:
            if spec.name in self.densities_kg_m3:
                yield from at_lightest_said(self.site, spec, self.densities_kg_m3[spec.name])

    def _reckoned(self, done: str, asked: Strength) -> str:
        found, strength = self.reckoned(asked)[1], show(asked.mpa, "strength", self.site.units)
        return f"{done} at {strength}, reckoned at {digits(found.hours)} h at 20 degC from {found.cubes}"

    def _how_sure(self, asked: Strength) -> str:
        mix, found = self.reckoned(asked)
        weakest = f", for {mix}, the weakest mix" if len(self.densities_kg_m3) > 1 else ""
        said = f"{show_share(self.site.curing.sure)} of such cubes are stronger then{weakest}."
        return f"{said} The youngest cubes had it already: test younger ones." if found.at_youngest else said


def ages_of(site: Site, order: Order, mixes: Iterable[str]) -> Ages:
    """What the rules of a site come to for the mixes of an order that are cast."""
    from blockrun.planner.mixes import mix_proportions  # what makes mixes is loaded where some are made

    made = mix_proportions(site, order)
    return Ages(site, {mix: made[mix].oven_dry_density_kg_m3 for mix in sorted(set(mixes))}, order.mixes)


def check_ages(ages: Ages) -> None:
    """Refuse a strength that the cubes do not tell of the mixes cast, where it stands, or where they are named."""
    for where, _, asked in ages.asked():
        try:
            ages.hours(asked)
        except (BadInput, OutOfRange) as fault:
            raise of_cubes(ages.site, fault) or at(ages.site, said_again(fault), *where) from fault
