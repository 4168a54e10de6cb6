"""How a job stands, all together."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from blockrun.mix.records import Record
from blockrun.planner.as_planned import AsPlanned
from blockrun.planner.progress import Away
from blockrun.planner.risk.rates import Rates
from blockrun.site import Weather
from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import Fill, Poured
from blockrun.yard.status.standing import progress_of
from tests.yard.status.conftest import POURED, SECOND, STRIPPED, Status


def test_an_empty_journal_stands_at_nothing(status: Status) -> None:
    progress = status("2027-04-05 12:00")
    assert (progress.entries, progress.blocks.cast, progress.weighed, progress.clashes) == (0, 0, (), 0)
    assert (progress.blocks.ordered, progress.blocks.spares, progress.blocks.due) == (11, 4, 5)


def test_blocks_are_told_by_where_they_are(status: Status) -> None:
    blocks = status("2027-04-06 15:00", POURED, *STRIPPED[:2], "2027-04-06 14:00 rejected east 1 half cracked").blocks
    assert (blocks.cast, blocks.in_moulds, blocks.on_racks, blocks.rejected, blocks.lost) == (5, 1, 3, 1, 1)


def test_batches_to_come_that_heat_leaves_no_time_to_pour_are_told(status: Status, small: AsPlanned) -> None:
    """Foam and pour take 14 min; of 16 min, 13 are left at 34 degC."""
    weather = Weather(small.site.calendar.start, ((33.9, 34.1),) * 5)
    hot = replace(small, site=small.site.model_copy(update={"weather": weather, "pour_life_min": 16.0}))
    assert status("2027-04-06 15:00").hot == ()
    assert status("2027-04-06 15:00", plan=hot).hot == ((3, date(2027, 4, 8)), (4, date(2027, 4, 8)))


def test_courses_laid_whole_are_told(status: Status) -> None:
    more = ("2027-04-08 08:10 stripped gang-2/1", "2027-05-04 15:00 laid wall 1")
    progress = status("2027-05-04 16:00", POURED, *STRIPPED, SECOND, *more)
    assert (progress.courses, progress.courses_left) == (3, 2)


def test_only_what_happened_until_then_counts(status: Status) -> None:
    progress = status("2027-04-06 12:00", POURED, *STRIPPED, SECOND)
    assert (progress.entries, progress.batches.poured, progress.blocks.in_moulds) == (1, 1, 5)


def test_what_was_weighed_is_there_with_what_is_due(status: Status) -> None:
    (record,) = status("2027-04-05 12:00", f"{POURED} --foam 98g/L --weight 806kg/m3").weighed
    assert record == Record("1", 98.0, 806.0, "2027-04-05T08:24", "light", 95.0, record.wet_due_kg_m3)
    # by hand: 500 kg of cement, 250 of slurry water, and 95 kg/m3 x (1 - 500/3150 - 0.25) m3 of foam
    assert record.wet_due_kg_m3 == pytest.approx(750 + 95 * (1 - 500 / 3150 - 0.25))


@pytest.mark.parametrize(
    ("weighed", "off"),
    [
        ("--foam 98g/L --weight 806kg/m3", ()),
        ("--foam 71g/L", ("1",)),
        ("--weight 730kg/m3", ("1",)),
        ("--foam 102g/L", ("1",)),
        ("--foam 102g/L --weight 806kg/m3", ()),
    ],
)
def test_a_batch_outside_its_card_is_listed(status: Status, weighed: str, off: tuple[str, ...]) -> None:
    assert status("2027-04-05 12:00", f"{POURED} {weighed}").off_card == off


@pytest.mark.parametrize(("weighed", "share"), [("730kg/m3", 1), ("806kg/m3", 0)])
def test_blocks_of_a_batch_outside_its_card_are_counted_as_such(status: Status, weighed: str, share: int) -> None:
    told = status("2027-04-05 12:00", f"{POURED} --weight {weighed}")
    assert told.blocks.good > 0
    assert told.blocks_off_card == share * told.blocks.good


def test_a_batch_outside_its_card_is_listed_until_nothing_good_of_it_is_left(status: Status) -> None:
    rejected = "2027-04-05 12:00 rejected gang-2/1 gang-2/2 tray-1/b1 light"
    assert status("2027-04-05 12:00", f"{POURED} --foam 71g/L", rejected).off_card == ()


def test_a_batch_outside_its_card_is_listed_until_somebody_answers_for_it(status: Status) -> None:
    word = "2027-04-05 12:00 passed 1 the scales were wet"
    assert status("2027-04-05 12:00", f"{POURED} --foam 71g/L", word).off_card == ()


def test_a_batch_that_was_not_weighed_is_in_no_chart(status: Status) -> None:
    assert status("2027-04-05 12:00", POURED).weighed == ()


def test_lost_days_moulds_and_people_are_told(status: Status) -> None:
    recorded = (
        "2027-04-05 09:00 lost 2027-04-06 rain",
        "2027-04-05 10:00 mould gang-2/2 out hinge",
        "2027-04-05 11:00 away 1 2027-04-08 to 2027-04-12",
        "2027-04-05 11:00 away 1 2027-04-05",
    )
    progress = status("2027-04-07 08:00", *recorded)
    assert progress.lost_days == (date(2027, 4, 6),)
    assert progress.out_of_use == (("gang-2/02", datetime.fromisoformat("2027-04-05T10:00")),)
    assert progress.away == (Away(date(2027, 4, 8), date(2027, 4, 12), 1),)


def test_a_plan_made_anew_goes_on_with_the_journal_of_the_one_before(anew: AsPlanned) -> None:
    poured = Poured(batch=7, plan="1234", mix="light", fills=(Fill(mould="gang-2/01", marks=("full", "full")),))
    at = datetime.fromisoformat("2027-04-05T08:24")
    entry = Entry("key", at, at.replace(tzinfo=UTC), poured)
    progress = progress_of(anew, [entry], at, Rates())
    assert (progress.batches.poured, progress.batches.behind, progress.strange_pours) == (1, 0, 0)
    assert progress.reserves[0].amount == 4.5


def test_entries_that_cannot_have_been_are_counted(status: Status) -> None:
    # three strips of empty moulds, and moves to the rack of 2 full, 1 full with 1 half, and 1 thin
    assert status("2027-04-06 14:00", POURED, *STRIPPED, "2027-04-06 13:30 undo 1").clashes == 3 + 1 + 2 + 1
