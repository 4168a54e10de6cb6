"""Cubes that were crushed, as recorded: joined with those of the site, and what those of one batch say of its blocks.

A strength that the site asks for is reckoned from all cubes there are, those just recorded too where their dry density
was told. The cubes of a batch itself overrule that, by the margin of the site (`sure`): one weaker than what is asked
at an age at which it should be stronger, or weaker than so many of a hundred are at its own age, holds the blocks of
its batch back; where even so many of a hundred like the weakest of them would have what is asked, these may come as old
as the cubes were. Where a site asks for an age alone there is nothing to hold a strength against.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from blockrun.cure import AgeClock
from blockrun.site import Cube
from blockrun.yard.journal.events import Crushed

if TYPE_CHECKING:
    from blockrun.site import Site
    from blockrun.yard.journal import Entry
    from blockrun.yard.now import BatchNo


@dataclass(frozen=True)
class CubeSet:
    """The cubes of a batch that were crushed on the last day on which some were.

    Attributes
    ----------
    batch : theirs.
    mix : of it.
    weakest_mpa : of them.
    age_h : hours at 20 degC that they had, at the most: see `RecordedCubes.age_h`.
    crushed : when the last was.
    """

    batch: BatchNo
    mix: str
    weakest_mpa: float
    age_h: float
    crushed: datetime


class RecordedCubes:
    """Cubes that were recorded until a moment; blocks that were crushed are told by no law of cubes.

    Parameters
    ----------
    site : in the air as it went.
    entries : that stand.

    Attributes
    ----------
    tests : cubes crushed, each with its moment.
    """

    def __init__(self, site: Site, entries: Iterable[Entry]) -> None:
        self._site = site
        self.tests = [
            (entry.happened, entry.event)
            for entry in entries
            if isinstance(entry.event, Crushed) and entry.event.what == "cube"
        ]
        self._air = AgeClock.of(site) if self.tests else None

    def joined(self) -> Site:
        """The site with these cubes among its own; the same where it has none, or none of these tells its density."""
        cubes = self._site.curing.cubes
        if cubes is None:
            return self._site
        young = self.too_young()
        left = replace(cubes, tests=tuple(known for known in cubes.tests if known not in young))
        new = tuple(cube for cube in self._as_cubes() if not left.has(cube))
        if not new:
            return self._site
        curing = self._site.curing.model_copy(update={"cubes": replace(left, tests=(*left.tests, *new))})
        return self._site.model_copy(update={"curing": curing})

    def too_young(self) -> list[Cube]:
        """Cubes of the site that were recorded too, and there are taken for younger than they may have been."""
        cubes, told = self._site.curing.cubes, [*self._as_cubes()]
        return [known for known in (cubes.tests if cubes else ()) if any(cube.is_older(known) for cube in told)]

    def last_of(self, batch: BatchNo) -> CubeSet | None:
        """The cubes of a batch that were crushed last."""
        of = [(at, test) for at, test in self.tests if (test.plan, test.batch) == batch]
        if not of:
            return None
        last = max(at for at, _ in of)
        last_set = [(at, test) for at, test in of if at.date() == last.date()]
        at, weakest = min(last_set, key=lambda one: one[1].strength_mpa)
        return CubeSet(batch, weakest.mix, weakest.strength_mpa, self.age_h(at, weakest), last)

    def batches(self) -> Sequence[BatchNo]:
        """All batches of which cubes were crushed, in the order of their numbers."""
        return sorted({(test.plan, test.batch) for _, test in self.tests if test.batch is not None})

    def _as_cubes(self) -> Iterator[Cube]:
        for at, test in self.tests:
            if test.dry_density_kg_m3 is not None:
                ages_h = {"age_h": 24 * test.age_d, "equivalent_age_h": self.age_h(at, test)}
                made = (at - timedelta(days=test.age_d)).date()
                yield Cube(test.dry_density_kg_m3, test.strength_mpa, **ages_h, made=made, mix=test.mix)

    def age_h(self, at: datetime, test: Crushed) -> float:
        """Hours at 20 degC that a cube had at the moment it was crushed, at the most.

        Nobody said how warm it was kept: in water at 20 degC it aged by the calendar, beside the blocks by the air.
        Whichever is more is taken, so that no strength is believed sooner than it was there.
        """
        assert self._air is not None
        minute_of, age = self._site.calendar.minute_of, timedelta(days=test.age_d)
        return max(24 * test.age_d, self._air.age_h(minute_of(at - age), minute_of(at)))
