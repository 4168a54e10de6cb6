from __future__ import annotations

import dataclasses
import re
from datetime import date, datetime, timedelta

import pytest
from syrupy.assertion import SnapshotAssertion

from blockrun.errors import BadInput
from blockrun.planner.begun import Begun
from blockrun.planner.begun.facts import BatchPoured, BlockCast, TurnBegun
from blockrun.planner.plan import Plan
from blockrun.planner.tables import table
from blockrun.show.crew import people_said
from blockrun.show.day import Pour
from blockrun.show.days import days_text
from blockrun.show.diary import Diary
from blockrun.show.page import LIMIT
from blockrun.site import CubeSets

THURSDAY = date(2027, 4, 8)


@pytest.fixture(params=["small", "demo"])
def plan(request: pytest.FixtureRequest) -> Plan:
    """A plan made by hand, and the one made for the demo."""
    found: Plan = request.getfixturevalue(f"{request.param}_plan")
    return found


def lines_of(plan: Plan, width: int = 80, **days: date) -> list[str]:
    return days_text(plan, width, **days).plain.split("\n")


def in_us_units(plan: Plan) -> Plan:
    return dataclasses.replace(plan, site=plan.site.model_copy(update={"units": "US"}))


def test_days_at_80_columns(small_plan: Plan, golden: SnapshotAssertion) -> None:
    assert days_text(small_plan, 80).plain == golden


def test_days_at_40_columns(small_plan: Plan, golden: SnapshotAssertion) -> None:
    assert days_text(small_plan, 40).plain == golden


def test_one_day_in_us_units(small_plan: Plan, golden: SnapshotAssertion) -> None:
    assert days_text(in_us_units(small_plan), 80, THURSDAY, THURSDAY).plain == golden


@pytest.mark.parametrize("width", range(30, 100, 7))
def test_no_line_is_wider_than_the_screen(small_plan: Plan, width: int) -> None:
    assert max(map(len, lines_of(small_plan, width))) <= width


def test_limits_stand_out_and_clock_times_do_not(small_plan: Plan) -> None:
    text = days_text(small_plan, 80, date(2027, 4, 6), date(2027, 4, 6))
    standing_out = [text.plain[span.start : span.end] for span in text.spans if span.style == LIMIT]
    assert standing_out == [
        "LAST FOAM 15:00",
        "NOT NOW: RACKS EMPTY",
        "NOT BEFORE 12:45",
        "NOT BEFORE 12:45",
        "POUR BY 14:20",
    ]


def test_only_the_days_asked_for_are_told(small_plan: Plan) -> None:
    headings = [line[:15] for line in lines_of(small_plan, first=date(2027, 4, 7), last=THURSDAY) if "──" in line]
    assert headings == ["Wed 7 Apr 2027 ", "Thu 8 Apr 2027 "]


def test_days_without_anything_to_do_are_said(small_plan: Plan) -> None:
    weekend = lines_of(small_plan, first=date(2027, 4, 24), last=date(2027, 4, 25))
    assert "Nothing to do from Sat 24 Apr 2027 to Sun 25 Apr 2027." in weekend


def test_one_day_without_anything_to_do_is_said_as_one(small_plan: Plan) -> None:
    sunday = date(2027, 4, 25)
    assert "Nothing to do on Sun 25 Apr 2027." in lines_of(small_plan, first=sunday, last=sunday)


def test_quiet_days_on_which_the_same_is_said_stand_together(small_plan: Plan) -> None:
    lines = lines_of(small_plan, first=date(2027, 4, 10), last=date(2027, 4, 11))
    heading = next(number for number, line in enumerate(lines) if "──" in line)
    assert lines[heading].startswith("Sat 10 Apr to Sun 11 Apr 2027 ──")
    assert lines[heading + 1].startswith(
        "10 blocks on the racks and 5 in moulds overnight: keep them damp and covered;"
    )


def test_a_day_says_what_it_pours_in_all_and_when_its_work_ends(small_plan: Plan) -> None:
    """Thursday's batches take 2 and 2 1/2 bags; their water is 25 + 28.1 L and 5.48 + 3.28 L in the foam."""
    words = " ".join(lines_of(small_plan, first=THURSDAY, last=THURSDAY))
    assert "5 blocks in 2 batches: 4 1/2 bags of cement, 63.7 L of water, 265 mL of agent" in words
    assert "the last work ends 09:46" in words


def test_chores_that_are_not_done_are_no_work_that_ends(small_plan: Plan) -> None:
    """On Monday the racks are empty: the batch ends 08:28, the chore that is left out would 08:40."""
    monday = date(2027, 4, 5)
    assert "the last work ends 08:28" in " ".join(lines_of(small_plan, first=monday, last=monday))
    alone = dataclasses.replace(
        small_plan, tables=dataclasses.replace(small_plan.tables, tasks=small_plan.tables.tasks.iloc[1:2])
    )
    assert "ast work ends" not in " ".join(lines_of(alone, first=monday, last=monday))


