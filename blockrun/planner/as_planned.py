"""What a saved plan says of batches, moulds and courses, read without any table being loaded whole into memory.

For commands that answer in a moment in the yard: they read the site, the rows of the casts, and nothing that plans.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from blockrun.errors import BadInput, BadPlan
from blockrun.files.in_place import read_whole
from blockrun.planner.folder import MARK
from blockrun.planner.label_code import OF_A_CAST, id_of
from blockrun.planner.plan_files import BEGUN, plan_files
from blockrun.planner.saved_rows import planned_batches, rows_of
from blockrun.site.mould_names import kind_named

if TYPE_CHECKING:
    from blockrun.mix import Proportions
    from blockrun.order import OrderLine
    from blockrun.order.mixes_alone import OrderMixes
    from blockrun.planner.begun.facts import BatchPoured, Begun
    from blockrun.planner.uses import Use
    from blockrun.site import MouldKind, Site


@dataclass(frozen=True)
class PlannedCast:
    """One block of a plan; see the columns of its casts."""

    cast: int
    part: str
    course: int | None
    mark: str
    mix: str
    spare: bool
    mould: str
    base: str
    turn: int
    cavity: int
    batch: int
    poured: datetime
    sides_off: datetime | None
    strip: datetime
    rack: str
    rack_to: datetime
    ready: datetime
    needed: datetime | None

    @property
    def place(self) -> str:
        """Where it stands until the strip."""
        return self.base or self.mould


@dataclass(frozen=True)
class AsPlanned:
    """A saved plan, as the yard needs to know it.

    Parameters
    ----------
    directory : where it was saved.
    site : what it was made for.
    order : where the copy of its order lies, and of the files that names.
    casts : its blocks.
    """

    directory: Path
    site: Site
    order: dict[str, Path]
    casts: tuple[PlannedCast, ...]

    @cached_property
    def id(self) -> str:
        """What tells this plan from others; see `blockrun.planner.label_code`."""
        return id_of(
            [str(getattr(cast, name) or 0) if name == "course" else str(getattr(cast, name)) for name in OF_A_CAST]
            for cast in self.casts
        )

    def recorded_as(self, batch: int) -> tuple[str, int]:
        """By which plan's digits and number a batch of this one is recorded: by its own, unless it was poured before.

        A plan made anew in the middle of a job knows what was poured by then as the plan of then recorded it.
        """
        return self._before.get(batch, (self.id, batch))

    def number_of(self, recorded: tuple[str, int]) -> int | None:
        """The other way round: its number for a batch as it is recorded; None for one of another plan."""
        plan, number = recorded
        return self._numbers.get(recorded) or (number if plan == self.id else None)

    def number_of_pour(self, recorded: tuple[str, int], poured: datetime) -> int | None:
        """The same of one pour of a batch that may have been poured several times, each of which has a number."""
        pours = (one.number for one in self.poured_before if (one.plan, one.was, one.poured) == (*recorded, poured))
        return next(pours, None) or self.number_of(recorded)

    @cached_property
    def _numbers(self) -> dict[tuple[str, int], int]:
        if not self.poured_before:
            return {}
        from blockrun.planner.begun.numbers import numbers_before

        return numbers_before(self.poured_before, self.batches)

    @cached_property
    def _before(self) -> dict[int, tuple[str, int]]:
        return {one.number: (one.plan, one.was) for one in self.poured_before}

    @cached_property
    def poured_before(self) -> tuple[BatchPoured, ...]:
        """Batches that were poured before this plan was made anew; of those that went flat it has no blocks."""
        return () if self.begun is None else self.begun.batches

    @cached_property
    def begun(self) -> Begun | None:
        """What had happened before it was made anew; None for a plan from the start."""
        path = self.directory / BEGUN
        if not path.is_file():
            return None
        from blockrun.planner.begun.facts import read_begun

        return read_begun(path)

    @cached_property
    def found(self) -> tuple[OrderLine, ...]:
        """Blocks ordered that are not among its casts: a count had found that they are there."""
        from blockrun.planner.begun.lines import found_of

        return found_of(lambda: self.ordered, self.begun)

    @cached_property
    def ordered(self) -> list[OrderLine]:
        """Lines of the order, dated by the working days that the site had when the plan was made."""
        from blockrun.order import load_order, takeoff
        from blockrun.planner.begun.site import site_begun

        site = self.site if self.begun is None else site_begun(self.site, self.begun)
        return list(takeoff(load_order(self.order[""], files=self.order), site.calendar, self.site.moulds))

    @cached_property
    def pours(self) -> dict[int, datetime]:
        """When each of its batches is poured, or was, by number."""
        before = {one.number: one.poured for one in self.poured_before}
        return before | {number: casts[0].poured for number, casts in self.batches.items()}

    @cached_property
    def proportions(self) -> dict[str, Proportions]:
        """Its mixes, with the foam of its site."""
        from blockrun.planner.mixes import mix_proportions

        return mix_proportions(self.site, self._mixes)

    @cached_property
    def strengths_mpa(self) -> dict[str, float]:
        """What cubes of its mixes are to have, for those that are ordered by their strength."""
        return {mix.name: mix.strength_mpa for mix in self._mixes.mixes if mix.strength_mpa is not None}

    @cached_property
    def _mixes(self) -> OrderMixes:
        from blockrun.order.mixes_alone import load_mixes

        return load_mixes(self.order[""], files=self.order)

    @cached_property
    def uses(self) -> dict[int, tuple[Use, ...]]:
        """What each of its batches takes, by number.

        Raises
        ------
        BadPlan : a batch is of a mix that the order has not, or blocks are of a batch that is not there.
        """
        from blockrun.planner.uses import uses_of_batch

        batches = {one.batch: one for one in planned_batches(self.directory)}
        try:
            return {
                number: tuple(uses_of_batch(batches[number], self.proportions[batches[number].mix], self.site))
                for number in {**batches, **self.batches}
            }
        except KeyError as error:
            what = f"the tables of the plan do not fit together: nothing is known of {error}"
            raise BadPlan(what, "See what is wrong with: blockrun audit DIR", file=self.directory) from error

    @cached_property
    def batches(self) -> dict[int, list[PlannedCast]]:
        """The blocks of each batch."""
        found: dict[int, list[PlannedCast]] = {}
        for cast in self.casts:
            found.setdefault(cast.batch, []).append(cast)
        return found

    @cached_property
    def last_ready(self) -> date:
        """The last day on which blocks become ready; the first of the site where it has none."""
        return max((cast.ready.date() for cast in self.casts), default=self.site.calendar.start)

    @cached_property
    def mixes(self) -> frozenset[str]:
        """Mixes of its blocks."""
        return frozenset(mix for _, mix in self.kinds)

    @cached_property
    def marks(self) -> frozenset[str]:
        """Marks of its blocks."""
        return frozenset(mark for mark, _ in self.kinds)

    @cached_property
    def kinds(self) -> frozenset[tuple[str, str]]:
        """Marks of its blocks, each with its mix."""
        found = {(line.mark, line.mix) for line in self.found}
        return frozenset(found | {(cast.mark, cast.mix) for cast in self.casts})

    @cached_property
    def courses(self) -> dict[tuple[str, int | None], Counter[tuple[str, str]]]:
        """What each course is of, by part and number, as ordered: blocks that are cast for it, and those found."""
        courses: dict[tuple[str, int | None], Counter[tuple[str, str]]] = {}
        for cast in self.casts:
            if cast.part and not cast.spare:
                courses.setdefault((cast.part, cast.course), Counter())[cast.mark, cast.mix] += 1
        for line in self.found:
            courses.setdefault((line.part, line.course), Counter())[line.mark, line.mix] += line.count
        return courses

    @cached_property
    def parts(self) -> frozenset[str]:
        """Parts of the order that it has blocks for."""
        return frozenset(part for part, _ in self.courses)

    @cached_property
    def domes(self) -> frozenset[str]:
        """Parts of the order that are domes, whose rings are laid whole."""
        from blockrun.files.yaml import read_yaml

        parts = read_yaml(self.order[""]).data.get("parts") or []
        return frozenset(str(part["dome"]) for part in parts if isinstance(part, dict) and "dome" in part)

    @cached_property
    def moulds(self) -> frozenset[str]:
        """Moulds and bases: all that the site has, and those the plan fills."""
        named = {name for kind in self.site.moulds for name in (*kind.mould_names, *kind.base_names)}
        return frozenset(named | {name for cast in self.casts for name in (cast.mould, cast.base) if name})

    def kind_of(self, mould: str) -> MouldKind:
        """The kind that a mould or a base is of.

        Raises
        ------
        BadInput : the site has none such; another plan may have been made since.
        """
        name = kind_named(mould)
        found = next((kind for kind in self.site.moulds if kind.kind == name), None)
        if found is None:
            todo = "Was the plan made anew for another yard? Record its strip, or undo the pour."
            raise BadInput(f"{mould} is recorded as filled, and the site of this plan has no moulds {name}", todo)
        return found


def load_as_planned(directory: Path) -> AsPlanned:
    """Read what the yard needs of a saved plan.

    Raises
    ------
    BadPlan : no plan is saved there, or what is there cannot be read.
    BadInput : another one was broken off in coming into its place, and the rest of it cannot be brought in.
    """
    return read_whole(directory, MARK, lambda: _load(directory))


def _load(directory: Path) -> AsPlanned:
    from blockrun.site import load_site

    site, order = plan_files(directory)
    casts = rows_of(directory, "casts", PlannedCast)
    return AsPlanned(directory, load_site(site[""], files=site), order, casts)


def found_name(written: str, names: Iterable[str]) -> str | None:
    """The name that is meant: ``gang-4/03`` for ``gang-4/3``, in small letters or large; None where there is none."""
    known = sorted(names)
    return next((name for name in known if name == written), None) or next(
        (name for name in known if plain_name(name) == plain_name(written)), None
    )


def plain_name(name: str) -> str:
    """A name in small letters, its last number without noughts before it."""
    return re.sub(r"(?<!\d)0+(?=\d+$)", "", name.strip().lower())
