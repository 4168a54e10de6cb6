"""A job in the middle of which its plan is made anew: what is read for it, and what is said of it."""

from __future__ import annotations

from contextlib import ExitStack
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property
from pathlib import Path
from tempfile import TemporaryDirectory
from types import TracebackType
from typing import TYPE_CHECKING, Self

from blockrun.errors import BadInput
from blockrun.files.moments import moment_meant
from blockrun.order import load_order
from blockrun.planner.as_planned import load_as_planned
from blockrun.planner.begun.changes import next_days
from blockrun.planner.begun.courses import courses_moved
from blockrun.planner.begun.old import GoingOn
from blockrun.planner.begun.site import site_begun
from blockrun.planner.earlier import next_number, number_of
from blockrun.planner.folder import MARK, earlier_plans
from blockrun.planner.plan_files import plan_files
from blockrun.planner.replanned import Reached, Replanned
from blockrun.planner.saved import load_plan
from blockrun.site import load_site
from blockrun.yard.journal import entries_kept, standing
from blockrun.yard.now import state_of
from blockrun.yard.ready.apart import blocks_apart
from blockrun.yard.record.known import Known, span_of
from blockrun.yard.replan.forecast import with_forecast
from blockrun.yard.replan.happened import happened
from blockrun.yard.replan.kept import Kept
from blockrun.yard.replan.why import not_recorded, stack_gone, why_otherwise

if TYPE_CHECKING:
    from blockrun.order import Order
    from blockrun.planner.begun import Begun
    from blockrun.planner.plan import Plan
    from blockrun.site import Site
    from blockrun.yard.journal import Entry
    from blockrun.yard.now import State


@dataclass(frozen=True)
class Changed:
    """Files that have changed since the plan before was made; None for those that have not."""

    site: Path | None = None
    order: Path | None = None
    weather: Path | None = None

    @property
    def any(self) -> bool:
        """Whether one has."""
        return bool(self.site or self.order or self.weather)

    @property
    def said(self) -> tuple[str, ...]:
        """Which have, a sentence each."""
        files = (("site", self.site), ("order", self.order), ("weather", self.weather))
        return tuple(f"the {name} is as {path} has it now" for name, path in files if path)


