"""Any sensible dome closes: its rings, its courses, its volumes."""

from __future__ import annotations

import itertools
import math
import re

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from blockrun.order.domes import DomePart, Way, lay_dome
from blockrun.order.laid import Role
from tests.order.domes.made import mould
from tests.order.domes.volumes import volumes_of

few = settings(max_examples=40)
RISES = {"hemisphere": None, "segment": (0.35, 0.9), "pointed": (1.1, 2.2), "ellipse": (0.5, 1.8), "catenary": (0.6, 2)}


@st.composite
def domes(draw, openings=False):
    """A dome that a builder might draw; its block is never too big for it."""
    radius = draw(st.floats(1200, 3500))
    profile = draw(st.sampled_from(sorted(RISES)))
    share = RISES[profile]
    thickness = draw(st.floats(100, min(400, radius / 5)))
    joint = draw(st.floats(5, 15))
    course = draw(st.floats(150, min(350, radius / 6)))
    crown = draw(st.sampled_from(["block", "ring", "eye"]))
    stem = draw(st.one_of(st.just(0.0), st.floats(150, 2500)))
    keys = {
        "name": "any",
        "inside_diameter_mm": 2 * radius,
        "profile": profile,
        "rise_mm": radius * draw(st.floats(*share)) if share else None,
        "stem_mm": stem,
        "thickness_mm": thickness,
        "course_mm": course,
        "block_length_mm": draw(st.floats(250, min(600, radius / 2.5))),
        "joint_mm": joint,
        "blocks": draw(st.sampled_from(["best", "plain", "tapered"])),
        "crown": crown,
        "eye_diameter_mm": radius * draw(st.floats(0.2, 0.5)) if crown == "eye" else None,
    }
    if openings:
        head = stem + radius * draw(st.floats(0, 0.25))
        sill = draw(st.floats(0, 0.5)) * head
        keys["openings"] = [
            {"name": "one", "at_deg": draw(st.floats(-180, 180)), "sill_mm": sill, "height_mm": head - sill + 1,
             "width_mm": radius * draw(st.floats(0.1, 0.6))}
        ]  # fmt: skip
    return made_or_rejected(keys)


def made_or_rejected(keys):
    """The dome; a course too high for a curve that turns fast is drawn anew, any other refusal is a failure."""
    try:
        return DomePart.model_validate(keys)
    except ValidationError as error:
        names = {one.name for fault in error.errors() for one in fault["ctx"]["error"].all()}
        if names != {"course"}:
            raise
        return reject()


def moulds_for(part, draw):
    """No moulds, plain moulds with stop-ends, or plain moulds of one length, of the dome's own block."""
    cavity = (part.block_length_mm, part.course_mm, part.thickness_mm)
    kinds = [(), (mould(cavity=cavity),), (mould(cavity=cavity, stop_ends=False),)]
    return draw(st.sampled_from(kinds))


@few
@given(st.data())
def test_blocks_and_joints_add_up_to_the_dome(data):
    part = data.draw(domes())
    volumes = volumes_of(part, moulds_for(part, data.draw))
    assert (volumes.blocks_l + volumes.joints_l) / volumes.dome_l == pytest.approx(1, abs=volumes.tolerance)
    assert volumes.tolerance < 0.05


@few
@given(st.data())
def test_with_openings_too(data):
    part = data.draw(domes(openings=True))
    volumes = volumes_of(part, moulds_for(part, data.draw))
    assert (volumes.blocks_l + volumes.joints_l) / volumes.dome_l == pytest.approx(1, abs=volumes.tolerance)


@few
@given(st.data())
def test_every_ring_closes_with_joints_within_the_limits(data):
    part = data.draw(domes())
    for ring in lay_dome(part, moulds_for(part, data.draw)).courses:
        turns = [after - before for before, after in itertools.pairwise(ring.joints_rad)]
        last = 2 * math.pi - sum(turns)
        assert ring.count == len(ring.joints_rad) >= 6
        assert turns == pytest.approx([turns[0]] * len(turns))
        assert last == pytest.approx(turns[0]) if ring.closing is None else last <= turns[0] + 1e-9
        assert part.least_joint_mm - 1e-6 <= ring.head_joint_mm[0]
        assert ring.head_joint_mm[1] <= part.most_joint_mm + 1e-6
        assert ring.closing is None or ring.closing.outside_bottom_mm >= part.shortest_mm - part.most_joint_mm


