"""Rings turned so that their joints stand clear."""

from __future__ import annotations

import itertools
import math

import pytest

from blockrun.order.domes.stagger import Jamb, first_joint_rad, head_joints_rad, lined_up, middles_rad
from blockrun.order.domes.wedge import Fit

TWENTY = Fit(20, math.pi / 20)
CELL = math.pi / 10


def test_equal_rings_go_half_a_block_on():
    below = head_joints_rad(0.0, TWENTY)
    first = first_joint_rad(2, TWENTY, below, [])
    assert first % CELL == pytest.approx(CELL / 2)
    assert lined_up(head_joints_rad(first, TWENTY), below, CELL) == 0


def test_rings_in_line_are_counted():
    below = head_joints_rad(0.0, TWENTY)
    assert lined_up(below, below, CELL) == 20


def test_a_ring_of_half_the_blocks_can_miss_every_joint_below():
    below = head_joints_rad(0.0, TWENTY)
    ten = Fit(10, math.pi / 10)
    first = first_joint_rad(2, ten, below, [])
    assert first % CELL == pytest.approx(CELL / 2)


def test_a_ring_turns_to_leave_no_short_piece_at_a_jamb():
    jambs = [Jamb(0.1, 1, CELL / 4), Jamb(-0.1, -1, CELL / 4)]
    joints = head_joints_rad(first_joint_rad(1, TWENTY, (), jambs), TWENTY)
    for jamb in jambs:
        piece = min((jamb.wall * (joint - jamb.azimuth_rad)) % (2 * math.pi) for joint in joints)
        assert piece >= CELL / 4 or piece < 0.02 * CELL


def test_a_closing_piece_stands_before_the_first_joint():
    half = 0.15
    fit = Fit(20, half, math.pi - 20 * half)
    joints, middles = head_joints_rad(1.0, fit), middles_rad(1.0, fit)
    assert len(joints) == len(middles) == 21
    assert middles[0] == pytest.approx(1.0 + half)
    assert middles[-1] == pytest.approx(1.0 - fit.closing_rad)
    assert joints[-1] + 2 * fit.closing_rad == pytest.approx(1.0 + 2 * math.pi)


def test_closing_pieces_move_on_round_the_dome():
    fit = Fit(20, 0.15, math.pi - 3.0)
    firsts = [first_joint_rad(course, fit, (), []) % (2 * math.pi) for course in range(1, 6)]
    apart = [abs(math.remainder(a - b, 2 * math.pi)) for a, b in itertools.pairwise(firsts)]
    assert min(apart) > 2 * 0.15
