"""Course sheets of a dome tell what its layout tells, in the order of laying."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import pandas as pd
import pytest

from blockrun.order import DomePart
from blockrun.order.domes import DomeLayout
from blockrun.order.domes.cautions import on_cards
from blockrun.order.parts import layout_of, marks_of
from blockrun.planner.plan import Plan
from blockrun.show.cautions import SHORT
from blockrun.show.paper.asked import Asked
from blockrun.show.paper.dome_courses import dome_courses
from blockrun.show.paper.dome_pieces import dome_pieces
from blockrun.show.paper.dome_round import names_of_blocks, round_the_ring
from blockrun.show.paper.size import Paper
from blockrun.site import MouldKind
from tests.order.domes.made import dome, mould
from tests.show.paper.as_if import as_if, tool_store
from tests.show.paper.conftest import Printed


def cards_of(plan: Plan, printed: Printed, paper: Paper = Paper.A4) -> list[str]:
    """The text of each card, from the bottom course up."""
    sheets = [sheet for sheet in dome_courses(Asked(plan)) if sheet.template == "dome_courses"]
    return [f"COURSE{card}" for page in printed(*sheets, paper=paper) for card in page.split("COURSE")[1:]]


def with_dome(moulds: Sequence[MouldKind] = (mould(),), **keys: object) -> Plan:
    """The demo's yard with other moulds and one dome, the usual one of the tests with some keys otherwise."""
    plan = tool_store()
    order = plan.order.model_copy(update={"parts": (dome(mix="light", **keys),)})
    return as_if(plan.site.model_copy(update={"moulds": tuple(moulds)}), order)


def store() -> tuple[DomePart, DomeLayout]:
    plan = tool_store()
    part = next(part for part in plan.order.parts if isinstance(part, DomePart))
    layout = layout_of(part, plan.site.moulds)
    assert isinstance(layout, DomeLayout)
    return part, layout


@pytest.mark.parametrize("paper", list(Paper))
def test_each_ring_has_a_card_with_its_numbers(printed: Printed, paper: Paper) -> None:
    _, layout = store()
    cards = cards_of(tool_store(), printed, paper)
    assert len(cards) == len(layout.courses) + 1
    for card, ring in zip(cards, layout.courses, strict=False):
        edges = ring.edges
        for said in (
            f"COURSE {ring.course} dome store",
            f"arm, to the top edge inside {ring.arm_mm:.0f} mm",
            f"blocks lean in {ring.lean_deg:.1f} deg",
            f"outside face {edges.outside_top_mm:.0f} mm",
            f"inside face {edges.inside_top_mm:.0f} mm",
            f"{edges.outside_bottom_mm:.0f} mm",
            f"{edges.inside_bottom_mm:.0f} mm",
            f"radius, inside {ring.inside_radius_mm:.0f} mm",
            f"First joint {ring.begin_deg:.1f} deg anti-clockwise from the middle of door",
            "ring whole",
        ):
            assert said in card
        angle = f"{abs(ring.arm_deg):.1f} deg {'up' if ring.arm_deg > 0 else 'down'}"
        assert ("level" if abs(ring.arm_deg) < 0.05 else angle) in card


def test_cards_of_courses_that_lean_in_say_to_hold_blocks_and_which_rings_pull(printed: Printed) -> None:
    part, layout = store()
    cards = cards_of(tool_store(), printed)
    said = on_cards(part, layout.courses)
    assert any(len(words) > 1 for words in said.values())
    for card, ring in zip(cards, layout.courses, strict=False):
        assert all(words in card for words in said[ring.course])
        assert ("Hold or prop" in card) == (not ring.stem)
    assert "Hold or prop it until its joints have set; keep out from under it." in cards[-1]


def test_cards_with_the_longest_cautions_stay_on_their_half(printed: Printed) -> None:
    plan = with_dome(profile="catenary", rise="2.6 m", dome="A dome with a long name by the lane")
    sheets = list(dome_courses(Asked(plan)))
    cards = [card for sheet in sheets if sheet.template == "dome_courses" for card in sheet.data["cards"]]
    assert any(len(card["cautions"]) == 3 for card in cards)
    (courses,) = (sheet for sheet in sheets if sheet.template == "dome_courses")
    assert len(printed(courses)) == math.ceil(len(cards) / 2)


def test_the_notes_of_a_dome_carry_the_short_cautions(printed: Printed) -> None:
    notes = [sheet for sheet in dome_courses(Asked(tool_store())) if sheet.template == "dome_notes"]
    assert all(SHORT in page for page in printed(*notes))


def test_the_saw_is_set_as_the_table_says(printed: Printed) -> None:
    card = cards_of(tool_store(), printed)[6]
    assert "saw to 7.3 deg through the thickness; 2.7 deg up the face" in card
    assert "of 16: 22 D440, 23 in a full ring" in card


def test_pieces_are_named_in_the_order_of_laying_with_the_door_between(printed: Printed) -> None:
    card = cards_of(tool_store(), printed)[6]
    assert "In turn, anti-clockwise from above: 19 x9 → x11 → door → x10 → x8" in card


