"""The morning list, as it prints."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime

from blockrun.mix.off_card import OffCard
from blockrun.planner.morning import (
    BatchOffCard,
    CourseNow,
    CubesNow,
    Doubt,
    InMould,
    Morning,
    OnRack,
    Some,
    StrippedEarly,
)
from blockrun.show.morning import morning_text


def at(text: str) -> datetime:
    return datetime.fromisoformat(f"2027-04-{text}")


POURED = at("06T10:40")


NONE = Doubt()


def mould(place: str, strip_from: datetime | None, doubt: Doubt = NONE) -> InMould:
    return InMould(place, "east", (("C", 1), ("full", 3)), None, strip_from, (), doubt)


SOME = Some("on the east rack", (("full", 22),), at("20T08:00"), (POURED.date(),))
MISSING = Some("", (("C", 2),), None, (date(2027, 4, 8),))
FOUR = CourseNow("north", 4, False, date(2027, 4, 22), 24, 0, 0, (SOME,), MISSING)
FIVE = CourseNow("north", 5, False, date(2027, 4, 23), 24, 0, 0, (replace(SOME, blocks=(("full", 24),)),), None)
WHOLE = CourseNow("north", 3, False, date(2027, 4, 21), 24, 4, 20, (), None)
MORNING = Morning(
    at("07T07:30"),
    (
        mould("gang-4/01", at("07T06:00")),
        mould("gang-4/02", at("07T07:00")),
        mould("gang-4/03", at("07T09:15")),
        mould("gang-4/04", at("08T09:15"), Doubt(again=True)),
        mould("gang-4/05", None),
    ),
    (("gang-4/06", (("full", 4),)),),
    (OnRack("east", (("full", 12),), 22, at("09T08:00")), OnRack("west", (), 4, at("07T13:00"))),
    (WHOLE, FOUR, FIVE),
    FIVE,
    date(2027, 4, 6),
    ("12: nothing stands in gang-4/09",),
)


def said(morning: Morning = MORNING, width: int = 100) -> list[str]:
    return morning_text(morning, width).plain.splitlines()


def test_blocks_that_a_count_found_are_told_as_such() -> None:
    found = replace(SOME, found=(date(2027, 4, 6),))
    for some, told in ((found, "poured Tue 6 Apr, found Tue 6 Apr"), (replace(found, poured=()), "found Tue 6 Apr")):
        text = " ".join("\n".join(said(replace(MORNING, courses=(replace(FIVE, some=(some,)),)))).split())
        assert f"({told} and taken as poured then, to lay from Tue 20 Apr 08:00)" in text


def test_the_list_of_a_morning() -> None:
    assert said() == [
        "Ready Wed 7 Apr 07:30",
        "",
        "Strip",
        "- now: gang-4/01-02, 8 blocks, to rack east",
        "- from 09:15: gang-4/03, 4 blocks, to rack east",
        "- press again from Thu 8 Apr 09:15, strip only if firm: gang-4/04, 4 blocks, to rack east",
        "- never old enough in this weather: gang-4/05, 4 blocks, to rack east",
        "- to the rack: 4 full, out of gang-4/06",
        "",
        "Off the rack",
        "- east: stack 12 full; 22 stay, the next leave Fri 9 Apr 08:00",
        "- west: nothing yet; 4 stay, the next leave 13:00",
        "",
        "Lay",
        "- north course 3: whole, 20 blocks; needed Wed 21 Apr",
        "- north course 4: 22 of 24 on the east rack (poured Tue 6 Apr, to lay from Tue 20 Apr 08:00),",
        "  missing 2 C, planned for Thu 8 Apr; needed Thu 22 Apr",
        "- north course 5: 24 of 24 on the east rack (poured Tue 6 Apr, to lay from Tue 20 Apr 08:00); needed",
        "  Fri 23 Apr",
        "- next to be whole: north course 5, Tue 20 Apr 08:00",
        "",
        "Look at these entries",
        "- 12: nothing stands in gang-4/09",
        "",
        "Ages by the air as it was told up to Tue 6 Apr, by the forecast for other days.",
    ]


def test_a_ring_is_laid_whole_or_not_at_all() -> None:
    ring = replace(FOUR, part="store", ring=True, ready=10, some=(), missing=replace(MISSING, blocks=(("C", 14),)))
    (line,) = (line for line in said(replace(MORNING, courses=(ring,)), 200) if "store" in line)
    assert line.startswith("- store course 4: 10 of 24 old enough, missing 14 C")
    assert "not whole: lay nothing of it" in line
    whole = replace(ring, ready=24, missing=None)
    assert "- store course 4: whole, 24 blocks; needed Thu 22 Apr" in said(replace(MORNING, courses=(whole,)), 200)


def test_a_pour_that_nobody_recorded_is_told() -> None:
    late = replace(FOUR, missing=replace(MISSING, poured=(date(2027, 4, 6), date(2027, 4, 7))))
    shown = " ".join(said(replace(MORNING, courses=(late,)), 200))
    assert "missing 2 C, planned for Tue 6 Apr (not recorded) and Wed 7 Apr" in shown


def test_what_no_pour_brings_is_told() -> None:
    lost = replace(FOUR, missing=replace(MISSING, poured=()))
    assert "missing 2 C, in no pour of the plan" in " ".join(said(replace(MORNING, courses=(lost,))))


def test_what_some_pours_bring_and_none_the_rest_is_told() -> None:
    less = replace(FOUR, missing=replace(MISSING, blocks=(("C", 2), ("full", 3)), unplanned=(("C", 1),)))
    shown = " ".join(said(replace(MORNING, courses=(less,)), 200))
    assert "missing 2 C and 3 full, planned for Thu 8 Apr but for 1 C, in no pour of the plan" in shown


def test_only_the_next_courses_are_told_in_full() -> None:
    many = tuple(replace(FOUR, course=number) for number in range(1, 20))
    lines = said(replace(MORNING, courses=many, next_whole=None), 200)
    assert sum("north course" in line for line in lines) == 6
    assert "- 13 courses more after these" in lines


def test_an_empty_yard_says_so() -> None:
    lines = said(Morning(at("07T07:30"), (), (), (), (), None, None, ()))
    assert "- nothing stands in moulds" in lines
    assert "- all courses are laid" in lines
    assert any("nobody told the air" in line for line in lines)


def test_it_fits_a_phone() -> None:
    assert max(map(len, said(width=40))) <= 40


def test_cubes_that_hold_a_mould_back_are_told_with_what_is_asked() -> None:
    held = replace(MORNING.moulds[0], strip_from=None, held=(7,))
    shown = said(replace(MORNING, moulds=(held,), cubes=(CubesNow(7, 0.2149, 26.2, "strip", 0.3, holds=True),)))
    assert "- HELD by cubes of batch 7: gang-4/01, 4 blocks, to rack east" in shown
    where = shown.index("Cubes")
    assert " ".join(shown[where + 1 : where + 3]) == (
        "- batch 7: a cube gave 0.214 MPa, 26 h old at 20 degC, 0.3 MPa asked before you strip: DO NOT STRIP;   "
        "crush another first"
    )


def test_cubes_that_hasten_and_cubes_that_move_nothing_are_told_apart() -> None:
    sooner, alone = CubesNow(8, 0.51, 22, "strip", 0.3, sooner=True), CubesNow(9, 0.2, 26, "strip", None)
    shown = " ".join(" ".join(said(replace(MORNING, cubes=(sooner, alone), cubes_doubted="odd"))).split())
    assert "batch 8: a cube gave 0.51 MPa, 22 h old at 20 degC, 0.3 MPa asked before you strip: sooner" in shown
    assert "batch 9: a cube gave 0.2 MPa, 26 h old at 20 degC; the site asks for an age before you strip" in shown
    assert "- odd" in shown


def test_sides_come_off_before_the_strip_those_of_one_time_together() -> None:
    trays = [
        replace(mould(f"tray-3/b0{n}", at("07T12:00")), sides_from=at(f"07T0{5 if n < 3 else 9}:00")) for n in (1, 2, 3)
    ]
    shown = said(replace(MORNING, moulds=tuple(trays)))
    assert shown[3:6] == [
        "- sides off now: tray-3/b01-02",
        "- sides off from 09:00: tray-3/b03",
        "- from 12:00: tray-3/b01-03, 12 blocks, to rack east",
    ]


RIPE = at("07T06:00")
BESIDE = Doubt(beside=(("gang-4/01", "soft"),))


def strips(*moulds: InMould, width: int = 200) -> list[str]:
    shown = said(replace(MORNING, moulds=moulds, beside=()), width)
    return shown[3 : shown.index("Off the rack") - 1]


def test_moulds_poured_with_one_that_is_soft_are_pressed_first() -> None:
    more = Doubt(beside=(("gang-4/09", "dents"), ("gang-4/01", "soft")))
    moulds = mould("gang-4/02", RIPE, BESIDE), mould("gang-4/03", RIPE), mould("gang-4/04", RIPE, more)
    assert strips(*moulds) == [
        "- press a thumb first into each, strip only if firm: gang-4/02, gang-4/04, 8 blocks, to rack east; "
        "a thumb sank into gang-4/01 and left a mark in gang-4/09, poured with them",
        "- now: gang-4/03, 4 blocks, to rack east",
    ]


def test_moulds_to_come_that_are_in_doubt_are_pressed_then() -> None:
    (line,) = strips(mould("gang-4/02", at("07T09:15"), BESIDE))
    assert line.startswith("- from 09:15, press a thumb first into each, strip only if firm: gang-4/02")


def test_what_is_done_in_a_doubt_that_hangs_on_the_air_is_said_once() -> None:
    colder = Doubt(air="colder")
    later = [mould(f"gang-4/0{n}", at(f"07T1{n}:00"), colder) for n in (3, 4)]
    assert strips(mould("gang-4/02", RIPE, colder), *later, mould("gang-4/05", at("07T15:00"))) == [
        "- press a thumb first into one of each batch, strip the rest only if firm: gang-4/02, 4 blocks, "
        "to rack east; since the pour it was colder than forecast",
        "- from 13:00, likewise: gang-4/03, 4 blocks, to rack east",
        "- from 14:00, likewise: gang-4/04, 4 blocks, to rack east",
        "- from 15:00: gang-4/05, 4 blocks, to rack east",
    ]


def test_likewise_follows_what_it_is_like_at_once() -> None:
    colder = Doubt(air="colder")
    moulds = (
        mould("gang-4/02", RIPE, colder),
        mould("gang-4/03", at("07T09:00")),
        mould("gang-4/04", at("07T10:00"), colder),
    )
    assert not any("likewise" in line for line in strips(*moulds))
    beside = [mould(f"gang-4/0{n}", at(f"07T1{n}:00"), BESIDE) for n in (3, 4)]
    assert all("a thumb sank into gang-4/01" in line for line in strips(*beside))


def test_sides_of_a_mould_in_doubt_are_pressed_first_too() -> None:
    tray = replace(mould("tray-3/b01", at("07T12:00"), BESIDE), sides_from=RIPE)
    assert strips(tray)[0] == "- sides off now, press a thumb first: tray-3/b01"


def test_what_came_out_too_soon_is_told_moulds_together_that_were_alike() -> None:
    early = [StrippedEarly(f"plinth-5/0{n}", (("P", 5),), at("06T12:10"), 3) for n in (1, 2)]
    never = StrippedEarly("gang-4/01", (("full", 1),), at("06T12:10"), None)
    lines = said(replace(MORNING, early=(*early, never)), 200)
    begin = lines.index("Stripped too soon")
    assert lines[begin + 1 : begin + 4] == [
        "- plinth-5/01-02, Tue 6 Apr: LOOK FOR CRACKS before you move or stack 10 P; they came out 3 h too soon",
        "- gang-4/01, Tue 6 Apr: LOOK FOR CRACKS before you move or stack 1 full; by cubes or the cold it "
        "came out too soon",
        "",
    ]
    assert "Stripped too soon" not in said()


def test_what_was_poured_with_what_a_thumb_marked_is_to_be_looked_at() -> None:
    early = [
        StrippedEarly(f"plinth-5/0{n}", (("P", 5),), at("06T12:10"), 0, (("plinth-5/01", "dents"),)) for n in (2, 3)
    ]
    assert (
        "- plinth-5/02-03, Tue 6 Apr: look for cracks in 10 P, too; "
        "a thumb left a mark in plinth-5/01, poured with them"
    ) in said(replace(MORNING, early=tuple(early)), 200)


def test_a_thumb_goes_first_where_the_air_since_the_pour_is_in_doubt() -> None:
    colder, untold = (mould(f"gang-4/0{n}", RIPE, Doubt(air=air)) for n, air in ((1, "colder"), (2, "untold")))  # type: ignore[arg-type]
    assert strips(colder) == [
        "- press a thumb first into one of each batch, strip the rest only if firm: gang-4/01, 4 blocks, to rack east; "
        "since the pour it was colder than forecast"
    ]
    assert strips(untold)[0].endswith("; nobody told the air since the pour")


def test_what_is_held_is_not_pressed_at_all() -> None:
    held = replace(mould("gang-4/01", None, Doubt(air="colder")), held=(7,))
    assert strips(held) == ["- HELD by cubes of batch 7: gang-4/01, 4 blocks, to rack east"]


def test_what_is_to_be_pressed_again_now_says_now() -> None:
    (line,) = strips(mould("gang-4/01", RIPE, Doubt(again=True)))
    assert line == "- press again now, strip only if firm: gang-4/01, 4 blocks, to rack east"


def test_doubts_fit_a_phone() -> None:
    assert max(map(len, strips(mould("gang-4/02", RIPE, BESIDE), width=40))) <= 40


def test_a_whole_course_over_one_that_is_not_waits_for_it() -> None:
    shown = said(replace(MORNING, courses=(replace(FOUR, after=None), replace(WHOLE, course=5, after=4))))
    assert "- north course 5: whole, 20 blocks, once course 4 is laid; needed Wed 21 Apr" in shown


def test_a_course_whose_day_is_over_was_needed_then() -> None:
    assert "- north course 3: whole, 20 blocks; was needed Tue 6 Apr" in said(
        replace(MORNING, courses=(replace(WHOLE, needed=date(2027, 4, 6)),))
    )


LIGHT = BatchOffCard("7", OffCard("wet mix", 730, 806, 0.05), (("on the east rack", (("full", 3), ("half", 1))),))
HEAVY = BatchOffCard("extra 1", OffCard("wet mix", 880, 806, 0.05), (("in moulds", (("full", 1),)),))
UNWEIGHED = BatchOffCard("9", OffCard("foam", 71, 95, 0.06), (("stacked", (("full", 2),)),))


def outside(*batches: BatchOffCard, width: int = 400) -> list[str]:
    shown = said(replace(MORNING, off_card=batches), width)
    return shown[shown.index("Outside the card") + 1 : shown.index("Lay") - 1]


def test_batches_outside_their_cards_are_told_before_what_may_be_laid() -> None:
    light, heavy, foam, todo = outside(LIGHT, HEAVY, UNWEIGHED)
    assert light == (
        "- batch 7: DO NOT LAY 3 full and 1 half on the east rack; the wet mix weighs 730 kg/m3, and by the card it is "
        "to weigh 766 to 846 kg/m3. What is too light may be weak and break in your hands"
    )
    assert heavy.startswith("- extra batch 1: DO NOT LAY 1 full in moulds; the wet mix weighs 880 kg/m3")
    assert heavy.endswith(". What is too heavy is not the mix that was ordered, and heavier to lift")
    assert foam.endswith("89.3 to 100.7 g/L. Nobody weighed its mix")
    assert todo.startswith("- set such blocks apart")
    assert todo.endswith("They count again with: blockrun record DIR passed BATCH WHY")


def test_cubes_are_asked_for_where_they_can_speak_for_a_batch() -> None:
    light, todo = outside(replace(LIGHT, asked_mpa=0.6))
    assert light.endswith(". Its cubes are to have 0.6 MPa")
    assert todo.endswith(
        "once cubes crushed since have the strength that is told, or with: blockrun record DIR passed BATCH WHY"
    )


def test_moulds_and_racks_say_which_blocks_to_set_apart() -> None:
    off = replace(mould("gang-4/02", RIPE), off_card=("7", "extra 1"))
    assert strips(off, mould("gang-4/03", RIPE)) == [
        "- now: gang-4/02, 4 blocks, to rack east; batch 7 and extra batch 1 are outside their cards: set these blocks "
        "apart",
        "- now: gang-4/03, 4 blocks, to rack east",
    ]
    rack = replace(MORNING.racks[0], apart=(("full", 3),))
    shown = said(replace(MORNING, racks=(rack,)), 200)
    assert "- east: stack 12 full; 3 full of these are outside the card, set them apart; 22 stay, the next" in "".join(
        shown
    )


def test_what_is_outside_the_card_fits_a_phone() -> None:
    assert max(map(len, outside(LIGHT, HEAVY, UNWEIGHED, width=40))) <= 40


def test_what_is_to_be_feared_of_batches_outside_their_cards_is_said_once() -> None:
    more = tuple(replace(HEAVY, batch=f"{number}") for number in range(11, 14))
    shown = " ".join(said(replace(MORNING, off_card=(LIGHT, HEAVY, *more)), 400))
    assert (shown.count("DO NOT LAY"), shown.count("What is too heavy"), shown.count("What is too light")) == (5, 1, 1)