@few
@given(domes())
def test_blocks_of_neighbouring_courses_meet_along_the_curve(part):
    layout = lay_dome(part)
    for (below, above), ring in zip(itertools.pairwise(layout.sections), layout.courses[1:], strict=True):
        assert above.outline[0][0] <= below.outline[3][0] + 1e-9
        assert above.outline[0][1] > below.outline[3][1]
        gap = math.dist(below.outline[3], above.outline[0])
        assert gap == pytest.approx(ring.bed_joint_mm[0])
        assert part.least_joint_mm - 0.5 <= gap <= 1.5 * part.joint_mm + 0.01
        assert math.dist(above.outline[0], above.outline[3]) <= part.course_mm + 1e-6


@few
@given(domes())
def test_radii_fall_and_leans_grow_above_the_stem(part):
    rings = [ring for ring in lay_dome(part).courses if not ring.stem]
    for below, above in itertools.pairwise(rings):
        assert above.inside_radius_mm < below.inside_radius_mm
        assert above.lean_deg >= below.lean_deg - 1e-9


@few
@given(st.data())
def test_no_block_is_longer_than_it_may_be_and_every_one_is_a_body(data):
    part = data.draw(domes(openings=True))
    layout = lay_dome(part, moulds_for(part, data.draw))
    for block in layout.blocks:
        assert block.shape.length_mm <= part.block_length_mm + 1e-6 or block.role is Role.CROWN
        assert block.shape.volume_l > 0
        assert block.shape.length_at_mm(block.shape.thickness_mm, block.shape.height_mm) > 0
        assert len(block.corners) >= 3
    for ring in layout.courses:
        assert ring.edges.inside_top_mm > 0
        assert ring.setting.way is not Way.SAWN or ring.setting.cast.length_mm >= ring.setting.laid.length_mm


@few
@given(st.data())
def test_no_piece_beside_an_opening_is_shorter_than_a_block_may_be(data):
    part = data.draw(domes(openings=True))
    layout = lay_dome(part, moulds_for(part, data.draw))
    whole = {ring.course: ring.edges.inside_bottom_mm for ring in layout.courses}
    for block in layout.blocks:
        for ends in re.findall(r"end, to (\d+) mm long(?: at the bottom, (\d+) mm at the top)? inside", block.cut):
            assert max(float(end or 0) for end in ends) >= min(part.shortest_mm, whole[block.course] - 1) - 0.5
    assert sum(ring.laid for ring in layout.courses) == sum(block.role is Role.PLAIN for block in layout.blocks)


def laid_or_refused(keys):
    """The dome, or None when it is refused in words."""
    try:
        return DomePart.model_validate(keys)
    except ValidationError as error:
        faults = [one for fault in error.errors() for one in fault["ctx"]["error"].all()]
        return None if all(fault.what and fault.todo for fault in faults) else keys


@given(st.fixed_dictionaries({
    "inside_diameter_mm": st.floats(1, 100_000), "thickness_mm": st.floats(1, 2000), "course_mm": st.floats(1, 2000),
    "block_length_mm": st.floats(1, 5000), "joint_mm": st.floats(2, 200), "stem_mm": st.floats(0, 5000),
}))  # fmt: skip
def test_any_sizes_are_laid_or_refused_in_words(sizes):
    courses = sizes["inside_diameter_mm"] / sizes["course_mm"]
    blocks = courses * sizes["inside_diameter_mm"] / sizes["block_length_mm"]
    if blocks > 5_000 or sizes["stem_mm"] / sizes["course_mm"] > 100:
        return
    part = laid_or_refused({"name": "any", **sizes})
    assert part is None or lay_dome(part).blocks