def test_every_block_of_a_ring_is_laid_once(printed: Printed) -> None:
    part, layout = store()
    plan = tool_store()
    names = names_of_blocks(dome_pieces(part, plan.site.moulds, marks_of(plan.order, plan.site.moulds)))
    assert len(names) == len(layout.blocks)
    for ring in layout.courses:
        runs = round_the_ring(part, layout, ring, names)
        assert sum(count for count, _, is_opening in runs if not is_opening) == ring.laid


def test_the_crown_says_which_block_closes_it(printed: Printed) -> None:
    card = cards_of(tool_store(), printed)[-1]
    assert "COURSE 16" in card
    assert "straight up" in card
    assert "Crown block x26, sawn round: 85 mm across outside, 72 mm inside." in card


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"crown": "ring"}, "Plug, cast in place: "),
        ({"crown": "eye", "eye_diameter": "600 mm"}, "The eye stays open: "),
    ],
)
def test_a_dome_that_no_block_closes_says_what_does(printed: Printed, keys: dict[str, str], said: str) -> None:
    card = cards_of(with_dome(**keys), printed)[-1]
    assert card.startswith("COURSE crown")
    assert said in card


def test_a_ring_with_a_closing_piece_tells_its_edges(printed: Printed) -> None:
    plan = with_dome(openings=[], stem="1240 mm", moulds=[mould("300 x 300 x 200 mm", stop_ends=False)])
    layout = layout_of(plan.order.parts[0], plan.site.moulds)  # type: ignore[arg-type]
    assert isinstance(layout, DomeLayout)
    closed = [ring for ring in layout.courses if ring.closing]
    cards = cards_of(plan, printed)
    for ring in layout.courses:
        assert ("Closing piece" in cards[ring.course - 1]) == bool(ring.closing)
    for ring in closed:
        assert ring.closing is not None
        assert f"outside {ring.closing.outside_bottom_mm:.0f} mm at the bottom" in cards[ring.course - 1]
    assert closed


def test_many_windows_stand_whole_on_the_card(printed: Printed) -> None:
    windows = [
        {"name": f"window with a long name {number}", "at": f"{number * 36} deg", "sill": "0.9 m", "width": "0.5 m",
         "height": "0.6 m"}
        for number in range(10)
    ]  # fmt: skip
    plan = with_dome(openings=windows, inside_diameter="6 m")
    part, layout = plan.order.parts[0], layout_of(plan.order.parts[0], plan.site.moulds)
    assert isinstance(part, DomePart)
    assert isinstance(layout, DomeLayout)
    names = names_of_blocks(dome_pieces(part, plan.site.moulds, marks_of(plan.order, plan.site.moulds)))
    cards = cards_of(plan, printed)
    for ring in layout.courses:
        runs = round_the_ring(part, layout, ring, names)
        said = " → ".join(f"{count} {name}" if count > 1 else name for count, name, _ in runs)
        assert said in cards[ring.course - 1]
    springing = [name for _, name, is_opening in round_the_ring(part, layout, layout.courses[3], names) if is_opening]
    assert sorted(springing) == [f"window with a long name {number}" for number in range(10)]
    assert max(len(round_the_ring(part, layout, ring, names)) for ring in layout.courses) > 30


def test_a_late_course_says_so(printed: Printed) -> None:
    plan = tool_store()
    casts = plan.tables.casts.copy()
    chosen = casts.index[(casts["part"] == "store") & (casts["course"] == 3)]
    casts.loc[chosen[0], "ready"] = casts.loc[chosen[0], "needed"] + pd.Timedelta(days=4)
    cards = cards_of(replace(plan, tables=replace(plan.tables, casts=casts)), printed)
    assert "LATE 4 days" in cards[2]
    assert "LATE" not in cards[0]


def test_notes_and_pictures_lie_before_the_cards(printed: Printed) -> None:
    pages = printed(*dome_courses(Asked(tool_store())))
    text = " ".join(pages[:4])
    assert "Dome store: section and compass arm" in text
    assert "Dome store: laid flat" in text
    assert "Caution: what carries the cut rings over and beside door is to be designed by a licensed engineer." in text


def test_lengths_are_in_inches_where_the_yard_prints_so(printed: Printed) -> None:
    plan = tool_store()
    us = replace(plan, site=plan.site.model_copy(update={"units": "US"}))
    _, layout = store()
    ring = layout.courses[6]
    sixteenths = round(ring.arm_mm / 25.4 * 16)
    assert math.isclose(sixteenths / 16, 59 + 1 / 16)
    assert "arm, to the top edge inside 59 1/16 in" in cards_of(us, printed, Paper.LETTER)[6]


def test_where_the_arm_is_long_its_angle_is_finer_and_the_height_of_its_tip_is_told(printed: Printed) -> None:
    """At 6 m a tenth of a degree is a centimetre."""
    plan = with_dome(inside_diameter="12 m", stem="1.2 m", openings=())
    part = plan.order.parts[0]
    assert isinstance(part, DomePart)
    layout = layout_of(part, plan.site.moulds)
    assert isinstance(layout, DomeLayout)
    for card, ring in list(zip(cards_of(plan, printed), layout.courses, strict=False))[5:9]:
        level = layout.pivot_mm + ring.arm_mm * math.sin(math.radians(ring.arm_deg))
        assert f"top edge, inside {level:.0f} mm above the floor" in card
        assert f"{abs(ring.arm_deg):.2f} deg up" in card
