"""Angles and edges of a dome's blocks, held against vectors in space: planes through the axis and their cuts."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.order.domes.frame import Course
from blockrun.order.domes.wedge import Limits, end_bevel_rad, face_taper_rad, fit, gaps_mm, room
from blockrun.order.shape import Shape

LIMITS = Limits(joint_mm=10, least_mm=6, most_mm=40, longest_mm=450, shortest_mm=150)


def frame(lean_rad):
    """Unit vectors of a block: out through its thickness, up its face, along its length."""
    out = np.array([math.cos(lean_rad), 0.0, math.sin(lean_rad)])
    up = np.array([-math.sin(lean_rad), 0.0, math.cos(lean_rad)])
    return out, up, np.array([0.0, 1.0, 0.0])


def end_plane(half_angle_rad):
    """Normal of the upright plane through the axis at the half angle."""
    return np.array([-math.sin(half_angle_rad), math.cos(half_angle_rad), 0.0])


def on_the_plane(start, along, normal):
    """Where a line meets a plane through the axis."""
    return start - along * (start @ normal) / (along @ normal)


def trace_angle(normal, in_plane, square_to_it):
    """Angle in which a plane cuts the face spanned by two directions, from the first of them."""
    other = np.cross(in_plane, square_to_it)
    line = np.cross(normal, other)
    return math.atan2(abs(line @ square_to_it), abs(line @ in_plane))


def course_at(lean_rad, radius_mm=2000.0, height_mm=300.0, thickness_mm=200.0):
    _, up, _ = frame(lean_rad)
    top = np.array([radius_mm, 0.0, 0.0]) + height_mm * up
    return Course(1, (radius_mm, 0.0), (top[0], top[2]), 0.0, thickness_mm, height_mm, height_mm, (1000.0, 690.0))


@given(st.integers(6, 200), st.floats(0, math.pi / 2 - 0.01))
def test_the_end_bevel_is_the_trace_of_the_end_plane_on_a_bed(count, lean):
    out, _, along = frame(lean)
    assert end_bevel_rad(math.pi / count, lean) == pytest.approx(
        trace_angle(end_plane(math.pi / count), out, along), abs=1e-12
    )


@given(st.integers(6, 200), st.floats(0, math.pi / 2 - 0.01))
def test_the_narrowing_up_the_face_is_the_trace_of_the_end_plane_on_the_face(count, lean):
    _, up, along = frame(lean)
    assert face_taper_rad(math.pi / count, lean) == pytest.approx(
        trace_angle(end_plane(math.pi / count), up, along), abs=1e-12
    )


def test_an_upright_block_has_no_narrowing_up_its_face_and_a_flat_one_no_bevel():
    assert face_taper_rad(math.pi / 30, 0.0) == 0
    assert end_bevel_rad(math.pi / 30, math.pi / 2) == pytest.approx(0, abs=1e-15)
    assert end_bevel_rad(math.pi / 30, 0.0) == pytest.approx(math.pi / 30)


@given(st.integers(6, 120), st.floats(0, 1.4), st.floats(0, 20))
def test_edges_end_half_a_joint_from_the_planes_through_the_axis(count, lean, joint):
    course = course_at(lean)
    out, up, along = frame(lean)
    lengths = room(course, math.pi / count, joint)
    corner = np.array([2000.0, 0.0, 0.0])
    for length, depth, rise in (
        (lengths.outside_bottom_mm, 0, 0),
        (lengths.outside_top_mm, 0, 300),
        (lengths.inside_bottom_mm, 200, 0),
        (lengths.inside_top_mm, 200, 300),
    ):
        edge = corner + (200 - depth) * out + rise * up
        end = edge + along * length / 2
        assert end @ end_plane(math.pi / count) == pytest.approx(-joint / 2, abs=1e-6)
        whole = on_the_plane(edge, along, end_plane(math.pi / count))
        assert whole[1] == pytest.approx(edge[0] * math.tan(math.pi / count), abs=1e-6)


@given(st.integers(8, 120), st.floats(0, 1.2), st.floats(100, 400))
def test_gaps_are_the_distance_between_the_ends_of_neighbours(count, lean, length):
    course = course_at(lean)
    out, up, along = frame(lean)
    block = Shape(length, 300, 200)
    gaps = gaps_mm(course, block, math.pi / count)
    turn = 2 * math.pi / count
    turned = np.array([[math.cos(turn), -math.sin(turn), 0], [math.sin(turn), math.cos(turn), 0], [0, 0, 1]])
    for gap, (depth, rise) in zip(gaps, course.corners(), strict=True):
        edge = np.array([2000.0, 0.0, 0.0]) + (200 - depth) * out + rise * up
        one, other = edge + along * length / 2, turned @ (edge - along * length / 2)
        assert (other - one) @ end_plane(math.pi / count) == pytest.approx(gap, abs=1e-6)


def test_an_exact_wedge_leaves_one_joint_everywhere():
    course, half_angle = course_at(0.7), math.pi / 24
    lengths = room(course, half_angle, 10)
    block = Shape(
        lengths.outside_bottom_mm,
        300,
        200,
        math.degrees(end_bevel_rad(half_angle, 0.7)),
        math.degrees(face_taper_rad(half_angle, 0.7)),
    )
    assert gaps_mm(course, block, half_angle) == pytest.approx([10] * 4)
    assert block.length_at_mm(200, 300) == pytest.approx(lengths.inside_top_mm)


def test_a_ring_that_divides_evenly_has_no_closing_piece():
    found = fit(course_at(0.0), Shape(300, 300, 200), LIMITS)
    assert found is not None
    assert found.closing_rad == 0
    assert found.whole * found.half_angle_rad == pytest.approx(math.pi)


def test_a_ring_that_does_not_divide_gets_a_closing_piece_that_closes_it():
    tight = Limits(joint_mm=10, least_mm=9.9, most_mm=52, longest_mm=450, shortest_mm=150)
    course = course_at(0.0)
    block = Shape(400, 300, 200)
    found = fit(course, block, tight)
    assert found is not None
    assert found.closing_rad > 0
    assert found.whole * found.half_angle_rad + found.closing_rad == pytest.approx(math.pi)
    assert 150 <= room(course, found.closing_rad, 10).outside_bottom_mm <= 400 + 52


def test_blocks_that_leave_too_wide_a_wedge_do_not_fit():
    assert fit(course_at(0.9), Shape(450, 300, 200), LIMITS) is None
