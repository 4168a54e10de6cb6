"""What a builder is told of a dome."""

from __future__ import annotations

import math
import re

import pytest

from blockrun import units
from blockrun.order.domes import lay_dome
from blockrun.order.domes.cautions import HOLD, MAY_PULL, PULLS, PUSHES, on_cards
from tests.order.domes.made import dome, mould, shell


def told(words, layout):
    return [note for note in layout.notes if words in note]


@pytest.mark.parametrize("rise", [None, "2.6 m"])
def test_every_dome_is_cautioned_about_the_pull_of_its_rings(rise):
    part = shell(profile="catenary" if rise else "hemisphere", rise=rise)
    (note,) = told("51.8 deg from the crown of a sphere", lay_dome(part))
    assert "to be designed by a licensed engineer" in note


def test_on_a_hemisphere_the_courses_that_pull_are_named():
    assert told("(here courses 5 to 9)", lay_dome(shell(stem="1240 mm")))


@pytest.mark.parametrize(("profile", "rise"), [("segment", "1.2 m"), ("catenary", "2.6 m")])
@pytest.mark.parametrize("stem", ["0 m", "1.2 m"])
def test_a_curve_that_springs_at_a_lean_pushes_outward_at_its_foot(profile, rise, stem):
    (note,) = told("pushes outward at its foot", lay_dome(shell(profile=profile, rise=rise, stem=stem)))
    assert note.startswith("Caution: ")
    assert "licensed engineer" in note
    assert "ring beam or a tie" in note


@pytest.mark.parametrize(("profile", "rise"), [("hemisphere", None), ("pointed", "3.2 m"), ("ellipse", "1.8 m")])
def test_a_curve_that_springs_upright_has_no_such_caution(profile, rise):
    assert not told("at its foot", lay_dome(shell(profile=profile, rise=rise)))


def test_where_blocks_lean_in_they_are_held_until_the_ring_closes():
    layout = lay_dome(shell(stem="1240 mm"))
    (note,) = told("until its ring is closed", layout)
    assert note.startswith("Caution: from course 5 on, ")
    assert "out from under" in note


def test_cards_of_courses_have_the_cautions_that_hold_for_them():
    part = shell(stem="1240 mm")
    said = on_cards(part, lay_dome(part).courses)
    assert said[1] == said[4] == ()
    assert said[5] == said[9] == (HOLD, PULLS)
    assert said[10] == (HOLD,)


def test_cards_of_a_profile_nobody_knows_the_pull_of_have_its_caution_all_the_way():
    part = shell(profile="catenary", rise="2.6 m")
    said = [words for words in on_cards(part, lay_dome(part).courses).values() if words]
    assert said[0] == (HOLD, MAY_PULL, PUSHES)
    assert set(said[1:]) == {(HOLD, MAY_PULL)}


def test_a_low_segment_pulls_nowhere_but_pushes_at_its_foot():
    part = shell(profile="segment", rise="0.9 m")
    said = [words for words in on_cards(part, lay_dome(part).courses).values() if words]
    assert said[0] == (HOLD, PUSHES)
    assert set(said[1:]) == {(HOLD,)}
    assert not told("rings pull outward", lay_dome(part))


def test_what_carries_the_rings_over_an_opening_is_an_engineers():
    (note,) = told("over and beside door", lay_dome(dome()))
    assert "to be designed by a licensed engineer" in note
    assert not told("over and beside", lay_dome(shell()))


def test_a_door_through_the_springing_is_told_the_stem_that_frees_it_and_needs_no_cut_course():
    (note,) = told("of the ring that ties the dome", lay_dome(dome()))
    assert note.startswith("door takes 7 % of the ring that ties the dome: a stem of 2480 mm would leave it whole")
    assert told("Course 1 is cut to 260 mm high to level the stem.", lay_dome(dome()))


WINDOW = {"name": "window", "width": "0.6 m", "height": "0.5 m", "sill": "2.3 m", "at": "180 deg"}
DOOR = {"name": "door", "width": "0.9 m", "height": "2.0 m"}


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"stem": None},
        {"stem": "1 m"},
        {"openings": [DOOR, WINDOW]},
        {"stem": "2.25 m", "openings": [WINDOW]},
        {"stem": "2.7 m", "openings": []},
        {"course": "12 in", "joint": "3/8 in", "stem": "4 ft"},
    ],
)
def test_the_stem_that_is_advised_needs_no_cut_course_and_breaks_at_no_opening(changes):
    advice = " ".join(note for note in lay_dome(dome(**changes)).notes if "needs no cut course" in note)
    stems = re.findall(r"([\d.]+ mm)(?= or| would| needs)", advice)
    assert stems
    for stem in stems:
        layout = lay_dome(dome(**{**changes, "stem": stem}))
        assert not told("to level the stem", layout)
        assert not told("the ring that ties the dome", layout)


