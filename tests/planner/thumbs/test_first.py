"""Frost between pour and strip is looked for in one go, however many turns a plan has."""

from __future__ import annotations

from pathlib import Path

import pytest

from blockrun.cure.age import Ints
from blockrun.cure.air import Floats
from blockrun.cure.frozen import FrozenHours
from blockrun.planner.saved import load_plan
from blockrun.planner.thumbs.first import thumb_first


def test_the_air_of_all_turns_is_asked_for_at_once(small_folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[int] = []

    def hours(self: FrozenHours, from_min: Ints, to_min: Ints) -> Floats:
        asked.append(len(from_min))
        return (to_min - from_min) / 60.0

    monkeypatch.setattr(FrozenHours, "hours", hours)
    plan = load_plan(small_folder)
    turns = plan.tables.casts[["mould", "turn"]].drop_duplicates()
    assert sum(one.froze for one in thumb_first(plan, None)) == len(turns)
    assert asked == [len(turns)]
