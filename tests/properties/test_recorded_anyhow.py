"""Whatever is recorded, likely or not, a plan made anew from it is one that the audit passes."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from random import Random
from typing import Final

import pytest

from blockrun.errors import BadInput
from blockrun.planner.as_planned import AsPlanned, load_as_planned
from blockrun.planner.audit import audit
from blockrun.planner.begun import Begun
from blockrun.planner.begun.old import GoingOn
from blockrun.planner.begun.site import site_begun
from blockrun.planner.make import make_plan
from blockrun.planner.saved import load_plan
from blockrun.site import Site
from blockrun.yard.journal import FILE
from blockrun.yard.now import State
from blockrun.yard.record.recorder import Recorder, Typed
from blockrun.yard.replan.happened import happened
from blockrun.yard.replan.kept import Kept
from tests.yard.replan.went import as_planned_of

LATER: Final = datetime.fromisoformat("2027-07-01T08:00")
ASKED: Final = {"small": (*range(8), 50), "slabs": (0, 1, 4)}
"""Seeds, by plan; in 50 a count finds all of a mix, and in 4 of the slabs somebody moves blocks when it is planned."""


class Somebody:
    """Types what may be typed of a yard, thinking little."""

    def __init__(self, plan: AsPlanned, dice: Random) -> None:
        self.plan, self.dice = plan, dice
        self.batches, self.marks, self.parts = sorted(plan.batches)[:14], sorted(plan.marks), sorted(plan.parts)
        self.racks = [rack.name for rack in plan.site.racks]
        self.moulds = sorted(name for name in plan.moulds if "/b" not in name)

    def types(self, state: State) -> str:
        """One thing, in the yard as it is by now."""
        any_of: Callable[..., object] = self.dice.choice
        batch, mark, rack = any_of(self.batches), any_of(self.marks), any_of(self.racks)
        mould, out = (
            any_of(sorted(state.moulds) or self.moulds),
            sorted(place for place in state.out if state.out[place]),
        )
        said = [
            *[f"poured {batch}"] * 4,
            *[f"stripped {mould}"] * 3,
            f"poured {batch} again",
            f"poured extra {any_of(self.moulds)} {mark} mix {any_of(sorted(self.plan.mixes))}",
            f"thrown {batch} flat",
            *(f"stripped {mould} {how}" for how in ("1 broken", "all broken", "stays")),
            f"sides {mould}",
            f"moved {any_of(out)}" if out else f"moved 1 {mark} to {rack}",
            f"stacked {rack} 2 {mark}",
            f"laid {any_of(self.parts)} 1 2 {mark}",
            *(f"rejected {place} chipped" for place in (mould, f"{rack} 1 {mark}", f"stack 1 {mark}")),
            f"counted {rack} {self.dice.randint(0, 9)} {mark}",
            f"weather {self.dice.randint(-5, 5)} {self.dice.randint(6, 20)}",
            "lost rain",
            f"undo {self.dice.randint(1, 30)}",
        ]
        return str(any_of(said))


@pytest.mark.parametrize(("plan", "seed"), [(plan, seed) for plan, seeds in ASKED.items() for seed in seeds])
def test_the_audit_passes_a_plan_made_anew_from_whatever_is_recorded(plan: str, seed: int, tmp_path: Path) -> None:
    folder, dice = Path(__file__).parents[1] / "plans" / plan, Random(seed)
    kept = Kept(load_as_planned(folder), load_plan(folder))
    recorder = Recorder(kept.as_planned, tmp_path / FILE, LATER, LATER.replace(tzinfo=UTC))
    somebody, at = Somebody(kept.as_planned, dice), min(cast.poured for cast in kept.as_planned.casts)
    for number in range(dice.randint(10, 40)):
        at += timedelta(minutes=dice.choice((0, 1, 5, 20, 60, 240, 1440)))
        typed = Typed(tuple(somebody.types(recorder.state).split()), f"k{number}", f"{at:%Y-%m-%d %H:%M}")
        with contextlib.suppress(BadInput):  # what cannot have been
            recorder.record(typed)
    assert recorder.entries
    begun = happened([kept], recorder.entries, at, 2, 1)
    poured = frozenset(batch.was for batch in begun.batches if batch.plan == kept.id)
    site = site_begun(with_plenty(kept.plan.site), begun)
    made = make_plan(site, kept.plan.order, rounds=0, on=GoingOn(begun, kept.plan, poured))
    assert audit(made.site, made.order, made.tables, made.stages, made.totals, made.begun) == []
    assert_poured_ones_keep_their_numbers(begun, kept)
    again = happened([Kept(as_planned_of(made), made), kept], recorder.entries, at, 3, 2)
    assert [one.number for one in again.batches] == [one.number for one in begun.batches]
    to_come = {*made.tables.batches["batch"]} - begun.poured
    assert min(to_come, default=1000) > max(begun.poured, default=0)


def assert_poured_ones_keep_their_numbers(begun: Begun, kept: Kept) -> None:
    """None is used twice, and of each batch of the plan the pour that was kept has the number of its card."""
    assert len(begun.poured) == len(begun.batches)
    last = {one.was: one.number for one in begun.batches if one.plan == kept.id}
    assert all(was == number for was, number in last.items())


def with_plenty(site: Site) -> Site:
    """With cement and agent for whatever has to be made up for."""
    cement = site.stock.cement.model_copy(update={"on_hand_bags": 1000})
    agent = site.stock.foaming_agent.model_copy(update={"on_hand_l": 100})
    stock = site.stock.model_copy(update={"cement": cement, "foaming_agent": agent})
    return site.model_copy(update={"stock": stock})