def test_a_door_that_eats_most_of_the_springing_is_said_to():
    wide = [{"name": "gate", "width": "3.6 m", "height": "1.5 m"}, {"name": "back", "width": "3.0 m", "at": "180 deg"}]
    wide[1]["height"] = "1.5 m"
    (note,) = told("of the ring that ties the dome", lay_dome(dome(openings=wide)))
    assert note.startswith("gate and back take most of")


def test_a_ring_is_ready_only_when_all_its_blocks_are():
    assert told("carries nothing until its last block is in", lay_dome(shell()))


@pytest.mark.parametrize("stem", ["0 m", "1.2 m"])
def test_a_curve_that_springs_at_a_lean_has_one_figure_for_its_first_bed(stem):
    layout = lay_dome(shell(profile="segment", rise="1.2 m", stem=stem))
    first = next(ring for ring in layout.courses if not ring.stem)
    inside, outside = first.bed_joint_mm
    (note,) = told("springs at", layout)
    assert note.startswith(
        f"Build up the bed of course {first.course} from {inside:.0f} mm inside to {outside:.0f} mm outside"
    )
    (other,) = told("Bed joints open", layout)
    assert f"{outside:.0f} mm" not in other
    assert not told("springs at", lay_dome(shell()))


def test_a_crown_block_wider_than_its_cavity_is_told():
    layout = lay_dome(shell(profile="pointed", rise="3.8 m"), [mould()])
    assert told("crown block", layout)


def test_runs_of_courses_are_told_with_what_they_are_cast():
    layout = lay_dome(shell(), [mould()])
    assert told("Courses 1 to 8: plain blocks 159 to 312 mm long.", layout)
    assert told("Courses 9 to 15: sawn from blocks 420 to 450 mm long.", layout)


@pytest.mark.parametrize("moulds", [(), (mould(),), (mould("400 x 280 x 200 mm"),)])
@pytest.mark.parametrize("changes", [{}, {"profile": "segment", "rise": "1.2 m", "crown": "ring"}])
def test_a_note_is_one_sentence_of_no_more_than_five_lines_of_a_narrow_screen(changes, moulds):
    for note in lay_dome(dome(**changes), moulds).notes:
        assert len(note) <= 5 * 40 or note.startswith("Caution:")
        assert ". " not in note
        assert note.endswith(".")


@pytest.mark.parametrize(("name", "said"), [("Bread oven", 1), ("store", 0)])
def test_a_dome_that_is_called_an_oven_is_told_that_its_blocks_are_no_lining(name, said):
    assert sum("no lining for a fire" in note for note in lay_dome(dome(dome=name)).notes) == said


def lined_up_of(layout):
    """How many joints are told as lined up, and of how many."""
    (note,) = told("head joints stand within a quarter of a block", layout)
    return tuple(map(int, re.findall(r"\d+", note)))


def test_joints_lined_up_are_counted_of_those_that_have_a_course_below():
    layout = lay_dome(shell())
    _, of = lined_up_of(layout)
    assert of == sum(len(ring.joints_rad) for ring in layout.courses[1:])


def test_joints_that_an_opening_takes_are_not_counted():
    """The door of the ring wall is 0.9 m wide at 0 deg, of a radius of 2.2 m inside."""
    layout = lay_dome(dome())
    in_door = [
        [abs(math.remainder(joint, 2 * math.pi)) < math.asin(450 / 2200) for joint in joints]
        for joints in (layout.courses[1].joints_rad, layout.courses[1].standing_rad)
    ]
    assert any(in_door[0])
    assert not any(in_door[1])
    assert lined_up_of(layout)[1] == sum(len(ring.standing_rad) for ring in layout.courses[1:])


def test_a_crown_block_that_another_mould_holds_is_not_told_as_too_wide():
    pointed = shell(profile="pointed", rise="3 m", inside_diameter="4 m", course="200 mm", stem=None)
    course = mould("450 x 200 x 200 mm")
    assert told("over the 200 mm that a cavity holds", lay_dome(pointed, [course]))
    assert not told("crown block", lay_dome(pointed, [course, mould()]))


IN_INCHES = {"thickness": "8 in", "course": "8 in", "block_length": "18 in", "joint": "3/8 in", "stem": "3 ft"}


