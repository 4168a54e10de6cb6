"""Shares that broke and were rejected."""

from __future__ import annotations

import pytest

from blockrun.planner.progress import Seen
from blockrun.planner.risk.rates import Broken, Rates
from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import Blocks, Rejected
from blockrun.yard.losses import cast_of, lost_of
from blockrun.yard.now import state_of
from blockrun.yard.status.losses import losses_of
from tests.yard.now.happened import LIGHT, entry, pour, rack, some, strip
from tests.yard.status.conftest import POURED, Status


def stripped(*broken: int, mould: str = "gang-4/01", first: int = 0) -> list[Entry]:
    """Moulds of four blocks, stripped one after the other, some of them broken."""
    return [
        entry(first + number, strip(mould, *([(4 - bad, "full")] if bad < 4 else []), broken=lost(bad)))
        for number, bad in enumerate(broken)
    ]


def lost(count: int) -> tuple[Blocks, ...]:
    return some((count, "full")) if count else ()


def rejected(minute: int, mould: str, count: int) -> Entry:
    blocks = (Blocks(mark="full", mix=LIGHT, count=count),)
    return entry(minute, Rejected(place="mould", name=mould, blocks=blocks, why="flat"))


def test_without_a_strip_or_a_pour_nothing_is_told(status: Status) -> None:
    progress = status("2027-04-05 08:00")
    assert (progress.losses.broken, progress.losses.flat, progress.losses.rejected) == (None, None, None)
    assert progress.lost_blocks is None


def test_broken_blocks_are_of_those_stripped(status: Status) -> None:
    broken = status("2027-04-06 14:00", POURED, "2027-04-06 13:00 stripped gang-2/1 1 broken").losses.broken
    assert broken is not None
    assert (broken.held, broken.of, broken.assumed) == (1, 2, 0.01)


def test_what_was_assumed_is_as_told(status: Status) -> None:
    rates = Rates(broken=Broken(at_strip=0.04), flat_batches=0.1)
    losses = status("2027-04-06 14:00", POURED, "2027-04-06 13:00 stripped gang-2/1", rates=rates).losses
    assert losses.broken is not None
    assert losses.flat is not None
    assert (losses.broken.assumed, losses.flat.assumed) == (0.04, 0.1)


def test_a_batch_is_thrown_away_when_all_of_it_is() -> None:
    pours = [entry(1, pour(1, "gang-4/01", *["full"] * 4)), entry(2, pour(2, "gang-4/02", *["full"] * 4))]
    told = [*pours, rejected(10, "gang-4/01", 4), rejected(11, "gang-4/02", 1)]
    losses = losses_of(state_of(told), told, Rates())
    assert losses.flat is not None
    assert losses.rejected is not None
    assert (losses.flat.held, losses.flat.of) == (1, 2)
    assert (losses.rejected.held, losses.rejected.of) == (1, 4)
    in_all = lost_of(state_of(told), 0.05)
    assert in_all is not None
    assert (in_all.held, in_all.of, in_all.assumed) == (5, 8, 0.05)


def test_a_batch_rejected_on_its_rack_was_not_thrown_away() -> None:
    poured = entry(1, pour(1, "gang-4/01", *["full"] * 4))
    on_rack = [entry(2, strip("gang-4/01", (4, "full"))), entry(3, rack("west", (4, "full"), mould="gang-4/01"))]
    blocks = (Blocks(mark="full", mix=LIGHT, count=4),)
    told = [poured, *on_rack, entry(4, Rejected(place="rack", name="west", blocks=blocks, why="frost"))]
    losses = losses_of(state_of(told), told, Rates())
    assert losses.flat is not None
    assert losses.rejected is not None
    assert (losses.flat.held, losses.flat.of) == (0, 1)
    assert (losses.rejected.held, losses.rejected.of) == (4, 4)


def test_a_batch_that_filled_no_mould_is_thrown_away_too() -> None:
    told = [entry(1, pour(1, "gang-4/01", *["full"] * 4)), entry(2, pour(2, "gang-4/02", "", ""))]
    flat = losses_of(state_of(told), told, Rates()).flat
    assert flat is not None
    assert (flat.held, flat.of) == (1, 2)


def test_losses_are_of_all_blocks_cast_as_a_plan_made_anew_counts_them(status: Status) -> None:
    progress = status("2027-04-06 14:00", POURED, "2027-04-06 13:00 stripped gang-2/1 1 broken")
    assert progress.lost_blocks is not None
    assert (progress.lost_blocks.held, progress.lost_blocks.of, progress.blocks.cast) == (1, 5, 5)


