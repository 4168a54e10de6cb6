"""A written plan made anew in its middle: all that it has until a moment happened, just as it is written."""

from __future__ import annotations

from collections import Counter
from datetime import datetime

import pandas as pd
import yard_of_slabs
import yard_with_bases
import yard_with_cubes
import yard_without_bases
from written_plan import WrittenPlan, moment_of

from blockrun.planner.begun import Begun
from blockrun.planner.begun.facts import BatchPoured, BlockCast, TurnBegun

ALL_PAST = "08T12:00"
MOMENTS = {
    yard_with_bases: ("05T13:40", "05T15:00", "06T07:40", "06T07:51", "06T07:54", "06T12:00", "06T14:11", ALL_PAST),
    yard_without_bases: ("05T12:00", "06T08:12", "06T08:18", "06T08:35", "06T12:00", "07T09:28", ALL_PAST),
    yard_of_slabs: ("05T12:00", "06T08:12", "06T08:35", "06T12:00", ALL_PAST),
    yard_with_cubes: ("05T12:00", "06T08:35", "06T12:00", ALL_PAST),
}
EVERY = [(yard, at) for yard, moments in MOMENTS.items() for at in moments]


def made_anew(plan: WrittenPlan, at: str) -> WrittenPlan:
    """The same plan, made anew at a moment such as ``06T07:40``, at which nobody is at work."""
    now = pd.Timestamp(moment_of(at))
    spares = Counter((row.mark, row.mix) for row in plan.casts.itertuples() if row.spare)
    plan.begun = Begun(
        since=now.to_pydatetime(),
        batches=tuple(_poured(plan, row) for row in plan.batches.itertuples() if row.end <= now),
        turns=tuple(
            _turn(plan, now, rows) for _, rows in plan.casts.groupby(["mould", "turn"]) if _is_begun(rows, now)
        ),
        spares=tuple((mark, mix, count) for (mark, mix), count in sorted(spares.items())),
    )
    return plan


def _poured(plan: WrittenPlan, row: object) -> BatchPoured:
    sets = plan.cubes.loc[plan.cubes["batch"] == row.batch, "set"].nunique()
    return BatchPoured(
        number=row.batch,
        plan="before",
        was=row.batch,
        mixer=row.mixer,
        mix=row.mix,
        bags=row.bags,
        poured=row.pour_to.to_pydatetime(),
        cubes=sets,
    )


def _is_begun(rows: pd.DataFrame, now: pd.Timestamp) -> bool:
    return bool(rows["poured"].iloc[0] <= now)


def _turn(plan: WrittenPlan, now: pd.Timestamp, rows: pd.DataFrame) -> TurnBegun:
    first = rows.iloc[0]
    strip = _past(first["strip"], now)
    cleans = plan.tasks[plan.rows("tasks", task="clean", mould=first["mould"], base=first["base"])]
    cleaned = cleans.loc[cleans["start"] >= first["strip"], "end"].min()
    sawn = {
        (row.mould, row.turn, row.cavity): (row.from_left_mm, row.from_bottom_mm, row.length_mm, row.height_mm)
        for row in plan.sawing.itertuples()
    }
    return TurnBegun(
        mould=first["mould"],
        base=first["base"],
        turn=first["turn"],
        sides_off=_past(first["sides_off"], now),
        strip=strip,
        clean=_past(cleaned, now),
        blocks=tuple(
            BlockCast(
                cavity=row.cavity,
                mark=row.mark,
                mix=row.mix,
                batch=row.batch,
                rack=row.rack if strip and now < row.rack_to else "",
                sawn=sawn.get((row.mould, row.turn, row.cavity)),
            )
            for row in rows.itertuples()
        ),
    )


def _past(moment: pd.Timestamp, now: pd.Timestamp) -> datetime | None:
    return moment.to_pydatetime() if pd.notna(moment) and moment <= now else None


def tell(plan: WrittenPlan, mould: str, turn: int, **facts: object) -> None:
    """Tell something else of a turn."""
    assert plan.begun is not None

    def told(one: TurnBegun) -> TurnBegun:
        return one.model_copy(update=facts) if (one.mould, one.turn) == (mould, turn) else one

    plan.begun = plan.begun.model_copy(update={"turns": tuple(told(one) for one in plan.begun.turns)})


def sides_later(plan: WrittenPlan, turn: int, minutes: int) -> None:
    """Shift the sides of a turn in the yard with bases."""
    plan.later("tasks", {"task": "sides", "base": f"slab-2/b0{turn}"}, "start end", minutes)
    plan.later("casts", {"mould": "slab-2/01", "turn": turn}, "sides_off", minutes)


def clean_later(plan: WrittenPlan, turn: int, minutes: int) -> None:
    """Shift the clean of a base in the yard with bases."""
    plan.later("tasks", {"task": "clean", "base": f"slab-2/b0{turn}"}, "start end", minutes)
