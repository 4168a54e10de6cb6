"""What a builder is told of a dome."""

from __future__ import annotations

import pytest

from blockrun.order.domes import lay_dome
from tests.order.domes.made import dome, mould, shell


def told(words, layout):
    return [note for note in layout.notes if words in note]


@pytest.mark.parametrize("rise", [None, "2.6 m"])
def test_every_dome_is_cautioned_about_the_pull_of_its_rings(rise):
    part = shell(profile="catenary" if rise else "hemisphere", rise=rise)
    (note,) = told("51.8 deg from the crown of a hemisphere", lay_dome(part))
    assert "to be designed by a licensed engineer" in note


def test_on_a_hemisphere_the_courses_that_pull_are_named():
    assert told("(here courses 5 to 9)", lay_dome(shell(stem="1240 mm")))


def test_what_carries_the_rings_over_an_opening_is_an_engineers():
    (note,) = told("lintel, arch, frame", lay_dome(dome()))
    assert "door" in note
    assert "to be designed by a licensed engineer" in note
    assert not told("lintel", lay_dome(shell()))


def test_a_door_through_the_springing_is_told_the_stem_that_frees_it():
    (note,) = told("out of the ring that ties the dome", lay_dome(dome()))
    assert note.startswith("door: takes 7 % of the springing")
    assert "a stem of 2310 mm would leave that ring whole" in note
    assert not told("out of the ring", lay_dome(dome(stem="2310 mm")))


def test_a_door_that_eats_most_of_the_springing_is_said_to():
    wide = [{"name": "gate", "width": "3.6 m", "height": "1.5 m"}, {"name": "back", "width": "3.0 m", "at": "180 deg"}]
    wide[1]["height"] = "1.5 m"
    (note,) = told("out of the ring that ties the dome", lay_dome(dome(openings=wide)))
    assert note.startswith("gate and back: take most of the springing")


def test_a_ring_is_ready_only_when_all_its_blocks_are():
    assert told("carries nothing until its last block is in", lay_dome(shell()))


def test_a_curve_that_springs_at_a_lean_is_told_its_first_bed():
    (note,) = told("springs at", lay_dome(shell(profile="segment", rise="1.2 m")))
    assert "before laying it" in note
    assert not told("springs at", lay_dome(shell()))


def test_a_crown_block_wider_than_its_cavity_is_told():
    layout = lay_dome(shell(profile="pointed", rise="3.8 m"), [mould()])
    assert told("crown block", layout)


def test_runs_of_courses_are_told_with_what_they_are_cast():
    assert told("Courses 1 to 5: plain blocks cast 312 x 300 mm; 43 in a ring.", lay_dome(shell(), [mould()]))