def test_a_batch_thrown_away_at_once_is_not_all_that_was_cast() -> None:
    pours = [entry(number, pour(number, f"gang-4/0{number}", *["full"] * 4)) for number in (1, 2, 3)]
    told = [*pours, rejected(10, "gang-4/02", 4)]
    in_all = lost_of(state_of(told), 0.05)
    assert in_all is not None
    assert (in_all.held, in_all.of) == (4, 12)


def test_the_same_batch_poured_again_is_another() -> None:
    told = [entry(1, pour(1, "gang-4/01", "full")), rejected(2, "gang-4/01", 1), entry(3, pour(1, "gang-4/01", "full"))]
    flat = losses_of(state_of(told), told, Rates()).flat
    assert flat is not None
    assert (flat.held, flat.of) == (1, 2)


def test_a_batch_thrown_away_and_poured_again_in_one_minute_is_two() -> None:
    told = [entry(2, pour(2, "gang-4/02", "", ""), "a", 1), entry(2, pour(2, "gang-4/02", "full", "full"), "b", 2)]
    flat = losses_of(state_of(told), told, Rates()).flat
    assert flat is not None
    assert (flat.held, flat.of) == (1, 2)
    assert cast_of(state_of(told)).total() == state_of(told).cast.total() == 2


def test_a_mould_is_named_where_chance_does_not_make_it() -> None:
    bad = stripped(1, 1, 1, 1, 1, mould="gang-4/03")
    good = [one for n in range(1, 8) for one in stripped(0, 0, 0, 0, 0, mould=f"gang-5/{n:02d}", first=100 * n)]
    broken = losses_of(state_of([]), [*bad, *good], Rates()).broken
    assert broken is not None
    assert broken.most == ("gang-4/03", 5, 20)


def test_no_mould_is_named_for_what_chance_makes() -> None:
    # three of four broken blocks are out of one of eight moulds: as likely as 8 x (4 x 7/8 x (1/8)^3 + (1/8)^4) = 0.057
    each = {n: stripped(1 if n == 2 else 0, 0, 0, 0, mould=f"gang-5/{n:02d}", first=100 * n) for n in range(1, 9)}
    each[1] = stripped(1, 1, 1, 0, mould="gang-5/01")
    told = [one for strips in each.values() for one in strips]
    broken = losses_of(state_of([]), told, Rates()).broken
    assert broken is not None
    assert (broken.held, broken.most) == (4, None)


def test_a_long_job_names_a_mould_too() -> None:
    bad = stripped(*[2] * 700, mould="gang-4/03")
    good = stripped(*[0, 1] * 350, mould="gang-4/04", first=10_000)
    broken = losses_of(state_of([]), [*bad, *good], Rates()).broken
    assert broken is not None
    assert broken.most == ("gang-4/03", 1400, 2800)


def test_a_yard_of_one_mould_names_none() -> None:
    broken = losses_of(state_of([]), stripped(2, 2, 2), Rates()).broken
    assert broken is not None
    assert broken.most is None


# what a share says of what was assumed


def spread_out(held: int, of: int) -> tuple[tuple[int, int], ...]:
    return tuple((int(number < held), 1) for number in range(of))


@pytest.mark.parametrize(
    ("held", "of", "verdict"),
    [(0, 20, "too few"), (1, 4, "too few"), (2, 12, "too few"), (3, 20, "more"), (2, 200, "too few"),
     (5, 400, "as assumed"), (0, 2000, "fewer"), (30, 1000, "more")],
)  # fmt: skip
def test_a_share_beside_one_in_a_hundred(held: int, of: int, verdict: str) -> None:
    assert Seen(spread_out(held, of), 0.01).verdict == verdict


def test_blocks_that_break_together_tell_less() -> None:
    together, alone = Seen(((4, 4), *[(0, 4)] * 29), 0.01), Seen(spread_out(4, 120), 0.01)
    assert together.share == alone.share
    assert (alone.verdict, together.verdict) == ("more", "too few")
    assert together.ends[0] < alone.ends[0] < alone.ends[1] < together.ends[1]


def test_nothing_is_assumed_to_go_wrong_and_something_did() -> None:
    assert Seen(spread_out(3, 20), 0.0).verdict == "more"
    assert Seen(spread_out(0, 20), 0.0).verdict == "too few"