@pytest.mark.parametrize("width", ["4 ft", "8 ft", "13 ft"])
@pytest.mark.parametrize("moulds", [(), (mould("18 x 8 x 8 in"),), (mould("18 x 9 x 8 in"),)])
@pytest.mark.parametrize("changes", [{}, {"profile": "segment", "rise": "20 in", "crown": "ring"}])
def test_a_dome_of_blocks_measured_in_inches_is_told_in_inches(width, moulds, changes):
    openings = [{"name": "hatch", "width": "12 in", "height": "40 in"}] if not changes else []
    layout = lay_dome(dome(**{**IN_INCHES, "inside_diameter": width, "openings": openings, **changes}), moulds)
    assert told(" in ", layout)
    assert not told(" mm", layout)


@pytest.mark.parametrize(
    ("width", "thick", "course", "most", "profile"),
    [
        ("8 ft", "4 in", "8 in", "7/8 in", {}),
        ("4 m", "100 mm", "200 mm", "18 mm", {}),
        ("6 m", "200 mm", "300 mm", "25 mm", {}),
        ("4.4 m", "200 mm", "300 mm", "20 mm", {"profile": "pointed", "rise": "3 m"}),
    ],
)
def test_where_leaning_beds_are_higher_than_the_cavity_either_advice_lays_them_level(
    width, thick, course, most, profile
):
    """Both values are the least and the most that will do, to what a tape tells."""

    def laid(course, joint_most):
        return _higher_than_cavity(width, thick, course, joint_most, **profile)

    (note,) = told("over the cavity's", laid(course, most))
    joint, lower = re.search(r"joint_most: ([^,]+), or a course of up to (.+) and moulds as high", note).groups()
    unit, step = joint.split()[1], 1 / 16 if "in" in joint else 1
    for other in (laid(course, joint), laid(lower, most)):
        assert not told("over the cavity's", other)
        assert not told("No cavity", other)
    assert told("over the cavity's", laid(course, f"{float(joint.split()[0]) - step} {unit}"))


@pytest.mark.parametrize(
    ("width", "course", "most", "profile"),
    [
        ("1.4 m", "200 mm", None, {}),
        ("8 ft", "8 in", None, {}),
        ("2.4 m", "300 mm", None, {}),
        ("2.4 m", "300 mm", None, {"profile": "pointed", "rise": "1.5 m"}),
        ("2.4 m", "300 mm", "15 mm", {}),
    ],
)
def test_no_joint_is_advised_that_is_wider_than_anybody_lays(width, course, most, profile):
    """A lower course is, with joints as they are asked for or, where none is low enough then, of 40 mm."""
    thick = "8 in" if "in" in course else "200 mm"
    (note,) = told("over the cavity's", _higher_than_cavity(width, thick, course, most, **profile))
    joint, lower = re.search(
        r"mm: write (?:joint_most: (.+) and )?a course of up to (.+) and moulds as high, or make the dome larger\.$",
        note,
    ).groups()
    assert joint == (most and "40 mm")
    laid = _higher_than_cavity(width, thick, lower, joint, **profile)
    assert not told("over the cavity's", laid)
    assert not told("No cavity", laid)


def test_a_dome_too_small_for_level_beds_is_to_be_larger():
    (note,) = told("over the cavity's", _higher_than_cavity("0.9 m", "200 mm", "200 mm"))
    assert note.endswith("over the cavity's 200 mm: make the dome larger.")


def _higher_than_cavity(width, thick, course, most=None, **profile):
    """A shell of blocks as high and as thick as the cavity that there is."""
    sizes = {"inside_diameter": width, "thickness": thick, "joint": "3/8 in" if "ft" in width else "10 mm"}
    part = shell(**sizes, stem=None, course=course, joint_most=most, **profile)
    return lay_dome(part, [mould(f"600 x {_mm(course)} x {_mm(thick)} mm")])


def _mm(length):
    return round(units.read(length, "length").value, 4)


TIGHT = {"inside_diameter": "1.6 m", "thickness": "150 mm", "course": "250 mm", "block_length": "300 mm"}


def test_only_courses_that_are_cut_are_said_to_be_cut():
    """A straight block of 250 mm spans more of a curve of 0.8 m radius than its height, and is whole all the same."""
    layout = lay_dome(shell(**TIGHT, stem=None))
    assert told("Course 5 is cut to 92.8 mm high to suit the crown.", layout)
    assert [round(ring.height_mm) for ring in layout.courses][:4] == [250] * 4
    assert not any("mm high" in block.cut for block in layout.blocks if block.course < 5)


def test_courses_cut_to_suit_the_crown_are_said_as_runs_of_courses_are():
    (note,) = told("to suit the crown", lay_dome(shell(inside_diameter="2.2 m")))
    assert note.startswith("Courses 9 and 10 are cut to ")