def test_names_are_explained_once_at_the_head(small_plan: Plan) -> None:
    words = " ".join(lines_of(small_plan)[1:3])
    assert words == (
        "gang-2/01 is mould 1 of kind gang-2, tray-1/b01 base 1 of kind tray-1; cavities count from the one painted 1."
    )


def test_a_table_changed_since_it_was_saved_is_said_first(small_plan: Plan) -> None:
    text = days_text(small_plan, 80, warnings=["casts.csv was changed since it was saved; run: blockrun audit plan"])
    assert text.plain.startswith("casts.csv was changed since it was saved; run: blockrun audit plan\nHand yard")


def clocks_of_days(lines: list[str]) -> list[list[str]]:
    """Times that lines begin with, by day."""
    days: list[list[str]] = [[]]
    for line in lines:
        if "──" in line:
            days.append([])
        elif re.match(r"\d\d:\d\d ", line):
            days[-1].append(line[:5])
    return days


@pytest.mark.parametrize("width", [40, 80])
def test_each_day_is_in_the_order_of_the_clock(plan: Plan, width: int) -> None:
    days = clocks_of_days(lines_of(plan, width))
    assert sum(map(len, days)) > 20
    assert days == [sorted(day) for day in days]


@pytest.mark.parametrize("width", range(40, 81, 5))
def test_lines_fit_and_break_at_spaces_only(plan: Plan, width: int) -> None:
    """The words are the same however wide the sheet, but for headings and the bullets."""
    lines = lines_of(plan, width)
    assert max(map(len, lines)) <= width
    assert words_of(lines) == words_of(lines_of(plan, 2000))


def words_of(lines: list[str]) -> list[str]:
    return [word for line in lines for word in line.split() if "──" not in word]


def test_people_are_said_so_that_no_minute_takes_more_than_there_are(plan: Plan) -> None:
    diary = Diary(plan)
    for day in diary.days(diary.first, diary.last):
        said = zip(day.jobs, people_said(day.jobs, day.people), strict=True)
        taken = [(job, people_in(words)) for job, words in said if isinstance(job, Pour) or job.task != "chore"]
        for job, _ in taken:
            assert sum(people for other, people in taken if other.start <= job.start < other.end) <= day.people


def people_in(words: str) -> int:
    number = re.search(r"\d+", words)
    return int(number[0]) if number else 0


@pytest.mark.parametrize(
    ("first", "last", "said"),
    [
        (date(2027, 5, 7), None, "nothing is planned from 2027-05-07 on"),
        (None, date(2027, 4, 4), "nothing is planned up to 2027-04-04"),
        (date(2027, 4, 9), date(2027, 4, 8), "--to 2027-04-08 comes before --from 2027-04-09"),
    ],
)
def test_days_outside_the_plan_are_refused(small_plan: Plan, first: date | None, last: date | None, said: str) -> None:
    with pytest.raises(BadInput, match=said) as caught:
        days_text(small_plan, 80, first, last)
    assert "The plan runs from 2027-04-05 to 2027-05-06 (Mon 5 Apr to Thu 6 May)." in str(caught.value)


def test_days_that_stick_out_of_the_plan_are_cut_to_it(small_plan: Plan) -> None:
    assert lines_of(small_plan, first=date(2026, 1, 1), last=date(2028, 1, 1)) == lines_of(small_plan)


def test_a_mark_cast_of_two_mixes_is_named_with_its_mix(small_plan: Plan) -> None:
    order = small_plan.order
    (part,) = order.parts
    rows = tuple(dataclasses.replace(row, mark="full") if row.mark == "sill" else row for row in part.blocks.rows)
    blocks = dataclasses.replace(part.blocks, rows=rows)
    casts = small_plan.tables.casts.replace({"mark": {"sill": "full"}})
    plan = dataclasses.replace(
        small_plan,
        order=order.model_copy(update={"parts": (part.model_copy(update={"blocks": blocks}),)}),
        tables=dataclasses.replace(small_plan.tables, casts=casts),
    )
    text = "\n".join(lines_of(plan))
    assert "off rack west to the stack: 2 full (heavy) and 2 full (light)" in text
    assert "1 full (heavy) and 1 full (light) for wall course 2" in text


