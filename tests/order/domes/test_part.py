"""A dome as it is written, and what is refused of it."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from pydantic import ValidationError

from blockrun.errors import BadInput
from blockrun.order.domes import lay_dome
from tests.order.domes.made import dome, shell


def refusal(**changes):
    with pytest.raises(ValidationError) as caught:
        dome(**changes)
    error = caught.value.errors()[0]["ctx"]["error"]
    assert isinstance(error, BadInput)
    return error


def door(name="door", **changes):
    return {"name": name, "width": "0.9 m", "height": "2.0 m", **changes}


def test_the_dome_of_the_design_reads():
    part = dome(needed={"from": "2027-05-20", "courses_a_day": "1"}, mix="wall")
    assert (part.name, part.radius_mm, part.stem_mm, part.course_mm) == ("store", 2200, 1200, 300)
    assert (part.least_joint_mm, part.most_joint_mm, part.shortest_mm) == (6, 40, 150)
    assert part.openings[0].head_mm == 2000
    assert part.needed is not None
    assert part.needed.courses_a_day == Fraction(1)
    assert part.pivot_height_mm == 1200


def test_feet_and_inches_are_read():
    part = dome(inside_diameter="14 ft", block_length="1 ft 6 in", openings=None)
    assert part.radius_mm == pytest.approx(7 * 304.8)
    assert part.block_length_mm == pytest.approx(457.2)


@pytest.mark.parametrize(
    ("changes", "key", "words"),
    [
        ({"rise": "2.6 m"}, "rise", "a hemisphere of 4400 mm rises 2200 mm"),
        ({"profile": "pointed"}, "profile", "profile pointed needs its rise"),
        ({"profile": "pointed", "rise": "2 m"}, "rise", "more than half its width"),
        ({"profile": "segment", "rise": "2.3 m"}, "rise", "less than half its width"),
        ({"profile": "ellipse", "rise": "9 m"}, "rise", "out of range"),
        ({"profile": "catenary", "rise": "0.1 m"}, "rise", "out of range"),
        ({"thickness": "1.2 m"}, "thickness", "too small for its thickness"),
        ({"joint": "100 mm", "course": "90 mm"}, "joint", "no smaller than the course"),
        ({"joint": "150 mm", "block_length": "140 mm"}, "joint", "no smaller than the block_length"),
        ({"joint_least": "12 mm"}, "joint_least", "more than the joint"),
        ({"joint_most": "11 mm"}, "joint_most", "no room above the joint"),
        (
            {"inside_diameter": "0.9 m", "thickness": "100 mm", "course": "100 mm", "block_length": "450 mm"},
            "block_length",
            "too small for its block",
        ),
        ({"inside_diameter": "0.44 m"}, "inside_diameter", "too small for its thickness, block_length and course"),
        ({"inside_diameter": "0.7 m", "course": "100 mm"}, "inside_diameter", "its thickness and block_length"),
        ({"least_length": "440 mm"}, "least_length", "hardly any length"),
        ({"stem": "80 mm"}, "stem", "lower than a cut course"),
        ({"course": "1.5 m"}, "course", "too small for its course"),
        ({"course": "900 mm"}, "course", "too thin a joint"),
        ({"crown": "eye"}, "crown", "an open eye needs its width"),
        ({"eye_diameter": "0.6 m"}, "eye_diameter", "not an eye"),
        ({"crown": "eye", "eye_diameter": "4.3 m"}, "eye_diameter", "does not fit this dome"),
        ({"crown": "eye", "eye_diameter": "50 mm"}, "eye_diameter", "does not fit this dome"),
        (
            {
                "crown": "eye",
                "eye_diameter": "0.3 m",
                "inside_diameter": "0.44 m",
                "thickness": "50 mm",
                "course": "60 mm",
                "joint": "50 mm",
                "block_length": "150 mm",
            },
            "inside_diameter",
            "too small for an eye",
        ),
        ({"openings": [door(width="5 m")]}, "width", "door is wider than the dome"),
        ({"openings": [door(height="3.35 m")]}, "height", "over the shell it goes through"),
        ({"openings": [door(), door()]}, "name", "two openings are called door"),
        ({"openings": [door(), door("window", at="20 deg")]}, "name", "door and window overlap"),
    ],
)
def test_what_cannot_be_is_refused_at_its_key(changes, key, words):
    fault = next(one for one in refusal(**changes).all() if one.name == key)
    assert words in fault.what
    assert fault.todo


def test_a_fault_of_an_opening_stands_at_the_opening():
    fault = refusal(openings=[door(), door("window", at="20 deg")])
    assert fault.within == ("openings", 1)


def test_all_faults_of_a_dome_are_said_at_once():
    faults = refusal(thickness="1.2 m", joint_least="12 mm", rise="1 m").all()
    assert [fault.name for fault in faults] == ["rise", "joint_least", "thickness"]


SMALL = {"inside_diameter": "0.9 m", "thickness": "100 mm", "course": "100 mm", "stem": "0 m", "openings": []}


def advised(key, **changes):
    """The first length that the refusal at a key advises."""
    todo = next(fault.todo for fault in refusal(**changes).all() if fault.name == key)
    return re.search(r"[\d.]+ mm", todo)[0]


def test_what_is_suggested_for_a_dome_too_small_for_its_block_is_accepted():
    assert lay_dome(dome(**SMALL, block_length=advised("block_length", **SMALL))).courses[0].count >= 8


@pytest.mark.parametrize("course", ["900 mm", "1.5 m"])
def test_what_is_suggested_for_a_dome_too_small_for_its_course_is_accepted(course):
    assert lay_dome(shell(course=advised("course", course=course, openings=[]))).courses


@pytest.mark.parametrize(
    "changes",
    [
        {"inside_diameter": "0.44 m"},
        {"inside_diameter": "4.4 mm"},
        {"inside_diameter": "0.7 m", "profile": "ellipse", "rise": "0.4 m"},
        {"inside_diameter": "0.7 m", "course": "100 mm"},
    ],
)
def test_a_dome_too_small_for_all_of_its_block_is_refused_once_at_its_width_and_told_the_width_it_needs(changes):
    changes = {**changes, "openings": []}
    assert [fault.name for fault in refusal(**changes).all()] == ["inside_diameter"]
    wider = {"inside_diameter": advised("inside_diameter", **changes)}
    if "rise" in changes:
        wider["rise"] = refusal(**changes).todo.partition("rise: ")[2].partition(",")[0]
    assert lay_dome(dome(**{**changes, **wider})).courses[0].count >= 8


def test_openings_over_the_crown_are_refused_one_by_one():
    faults = refusal(openings=[door(height="9 m"), door("other", height="9 m", at="180 deg")]).all()
    assert [fault.within for fault in faults][:2] == [("openings", 0), ("openings", 1)]


GARDEN = {"inside_diameter": "4 m", "stem": "0.6 m", "course": "200 mm"}


@pytest.mark.parametrize("eye", ["2 m", "3 m", "3.6 m"])
def test_an_opening_that_would_cut_the_ring_round_an_eye_is_told_the_height_that_leaves_it_whole(eye):
    changes = {**GARDEN, "crown": "eye", "eye_diameter": eye}
    tall = {**changes, "openings": [door(height="2.6 m")]}
    low = door(height=advised("height", **tall))
    assert "goes whole round the eye" in refusal(**tall).what
    part = dome(**changes, openings=[low])
    last = lay_dome(part).courses[-1]
    assert last.laid == last.count
    assert any(ring.laid < ring.count for ring in lay_dome(part).courses[-3:])


def test_openings_over_a_low_shell_are_not_said_to_overlap_as_well():
    windows = [door(f"window {at}", at=f"{at} deg", sill="0.9 m", width="0.6 m", height="0.6 m") for at in (90, 270)]
    faults = refusal(**GARDEN, profile="segment", rise="0.5 m", openings=[door(), *windows]).all()
    assert {fault.name for fault in faults} == {"height"}


def test_openings_too_near_are_told_how_far_apart_they_may_stand():
    at = [door("east", at="90 deg"), door("north", at="95 deg")]
    apart = int(re.search(r"at least (\d+) deg apart", refusal(openings=at).todo)[1])
    assert dome(openings=[at[0], door("north", at=f"{90 + apart} deg")])
    assert refusal(openings=[at[0], door("north", at=f"{89 + apart} deg")])


def test_openings_at_other_levels_may_stand_above_one_another():
    window = {"name": "window", "width": "0.4 m", "height": "0.4 m", "sill": "2.4 m"}
    assert len(dome(openings=[door(), window]).openings) == 2


@pytest.mark.parametrize("word", ["dome", "Hemisphere "])
def test_an_unknown_profile_is_answered_with_those_there_are(word):
    with pytest.raises(ValidationError) as caught:
        dome(profile=word)
    assert "hemisphere, segment, pointed, ellipse, catenary" in str(caught.value.errors()[0]["ctx"]["error"])


@pytest.mark.parametrize("sill", ["2.0 m", "2.01 m", "2.09 m"])
def test_an_opening_close_over_another_is_told_where_it_may_begin(sill):
    over = door("light", sill=sill, width="0.5 m", height="0.3 m")
    fault = refusal(openings=[door(), over])
    assert (fault.within, fault.name) == (("openings", 1), "sill")
    assert "100 mm, is left between door and light" in fault.what
    assert fault.todo == "Write a sill of light from 2100 mm, or make them one opening."
    assert dome(openings=[door(), {**over, "sill": "2.1 m"}])
    assert dome(openings=[door(), {**over, "at": "40 deg"}])


def test_a_lower_sill_is_advised_only_where_there_is_one_to_lower():
    on_the_floor = refusal(openings=[door(height="3.35 m")])
    assert "sill" not in on_the_floor.todo
    assert on_the_floor.todo.endswith(", a narrower opening or a higher stem.")
    assert "a lower sill" in refusal(openings=[door(sill="2.5 m", height="0.9 m")]).todo
    assert "sill" not in refusal(openings=[door(width="4.3 m", sill="0.5 m", height="1.2 m")]).todo


IN_INCHES = {"thickness": "8 in", "course": "8 in", "block_length": "18 in", "joint": "3/8 in", "stem": "3 ft"}


@pytest.mark.parametrize(
    ("changes", "todo"),
    [
        ({"openings": [door(width="3 ft", height="9 ft")]}, "a height of up to 90.9375 in"),
        ({"openings": [door(width="12 ft", height="5 ft")]}, "well under 120 in"),
        ({"stem": "1 in"}, "Write 0 in or at least 3.0625 in."),
        ({"profile": "pointed"}, "rise: 102 in"),
        ({"crown": "eye"}, "eye_diameter: 24 in"),
        ({"course": "6 in", "joint": "7 in"}, "a joint such as 3/8 in"),
        ({"inside_diameter": "18 in"}, " in, or smaller blocks."),
    ],
)
def test_a_dome_of_blocks_measured_in_inches_is_refused_in_inches(changes, todo):
    faults = refusal(**{**IN_INCHES, "inside_diameter": "10 ft", "openings": [], **changes}).all()
    assert any(todo in fault.todo for fault in faults)
    assert not any(re.search(r"\d mm", f"{fault.what} {fault.todo}") for fault in faults)
