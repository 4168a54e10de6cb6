"""How a job stands, as it prints."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from typing import Final

import pytest

from blockrun.mix.records import Record
from blockrun.planner.progress import (
    Away,
    Batches,
    Blocks,
    LateCourse,
    Losses,
    Progress,
    Reserve,
    Seen,
    ShortCourse,
    Undone,
)
from blockrun.planner.supplies import Supply
from blockrun.show.reserves import amount_said
from blockrun.show.status import status_text


def at(text: str) -> datetime:
    return datetime.fromisoformat(f"2027-04-{text}")


def april(day: int) -> date:
    return date(2027, 4, day)


BATCHES: Final = Batches(
    poured=19,
    due=22,
    in_all=60,
    again=1,
    open=((6, april(5)), (14, april(7)), (22, april(8))),
    first=at("05T08:14"),
    last=april(27),
    a_day=3.0,
    last_at_pace=date(2027, 5, 3),
)
BLOCKS: Final = Blocks(
    ordered=392, spares=21, due=160, cast=140, in_moulds=6, beside=0, on_racks=127, stacked=0, laid=0, broken=4,
    rejected=2, missing=1, found=0,
)  # fmt: skip
CEMENT: Final = Reserve(
    "cement", 30, 162.5, at("09T16:20"), (), False, (Supply(april(19), 160),), april(17), 0, None
)  # fmt: skip
AGENT: Final = Reserve("foaming agent", 12.4, 11.5, None, (Supply(april(7), 10),), True, (), None, 0, None)
BROKEN: Final = Seen(tuple((int(n < 4), 1) for n in range(131)), 0.01, ("gang-4/03", 4, 16))
FLAT: Final = Seen(((0, 1),) * 19, 0.02)
REJECTED: Final = Seen(((2, 7), *[(0, 7)] * 19), 0.005)
LOST: Final = Seen(((2, 7), *[(1, 7)] * 5, *[(0, 7)] * 14), 0.05)
LATE: Final = (
    LateCourse("yard", 4, False, april(24), april(27), april(20)),
    LateCourse("yard", 5, False, april(25), april(30), april(20)),
    LateCourse("store", 7, True, april(24), april(25), april(25)),
)
PROGRESS: Final = Progress(
    at=at("10T07:30"),
    entries=80,
    batches=BATCHES,
    blocks=BLOCKS,
    courses=30,
    courses_left=30,
    late=LATE,
    short=(ShortCourse("yard", 6, False, april(26), (("C", 2), ("full", 1))),),
    reserves=(CEMENT, AGENT),
    strange_pours=0,
    losses=Losses(BROKEN, FLAT, REJECTED),
    lost_blocks=LOST,
    weighed=tuple(Record(str(n), 109.0 if n == 12 else 95.0 + n % 3, None, "", "light", 95.0) for n in range(1, 13)),
    lost_days=(april(8),),
    away=(Away(april(8), april(13), 1),),
    out_of_use=(("gang-4/03", at("09T16:10")),),
    clashes=2,
)
ON_PLAN: Final = replace(
    PROGRESS,
    batches=replace(BATCHES, poured=22, open=(), again=0, last_at_pace=None),
    late=(),
    short=(),
    reserves=(AGENT,),
)


def said(progress: Progress = PROGRESS, width: int = 100) -> list[str]:
    return status_text(progress, "SI", width, "blockrun replan plan", "blockrun record plan day").plain.splitlines()


def test_batches_outside_their_cards_are_told() -> None:
    told = " ".join(said(replace(PROGRESS, off_card=("4", "extra 7")), 400))
    assert "2 batches outside the card: 4 and extra 7. Lay nothing of it: blockrun ready says why" in told


def test_a_course_of_blocks_outside_the_card_is_not_called_too_young() -> None:
    late = LateCourse("yard", 4, False, april(24), None, april(20), 2)
    told = " ".join(said(replace(ON_PLAN, late=(late,)), 400))
    assert (
        "course 4, needed Sat 24 Apr: 2 blocks outside the card, not to be laid, and no others to come for them" in told
    )


def test_for_want_of_what_is_set_apart_no_plan_is_asked_for_before_somebody_has_decided() -> None:
    late = LateCourse("yard", 4, False, april(24), None, april(20), 2)
    lines = said(replace(ON_PLAN, off_card=("4",), late=(late,)), 400)
    assert lines[1] == (
        "1 batch outside its card and 1 part waits for blocks that are set apart. Ask who answers for the wall; else "
        "record them as rejected, then replan."
    )
    assert not any("blockrun replan" in line for line in lines)


def test_blocks_outside_the_card_are_not_simply_good() -> None:
    assert "- blocks: 128 good of 413, 5 more outside the card, 160 due" in said(replace(PROGRESS, blocks_off_card=5))


def test_a_batch_outside_its_card_is_not_as_planned() -> None:
    told = said(replace(ON_PLAN, off_card=("4",)))[1]
    assert told == "1 batch outside its card, yet nothing is later than the plan itself has it."


def test_a_plan_with_batches_that_heat_leaves_no_time_to_pour_is_not_said_to_hold() -> None:
    told = said(replace(ON_PLAN, hot=((31, april(12)), (32, april(12)))), 400)
    assert told[1] == "2 batches cannot be poured in time in the heat: so the plan does not hold as it is."
    assert (
        "- HEAT: batches 31, 32 of Mon 12 Apr cannot be poured in time (our choice, no standard); write earlier hours, "
        "a shorter pour_time or pour_life_up_to into the site, and plan the rest anew with it"
    ) in told


def test_one_screen_of_how_a_job_stands() -> None:
    assert said() == [
        "Status Sat 10 Apr 07:30",
        "3 batches behind, 1 part late, blocks short in 1 part and cement out from Sat 17 Apr.",
        "Plan the rest anew with:",
        "  blockrun replan plan",
        "",
        "Progress",
        "- batches: 19 of 60 poured and 22 due: 3 behind, about 1 working day; 1 more again",
        "- not recorded: batches 6 of Mon 5 Apr, 14 of Wed 7 Apr and 22 of Thu 8 Apr; if poured, record it",
        "- blocks: 133 good of 413, 160 due",
        "- now: 6 in moulds, 127 on racks, 4 broken, 2 rejected, 1 missing since a count",
        "- last pour planned for Tue 27 Apr; at the pace so far about Mon 3 May, roughly",
        "- 1 day lost: Thu 8 Apr",
        "- out of use: gang-4/03, since Fri 9 Apr",
        "- away: 1 person, Thu 8 Apr to Tue 13 Apr",
        "",
        "Late",
        "- yard: course 4, needed Sat 24 Apr: 3 days late, ready Tue 27 Apr at the soonest; 2 courses late in",
        "  all, course 5: 5 days late, ready Fri 30 Apr at the soonest",
        "- store: course 7, needed Sat 24 Apr: the plan itself has it 1 day late, ready Sun 25 Apr at the",
        "  soonest",
        "- yard: 2 C and 1 full in no pour of the plan, first for course 6, needed Mon 26 Apr",
        "",
        "Stock",
        "- cement: 30 bags left (counted Fri 9 Apr), 162 1/2 bags still needed: runs out Sat 17 Apr, before",
        "  160 bags on Mon 19 Apr",
        "- foaming agent: 12.4 L left, 11.5 L still needed: lasts to the last pour",
        "- 10 L on Wed 7 Apr: taken as come, for nobody records or counts foaming agent",
        "",
        "Broken and rejected",
        "- broken: 4 of 131 stripped: 3.1 %, likely 1.2 to 7.6 %; assumed 1 %: more than assumed",
        "- most of them out of gang-4/03: 4 of 16",
        "- batches thrown away: none of 19 poured: likely under 17 %; assumed 2 %: too few to tell",
        "- rejected since: 2 of 140 cast: 1.4 %, likely 0.3 to 7.7 %; assumed 0.5 %: too few to tell",
        "- lost in all: 7 of 140 cast. If it goes on so, about 21 of 413 (likely 10 to 42); the plan has 21",
        "  spare",
        "",
        "Foam and density",
        "- foam weight: 12 batches, mean 96.1 g/L, 1.1 % over what is due; batch 11 to 12: a step larger than",
        "  chance makes, to 109.0 g/L; batch 12: 109.0 g/L is beyond the upper limit",
        "",
        "Entries",
        "- 2 cannot have been as told: blockrun ready lists what speaks against them",
    ]


@pytest.mark.parametrize("progress", [PROGRESS, ON_PLAN])
def test_it_fits_a_phone(progress: Progress) -> None:
    assert max(map(len, said(progress, width=40))) <= 40


# the first line


def test_what_is_late_asks_for_a_plan_anew() -> None:
    assert "  blockrun replan plan" in said()
    assert not any("anew" in line for line in said(ON_PLAN))


def test_what_is_short_is_ordered_first() -> None:
    short = replace(CEMENT, to_come=(), missing=132.5)
    assert "Order what is short; then plan the rest anew with:" in said(replace(PROGRESS, reserves=(short,)))


def test_a_plan_that_holds_says_so() -> None:
    assert said(ON_PLAN)[1] == "The plan holds."
    assert "- nothing, if the rest goes as planned" in said(ON_PLAN)


def test_what_is_behind_and_makes_nothing_late_is_no_alarm() -> None:
    behind = replace(ON_PLAN, batches=BATCHES)
    assert said(behind)[1] == "3 batches behind, yet nothing is later than the plan itself has it."
    assert said(replace(behind, late=LATE[2:]))[1] == said(behind)[1]


def test_what_is_late_in_the_plan_itself_is_no_alarm() -> None:
    assert said(replace(ON_PLAN, late=LATE[2:]))[1] == "The plan holds; 1 part is late in the plan itself."


TODAY: Final = april(10)


def strips(*places: str, due: date = TODAY, is_old_enough: bool = True) -> tuple[Undone, ...]:
    return tuple(Undone("strip", place, due, is_old_enough) for place in places)


def test_a_plan_whose_strips_nobody_recorded_is_not_said_to_hold() -> None:
    sides = Undone("sides", "tray-3/b01", TODAY, is_old_enough=True)
    lines = said(replace(ON_PLAN, undone=(*strips("gang-4/01", "gang-4/02"), sides)))
    assert lines[1] == (
        "2 strips and sides of 1 mould not recorded: record what was done, to know whether the plan holds."
    )
    assert "- not recorded: strips of gang-4/01-02 and sides of tray-3/b01; blockrun record plan day asks" in lines


def test_strips_of_a_day_before_name_it_to_be_asked_about() -> None:
    (line,) = (line for line in said(replace(ON_PLAN, undone=strips("gang-4/01", due=april(9))), 200) if "asks" in line)
    assert line == "- not recorded: strip of gang-4/01; blockrun record plan day --on 2027-04-09 asks"


def test_what_rightly_waits_is_told_apart() -> None:
    lines = said(replace(ON_PLAN, undone=strips("gang-4/01", is_old_enough=False)))
    assert lines[1] == "1 strip put off, not old enough, yet nothing is later than the plan itself has it."
    assert "- put off, not old enough yet: strip of gang-4/01" in lines
    until = datetime.fromisoformat("2027-04-12T09:10")
    lines = said(replace(ON_PLAN, undone=(Undone("strip", "gang-4/01", TODAY, is_old_enough=False, until=until),)))
    assert "- put off, not old enough before Mon 12 Apr 09:10: strip of gang-4/01" in lines


def thumbed(place: str, until: datetime | None) -> Undone:
    return Undone("strip", place, TODAY, is_old_enough=False, until=until, by_thumb=True)


def test_what_thumbs_put_off_is_told_with_its_new_time() -> None:
    until = datetime.fromisoformat("2027-04-12T09:10")
    both = (thumbed("gang-4/01", until), thumbed("gang-4/02", until))
    lines = said(replace(ON_PLAN, undone=both))
    assert (
        " ".join(lines[1:3])
        == "2 strips put off by thumb tests, to Mon 12 Apr 09:10, yet nothing is later than the plan itself has it."
    )
    assert "- put off by a thumb test to Mon 12 Apr 09:10: strips of gang-4/01-02" in lines
    lines = said(replace(ON_PLAN, undone=(both[0], thumbed("gang-4/03", until.replace(hour=14)))))
    assert lines[1].startswith("2 strips put off by thumb tests, the last to Mon 12 Apr 14:10")
    assert "- put off by a thumb test to Mon 12 Apr 14:10: strip of gang-4/03" in lines


def test_what_is_never_old_enough_by_its_thumb_says_so() -> None:
    lines = said(replace(ON_PLAN, undone=(thumbed("gang-4/01", None),)))
    assert lines[1].startswith("1 strip put off by a thumb test, yet nothing")
    assert "- put off by a thumb test, never old enough at that pace: strip of gang-4/01" in lines


def test_days_of_work_on_which_nobody_is_there_ask_for_a_plan_anew() -> None:
    lines = said(replace(ON_PLAN, nobody=tuple(april(day) for day in (10, 12, 13, 14, 15))))
    assert lines[1] == "Nobody there on Sat 10 Apr, Mon 12 Apr, Tue 13 Apr and 2 more."
    assert "  blockrun replan plan" in lines
    assert any("nobody is there on Sat 10 Apr" in line for line in lines)


def test_a_day_on_which_the_whole_crew_is_away_is_told_as_such() -> None:
    away = replace(ON_PLAN, away=(Away(april(10), april(12), 4, everybody=True),))
    assert "- away: the whole crew, Sat 10 Apr to Mon 12 Apr" in said(away)


def test_what_was_done_is_recorded_before_a_plan_is_made_anew() -> None:
    lines = said(replace(PROGRESS, undone=strips("gang-4/01")))
    assert "Record what was done; then plan the rest anew with:" in lines


def test_a_batch_that_is_due_today_is_not_a_day_behind() -> None:
    today = replace(BATCHES, poured=21, a_day=0.5, open=((22, april(10)),), again=0)
    assert "- batches: 21 of 60 poured and 22 due: 1 behind, due today" in said(replace(ON_PLAN, batches=today))


def test_a_yard_ahead_of_its_plan_says_so() -> None:
    ahead = replace(ON_PLAN, batches=replace(ON_PLAN.batches, poured=26))
    assert said(ahead)[1] == "The plan holds, 4 batches ahead, about 1 working day."


def test_a_job_not_begun_tells_its_first_pour() -> None:
    batches = replace(ON_PLAN.batches, poured=0, due=0)
    before = replace(ON_PLAN, at=at("01T12:00"), entries=0, batches=batches, weighed=())
    assert said(before)[1] == "Not begun: the first pour is over by Mon 5 Apr 08:14."
    assert "- batches: 0 of 60 poured, none due yet" in said(before)
    assert "Foam and density" not in said(before)


def test_a_job_of_which_nothing_is_recorded_says_so() -> None:
    none = replace(ON_PLAN, entries=0, batches=replace(BATCHES, poured=0))
    assert said(none)[1] == "Nothing is recorded, and 22 batches should be poured by now."
    assert said(replace(none, late=LATE))[1].endswith("by now: 1 part late.")


def test_a_job_whose_pours_are_over_says_so() -> None:
    over = replace(ON_PLAN, batches=replace(ON_PLAN.batches, poured=60, due=60))
    assert said(over)[1] == "All batches are poured, and nothing is later than planned."


def test_a_job_that_is_over_says_so() -> None:
    over = said(replace(PROGRESS, courses_left=0, late=(), short=()))
    assert over[1] == "All is laid."
    assert not any("anew" in line for line in over)


# lines that are not always there


def test_courses_laid_are_counted() -> None:
    assert "- courses: 4 of 30 laid whole" in said(replace(ON_PLAN, courses_left=26))


def test_many_open_batches_are_counted() -> None:
    many = tuple((number, april(5 + number // 5)) for number in range(1, 12))
    lines = said(replace(PROGRESS, batches=replace(BATCHES, open=many)))
    assert "- not recorded: batches 1, 2, 3, 4 of Mon 5 Apr and 7 more; if poured, record it" in lines


def test_blocks_never_old_enough_have_no_day() -> None:
    never = replace(LATE[0], ready=None)
    assert "- yard: course 4, needed Sat 24 Apr: never old enough in this weather" in said(
        replace(PROGRESS, late=(never,))
    )


def reserve_lines(reserve: Reserve) -> list[str]:
    lines = said(replace(ON_PLAN, reserves=(reserve,)), 200)
    return lines[lines.index("Stock") + 1 : lines.index("Broken and rejected") - 1]


def test_what_never_comes_is_to_be_ordered() -> None:
    short = replace(CEMENT, to_come=(), missing=132.5, order_by=april(14))
    assert reserve_lines(short) == [
        "- cement: 30 bags left (counted Fri 9 Apr), 162 1/2 bags still needed: runs out Sat 17 Apr, 132 1/2 bags "
        "short, order by Wed 14 Apr"
    ]
    assert reserve_lines(replace(short, order_by=None))[0].endswith("short, order more")
    assert reserve_lines(replace(short, at_once=True))[0].endswith("short, order at once")


def test_batches_of_another_plan_are_told_before_one_is_asked_to_record_more() -> None:
    """After going back to the plan before, what was poured by the later one is no batch of its."""
    lines = said(replace(PROGRESS, batches=replace(BATCHES, of_others=((7, april(8)),))), 200)
    assert lines[lines.index("Progress") + 2 :][:2] == [
        "- besides, 1 batch poured by another plan: 7 of Thu 8 Apr. Its blocks count, and it is none of these",
        "- not recorded by this plan: batches 6 of Mon 5 Apr, 14 of Wed 7 Apr and 22 of Thu 8 Apr; if poured, and not "
        "by the other plan's number, record it",
    ]


def test_what_comes_in_time_is_told_where_it_is_needed() -> None:
    assert reserve_lines(replace(CEMENT, out_on=None))[0].endswith(
        "lasts to the last pour, with 160 bags on Mon 19 Apr"
    )
    assert reserve_lines(replace(CEMENT, out_on=None, amount=170))[0].endswith("lasts to the last pour")


def test_a_delivery_that_nobody_recorded_is_told() -> None:
    untold = replace(CEMENT, untold=(Supply(april(8), 20),))
    assert "- 20 bags on Thu 8 Apr: not recorded, so not in it; if it came, record it" in reserve_lines(untold)
    assert len(reserve_lines(replace(untold, used=0))) == 1


def test_stock_under_nought_asks_for_a_count() -> None:
    assert reserve_lines(replace(CEMENT, amount=-2))[0] == (
        "- cement: 2 bags more drawn than was there. Count it, or record what came"
    )


@pytest.mark.parametrize(
    ("name", "amount", "units", "words"),
    [("cement", 4.5, "SI", "4 1/2 bags"), ("cement", 4.37, "SI", "4.4 bags"),
     ("cement", 45.97, "SI", "46 bags"), ("cement", 1.02, "SI", "1 bag"), ("sand", 250, "SI", "250 kg"),
     ("foaming agent", 3.785411784, "US", "1 gal")],
)  # fmt: skip
def test_amounts_are_said_as_they_are_counted(name: str, amount: float, units: str, words: str) -> None:
    assert amount_said(name, amount, units).replace("\u00a0", " ") == words


def test_pours_that_draw_nothing_are_told() -> None:
    assert "- nothing is drawn for 2 pours of a mix that is in no plan here" in said(replace(PROGRESS, strange_pours=2))


def test_one_batch_alone_makes_no_chart() -> None:
    assert "- batch 1 alone was weighed: two are needed" in said(replace(PROGRESS, weighed=PROGRESS.weighed[:1]))


def test_batches_that_nobody_weighed_say_how() -> None:
    assert any("--foam 98g/L" in line for line in said(replace(PROGRESS, weighed=())))


def test_too_few_batches_make_no_limits() -> None:
    (line,) = (line for line in said(replace(PROGRESS, weighed=PROGRESS.weighed[:5])) if "foam weight" in line)
    assert line.endswith("too few for limits")


def test_only_the_last_signals_are_told() -> None:
    jumping = tuple(Record(str(n), 95.0 + (n % 3) + 30 * (n > 14) * (n % 2), None, "") for n in range(1, 22))
    text = " ".join(said(replace(PROGRESS, weighed=jumping), 400))
    assert text.count("beyond the upper limit") + text.count("a step larger") == 2
    assert "signals before" in text
