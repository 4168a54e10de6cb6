"""Plain, tapered or sawn; and courses that share what the moulds are set to."""

from __future__ import annotations

import math

import pytest

from blockrun.order.domes import Inserts, Way, lay_dome
from blockrun.order.domes.courses import courses
from blockrun.order.domes.settings import settings
from blockrun.order.domes.ways import limits_of
from blockrun.order.domes.wedge import fit, gaps_mm
from tests.order.domes.made import mould, shell

PART = shell(stem="1240 mm")
COURSES = courses(PART)[0]
CAVITY = (600.0, 300.0, 200.0)


def test_without_moulds_blocks_are_tapered_for_their_course():
    for course, setting in zip(COURSES[7:], settings(PART, COURSES, ())[7:], strict=True):
        assert setting.way is Way.TAPERED
        found = fit(course, setting.laid, limits_of(PART, Way.TAPERED))
        widths = gaps_mm(course, setting.laid, found.half_angle_rad)
        assert min(widths) >= 6
        assert max(widths) <= 20


def test_plain_moulds_cast_plain_blocks_low_down_and_blocks_to_saw_above():
    ways = [setting.way for setting in settings(PART, COURSES, [Inserts(CAVITY, stop_ends=True)])]
    turn = ways.index(Way.SAWN)
    assert 4 < turn < 12
    assert set(ways[:turn]) == {Way.PLAIN}
    assert set(ways[turn:]) == {Way.SAWN}


def test_plain_blocks_keep_their_joints_within_the_limits_and_get_shorter_up_the_dome():
    plain = shell(stem="1240 mm", blocks="plain", least_length="60 mm")
    layout = lay_dome(plain, [mould()])
    lengths = [ring.setting.cast.length_mm for ring in layout.courses if ring.setting.way is Way.PLAIN]
    assert lengths == sorted(lengths, reverse=True)
    assert lengths[0] > 2 * lengths[-1]
    for ring in layout.courses:
        if ring.setting.way is Way.PLAIN:
            assert ring.head_joint_mm[0] >= 6
            assert ring.head_joint_mm[1] <= 40


def test_a_wedge_that_suits_the_stem_makes_its_blocks_longer():
    plain = settings(PART, COURSES, [Inserts(CAVITY, stop_ends=True)])
    wedged = settings(PART, COURSES, [Inserts(CAVITY, stop_ends=True, bevels_deg=(0.0, 5.5))])
    assert wedged[0].way is Way.TAPERED
    assert wedged[0].laid.bevel_deg == 5.5
    assert wedged[0].laid.length_mm > plain[0].laid.length_mm


def test_courses_share_a_setting_where_the_joints_allow():
    found = settings(PART, COURSES, ())
    assert len({setting.laid for setting in found[:5]}) == 1
    assert len(set(found)) < len(found) - 4


def test_blocks_said_to_be_plain_or_tapered_are():
    tapered = settings(shell(stem="1240 mm", blocks="tapered"), COURSES, ())
    assert all(setting.laid.bevel_deg for setting in tapered)
    plain = settings(shell(stem="1240 mm", blocks="plain"), COURSES, ())
    assert {setting.way for setting in plain[:5]} == {Way.PLAIN}


def test_no_block_is_longer_than_its_limit_or_its_cavity():
    for cavity in (CAVITY, (400.0, 300.0, 200.0)):
        for setting in settings(PART, COURSES, [Inserts(cavity, stop_ends=True)]):
            assert setting.cast.length_mm <= min(450, cavity[0])


def test_beds_lean_where_mortar_would_be_too_wide():
    found = settings(shell(stem="1240 mm", joint_most="25 mm"), COURSES, ())
    assert found[6].laid.bed_deg == pytest.approx(4.0, abs=0.1)
    assert found[6].cast.height_mm == pytest.approx(300 + 400 * math.tan(math.radians(4.0)), abs=0.8)
    assert found[0].laid.bed_deg == 0


def test_beds_that_lean_as_they_should_leave_joints_of_even_width():
    layout = lay_dome(shell(stem="1240 mm", joint_most="25 mm"))
    for ring in layout.courses[5:14]:
        inside, outside = ring.bed_joint_mm
        assert outside == pytest.approx(inside, abs=0.8)  # beds are set to a tenth of a degree
        assert ring.even_deg[2] == pytest.approx(math.degrees(310 / 2200) / 2, abs=0.01)


def test_a_block_higher_outside_than_its_cavity_is_said():
    notes = lay_dome(shell(stem="1240 mm", joint_most="25 mm"), [mould()]).notes
    told = next(note for note in notes if "high outside" in note)
    assert "over the cavity's 300 mm: write joint_most: 39 mm, or a course of up to 154 mm and moulds as high" in told


def test_a_block_longer_than_its_cavity_is_said():
    notes = lay_dome(PART, [mould("400 x 300 x 200 mm")]).notes
    assert any("Blocks are 400 mm long at most, as the cavity is, not 450 mm" in note for note in notes)


def test_moulds_of_another_thickness_are_said_to_give_no_blocks():
    notes = lay_dome(PART, [mould("600 x 300 x 150 mm")]).notes
    assert any("No cavity (600 x 300 x 150 mm) gives blocks 300 mm high and 200 mm thick" in note for note in notes)


def test_every_block_is_one_that_a_mould_casts():
    kinds = [mould(), mould("600 x 328 x 200 mm", wedges=["5.3 deg"], tapers=["0 deg", "4 deg"], bed_wedges=["4 deg"])]
    layout = lay_dome(shell(stem="1240 mm", joint_most="30 mm", blocks="best"), kinds)
    assert {ring.setting.laid.bed_deg for ring in layout.courses} == {0.0, 4.0}
    assert any("328 mm high outside, over the cavity's 300 mm" in note for note in layout.notes)
    for shape in {ring.setting.cast for ring in layout.courses if ring.setting.way is not Way.SAWN}:
        assert any(
            (shape.height_mm, shape.thickness_mm) == kind.cavity[1:]
            and shape.length_mm <= kind.cavity[0]
            and shape.bevel_deg in kind.wedges_deg
            and shape.taper_deg in kind.tapers_deg
            and shape.bed_deg in kind.bed_wedges_deg
            for kind in kinds
        )


def test_wedges_that_lean_outward_are_of_no_use():
    kind = mould(wedges=["-5 deg", "0 deg"])
    assert lay_dome(PART, [kind]).blocks == lay_dome(PART, [mould()]).blocks