def with_cubes(plan: Plan, *rows: tuple[int, int, int, str, str | None]) -> Plan:
    """Rows of batch, set, cubes, marks and the day on which they are crushed."""
    cells = [
        {"batch": batch, "cubes": n, "volume_l": 1.03 * n, "set": number, "marked": marked, "crush": crush}
        for batch, number, n, marked, crush in rows
    ]
    return dataclasses.replace(
        plan,
        site=plan.site.model_copy(update={"test_cubes": CubeSets(every_l=50.0, count=3)}),
        tables=dataclasses.replace(plan.tables, cubes=table("cubes", cells)),
    )


CUBES = ((1, 1, 1, "1-1", "2027-04-12"), (1, 1, 2, "1-2 to 1-3", "2027-05-10"), (1, 2, 3, "2-1 to 2-3", "2027-05-10"))


def test_a_batch_says_each_set_that_it_gives_and_how_it_is_marked(small_plan: Plan) -> None:
    said = [line.strip() for line in lines_of(with_cubes(small_plan, *CUBES)) if "test cubes" in line]
    assert said == [
        "- 3 test cubes of 100 mm: set 1, mark them 1-1 to 1-3",
        "- 3 test cubes of 100 mm: set 2, mark them 2-1 to 2-3",
    ]


def test_a_batch_says_how_a_set_is_shared_among_its_ages(small_plan: Plan) -> None:
    plan = with_cubes(small_plan, (1, 1, 1, "1-1", "2027-04-12"), (1, 1, 2, "1-2 to 1-3", "2027-05-03"))
    sets = CubeSets(every_l=50.0, count=3, crush_at_min=(7 * 1440, 28 * 1440))
    plan = dataclasses.replace(plan, site=plan.site.model_copy(update={"test_cubes": sets}))
    words = " ".join(" ".join(lines_of(plan)).split())
    assert "mark them 1-1 to 1-3; crush 1 at 7 d, 2 at 28 d" in words


@pytest.mark.parametrize("width", [40, 80])
def test_the_day_to_crush_cubes_says_which_from_where_and_how_old(small_plan: Plan, width: int) -> None:
    plan = with_cubes(small_plan, *CUBES)
    monday = " ".join(lines_of(plan, width, first=date(2027, 4, 12), last=date(2027, 4, 12)))
    assert "To crush: 1 cube of set 1, marked 1-1: mix light, batch 1 of Mon 5 Apr, 7 days old" in monday


def test_cubes_that_were_crushed_are_not_asked_for_again(small_plan: Plan) -> None:
    """They are told by their ages: one of 8 days, which was a day late, and one of three of 35 days."""
    first = BatchPoured(
        number=1,
        plan="",
        was=1,
        mixer="drum",
        mix="light",
        bags=3.5,
        poured=datetime.fromisoformat("2027-04-05T08:24"),
        crushed=(8.0, 34.9),
    )
    begun = Begun(since=datetime.fromisoformat("2027-04-13T18:00"), batches=(first,))
    plan = dataclasses.replace(with_cubes(small_plan, *CUBES), begun=begun)
    assert [line for line in lines_of(plan) if line.startswith("To crush")] == [
        "To crush: 1 cube of set 1, marked 1-2 to 1-3: mix light, batch 1 of Mon 5 Apr,",
        "To crush: 3 cubes of set 2, marked 2-1 to 2-3: mix light, batch 1 of Mon 5 Apr,",
    ]


def test_a_plan_goes_on_until_its_last_cubes_are_crushed(small_plan: Plan) -> None:
    last = lines_of(with_cubes(small_plan, *CUBES), first=date(2027, 5, 8))
    assert [line for line in last if line.startswith("To crush")] == [
        "To crush: 2 cubes of set 1, marked 1-2 to 1-3: mix light, batch 1 of Mon 5 Apr,",
        "To crush: 3 cubes of set 2, marked 2-1 to 2-3: mix light, batch 1 of Mon 5 Apr,",
    ]


@pytest.mark.parametrize("width", [40, 80])
def test_what_a_batch_waits_for_before_all_of_a_job_is_done_stands_under_it(demo_plan: Plan, width: int) -> None:
    lines = days_text(demo_plan, width, date(2027, 4, 8), date(2027, 4, 8)).plain.split("\n")
    start = next(number for number, line in enumerate(lines) if line.startswith("07:59 clean and oil"))
    assert next(line for line in lines[start + 1 :] if "BY" in line).strip() == "BY 08:10 tray-3/b04"


def test_an_age_of_the_strip_that_looks_like_a_wrong_unit_is_said(small_plan: Plan) -> None:
    curing = small_plan.site.curing.model_copy(update={"strip_at_h": 0.4})
    plan = dataclasses.replace(small_plan, site=small_plan.site.model_copy(update={"curing": curing}))
    assert "strip_at is 24 min: a day is usual. Is the unit right?" in days_text(plan, 80).plain
    assert "Is the unit right?" not in days_text(small_plan, 80).plain