@dataclass
class Job:
    """A job that has begun; a plan is made from it in a ``with`` block.

    Parameters
    ----------
    directory : of its plan.
    now : by the clock of the yard.
    told : from when on it is planned anew, as written; None for now, or for when the plan in hand begins, if that was
        made for a later moment.
    changed : files.
    """

    directory: Path
    now: datetime
    told: str | None = None
    changed: Changed = field(default_factory=Changed)
    _facts: bytes = field(default=b"", init=False, repr=False)
    _open: ExitStack = field(default_factory=ExitStack, init=False, repr=False)

    def __enter__(self) -> Self:
        """Return the job."""
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        """Remove what was written beside."""
        self._open.close()

    @cached_property
    def _beside(self) -> Path:
        """For files that are read, and copied into the plan."""
        return Path(self._open.enter_context(TemporaryDirectory()))

    @cached_property
    def plan(self) -> Kept:
        """The plan in hand."""
        self._facts = _facts(self.directory)
        return _kept(self.directory)

    @cached_property
    def at(self) -> datetime:
        """From when on it is planned anew.

        Raises
        ------
        BadInput : it cannot be read, or is before the plan in hand was made.
        """
        before = self.plan.plan.begun
        if self.told is None:
            return max(self.now, before.since) if before else self.now
        moment = moment_meant(self.told, self.now, span_of(self.plan.as_planned, self.now.date()))
        if before is not None and moment < before.since:
            what = f"the plan in hand was made for {before.since:%Y-%m-%d %H:%M}, after {moment:%Y-%m-%d %H:%M}"
            todo = "Give a later --at, or go back first: blockrun replan DIR --undo"
            raise BadInput(what, todo, name="--at", value=self.told)
        return moment

    @cached_property
    def plans(self) -> list[Kept]:
        """It, and those before it, the newest first."""
        earlier = (_kept(folder) for _, folder in sorted(earlier_plans(self.directory).items(), reverse=True))
        return [self.plan, *(kept for kept in earlier if kept.id != self.plan.id)]

    @cached_property
    def entries(self) -> list[Entry]:
        """What was recorded and stands, until the moment."""
        return [entry for entry in self._all_entries if entry.happened <= self.at]

    @cached_property
    def _all_entries(self) -> list[Entry]:
        return standing(self._all_recorded)

    @cached_property
    def _all_recorded(self) -> list[Entry]:
        """What was recorded when the job was looked at first."""
        return self._recorded

    @property
    def _recorded(self) -> list[Entry]:
        """What is recorded by now, whether it counts or not."""
        return entries_kept(self.directory)

    @cached_property
    def begun(self) -> Begun:
        """What had happened."""
        number, after = next_number(self.directory), number_of(self.directory)
        found = happened(self.plans, self.entries, self.at, number, after, self._inputs)
        return found.model_copy(update={"last_entry": max((one.number for one in self._all_recorded), default=0)})

    def asked(self) -> tuple[Site, Order, GoingOn] | None:
        """What is to be planned; None where nothing happened for which the plan would have to be another.

        Raises
        ------
        BadInput, BadPlan : the moment or a file cannot be read.
        """
        if not self._is_news and not self.changed.any and not self._missing:
            return None
        site, order = self._inputs
        return site_begun(site, self.begun), order, GoingOn(self.begun, self.plan.plan, self._poured)

    def check_still(self) -> None:
        """Refuse to save what goes on from another plan than the one in hand, or from less than is recorded by now.

        Raises
        ------
        BadInput : another plan was made meanwhile, or something was recorded.
        """
        if _facts(self.directory) != self._facts:
            todo = "Nothing was saved. Plan anew from that one."
            raise BadInput("another plan was made here meanwhile", todo, file=self.directory)
        if new := [one for one in self._recorded if one not in self._all_recorded]:
            what = f"{len(new)} {'thing was' if len(new) == 1 else 'things were'} recorded while this was planned"
            raise BadInput(what, "Nothing was saved. Plan anew, with what is recorded now.", file=self.directory)

    @property
    def since_said(self) -> str:
        """Since when nothing was recorded, in words."""
        begun = self.plan.plan.begun
        return "yet" if begun is None else f"since {begun.since:%Y-%m-%d %H:%M}"

    def replanned(self, made: Plan, kept: Reached | None) -> Replanned:
        """What is to be said of the plan that was made.

        Parameters
        ----------
        kept : what the plan before comes to when it is carried on as it is.
        """
        assert made.begun is not None
        changed = (*self.changed.said, *stack_gone(self._state, self.plan.plan.site, made.site))
        return Replanned(
            made,
            {stage.stage: stage.value for stage in self.plan.plan.stages},
            kept,
            (*why_otherwise(self.plan, self.entries, made.begun), *changed),
            self._missing,
            len(self._all_entries) - len(self.entries),
            tuple(next_days(self.plan.plan, made, self._poured)),
            tuple(note for note in made.warnings if note not in self.plan.plan.warnings),
            made.begun.number,
            made.begun.after,
            self._blocks_off_card,
            tuple(courses_moved(self.plan.plan, made)),
        )

    @cached_property
    def _state(self) -> State:
        """Where all blocks are at the moment."""
        return state_of(self.entries)

    @cached_property
    def _poured(self) -> frozenset[int]:
        """Numbers that the plan in hand has for batches that were poured."""
        before = self.plan.plan.begun
        own = {number for of, number in self._state.poured if of == self.plan.id}
        return frozenset(own | (before.poured if before else frozenset()))

    @property
    def _blocks_off_card(self) -> int:
        """Blocks that are not to be laid as they are; a plan made anew takes them for good until they are rejected."""
        apart = Known(self.plan.as_planned, self._state, self.at, self.entries).apart
        return blocks_apart(self._state, apart).total()

    @cached_property
    def _missing(self) -> tuple[int, ...]:
        return not_recorded(self.plan, self._state, self.at)

    @property
    def _is_news(self) -> bool:
        """Whether something was recorded that the plan in hand does not know of."""
        before = self.plan.plan.begun
        if before is None:
            return bool(self.entries)
        now = happened(self.plans, self.entries, before.since, before.number, before.after)
        told_apart = {"saw_plans": before.saw_plans, "last_entry": before.last_entry}
        return now.model_copy(update=told_apart) != before or any(
            entry.happened > before.since for entry in self.entries
        )

    @cached_property
    def _inputs(self) -> tuple[Site, Order]:
        """The site and the order as they are now."""
        site_files, order_files = plan_files(self.directory)
        site = site_files if self.changed.site is None else {"": self.changed.site}
        order = order_files if self.changed.order is None else {"": self.changed.order}
        if self.changed.weather is not None:
            others = load_site(site[""], files=site).sources
            site = with_forecast(others, self.changed.weather, self.at.date(), self._beside)
        return load_site(site[""], files=site), load_order(order[""], files=order)


def _kept(directory: Path) -> Kept:
    return Kept(load_as_planned(directory), load_plan(directory))


def _facts(directory: Path) -> bytes:
    """What tells a plan from any other; nothing where there is none."""
    path = directory / MARK
    return path.read_bytes() if path.is_file() else b""