def test_a_delivery_on_a_day_off_does_not_wait_for_the_yard_to_open(small_plan: Plan) -> None:
    """Somebody has to be there to take it in."""
    closed = small_plan.site.calendar.model_copy(update={"closed": (date(2027, 4, 8),)})
    off = dataclasses.replace(small_plan, site=small_plan.site.model_copy(update={"calendar": closed}))
    assert "Delivered by opening: 6 bags of cement" in days_text(small_plan, 80).plain
    assert "Delivered while nobody works: 6 bags of cement" in days_text(off, 80).plain


def test_days_of_a_plan_made_anew_do_not_have_blocks_moved_off_the_rack_that_are_recorded_as_moved(
    small_plan: Plan,
) -> None:
    """All leave their rack on the days after their strip; those of two cavities left it before."""
    first = next(small_plan.tables.casts.itertuples())
    alike = small_plan.tables.casts[small_plan.tables.casts["rack_to"].dt.date == first.rack_to.date()]
    blocks = [BlockCast(cavity=c.cavity, mark=c.mark, mix=c.mix, batch=c.batch) for c in alike.itertuples()]

    def leaving(*gone: int) -> int:
        turns = tuple(
            TurnBegun(
                mould=cast.mould,
                turn=cast.turn,
                strip=cast.strip.to_pydatetime(),
                blocks=(block.model_copy(update={"off_rack": number in gone}),),
            )
            for number, (cast, block) in enumerate(zip(alike.itertuples(), blocks, strict=True))
        )
        begun = Begun(since=first.strip.to_pydatetime() + timedelta(minutes=5), turns=turns)
        (day,) = Diary(dataclasses.replace(small_plan, begun=begun)).days(first.rack_to.date(), first.rack_to.date())
        return sum(count for rack in day.off_rack for _, count in rack.blocks)

    assert leaving() == len(blocks)
    assert leaving(0, 1) == len(blocks) - 2
    assert leaving(*range(len(blocks))) == 0


def test_days_of_a_plan_made_anew_begin_with_what_should_have_left_its_rack_and_is_there_still(
    small_plan: Plan,
) -> None:
    first = next(small_plan.tables.casts.itertuples())
    block = BlockCast(cavity=first.cavity, mark=first.mark, mix=first.mix, batch=first.batch, rack=first.rack)
    turn = TurnBegun(mould=first.mould, turn=first.turn, strip=first.strip.to_pydatetime(), blocks=(block,))
    begun = Begun(since=datetime.fromisoformat("2027-04-14T18:00"), turns=(turn,))
    diary = Diary(dataclasses.replace(small_plan, begun=begun))
    (day,) = diary.days(date(2027, 4, 15), date(2027, 4, 15))
    late, *_ = day.off_rack
    assert (late.first.isoformat(), dict(late.blocks)["full"]) == ("2027-04-15T08:00:00", 3)


def test_days_of_a_plan_made_anew_say_that_those_before_are_left_out(small_plan: Plan) -> None:
    begun = Begun(since=datetime.fromisoformat("2027-04-07T07:30"), number=3, after=2)
    anew = dataclasses.replace(small_plan, begun=begun)
    for first in (None, date(2027, 4, 5)):
        text = " ".join(days_text(anew, 80, first).plain.split())
        assert "What was before Wed 7 Apr 2027, 07:30 has happened and is left out: earlier/2 in the folder" in text
    assert "left out" not in days_text(anew, 80, date(2027, 4, 8)).plain
    with pytest.raises(BadInput, match="nothing is planned up to 2027-04-06") as refused:
        days_text(anew, 80, None, date(2027, 4, 6))
    assert "earlier/2" in refused.value.todo


def test_what_is_laid_is_not_handed_out_again(small_plan: Plan) -> None:
    first = next(small_plan.tables.casts.itertuples())
    ready = first.ready.to_pydatetime()
    alike = small_plan.tables.casts[small_plan.tables.casts["ready"] == first.ready]

    def readied(laid: datetime | None) -> int:
        blocks = BlockCast(cavity=first.cavity, mark=first.mark, mix=first.mix, batch=first.batch, laid=laid)
        turn = TurnBegun(mould=first.mould, turn=first.turn, strip=first.strip.to_pydatetime(), blocks=(blocks,))
        begun = Begun(since=ready - timedelta(hours=1), turns=(turn,))
        (day,) = Diary(dataclasses.replace(small_plan, begun=begun)).days(ready.date(), ready.date())
        return sum(one.count for one in day.ready)

    assert readied(None) == len(alike)
    assert readied(ready - timedelta(hours=2)) == len(alike) - 1
