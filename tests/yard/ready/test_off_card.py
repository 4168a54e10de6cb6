"""Batches outside their cards are set apart: by hand, on the plan of fifteen blocks.

By its card the wet mix of batch 1 is to weigh 766 to 846 kg/m3, its foam 89.3 to 100.7 g/L.
"""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from blockrun.planner.as_planned import AsPlanned, load_as_planned
from blockrun.planner.begun.facts import FILE as BEGUN
from blockrun.planner.begun.facts import BatchPoured, Begun
from blockrun.planner.morning import Morning
from blockrun.site import load_site
from tests.planner.test_ages import change, table
from tests.yard.ready.conftest import POURED, STRIPPED, Ready, course, moment

LIGHT, HEAVY = f"{POURED} --weight 730kg/m3", f"{POURED} --weight 880kg/m3"
SECOND = ("2027-04-06 14:09 poured 2", "2027-04-08 08:10 stripped gang-2/1 gang-2/2")
OLD_ENOUGH = "2027-05-10 08:00"
CUBE = "2027-05-05 08:00 test cube 1 {}kN 100x100mm 28d"


def names(morning: Morning) -> list[str]:
    return [one.batch for one in morning.off_card]


def test_a_batch_outside_its_card_is_told_with_what_it_weighs_and_where_it_is(ready: Ready) -> None:
    (found,) = ready("2027-04-06 12:00", LIGHT).off_card
    assert (found.batch, found.off.is_light) == ("1", True)
    assert found.off.said("SI") == "the wet mix weighs 730 kg/m3, and by the card it is to weigh 766 to 846 kg/m3"
    assert found.where == (("in moulds", (("full", 3), ("half", 1), ("thin", 1))),)


def test_one_too_heavy_is_told_as_that(ready: Ready) -> None:
    (found,) = ready("2027-04-06 12:00", HEAVY).off_card
    assert (found.off.weighs_kg_m3, found.off.is_light) == (880, False)


@pytest.mark.parametrize("weighed", ["", " --weight 806kg/m3", " --foam 98g/L", " --foam 71g/L --weight 806kg/m3"])
def test_a_batch_within_its_card_is_not_and_the_mix_tells_more_than_the_foam(ready: Ready, weighed: str) -> None:
    assert names(ready("2027-04-06 12:00", f"{POURED}{weighed}")) == []


def test_foam_far_off_is_told_where_nobody_weighed_the_mix(ready: Ready) -> None:
    (found,) = ready("2027-04-06 12:00", f"{POURED} --foam 71g/L").off_card
    assert (found.off.what, found.off.weighs_kg_m3) == ("foam", 71)


def test_its_moulds_and_what_leaves_a_rack_say_so(ready: Ready) -> None:
    assert [mould.off_card for mould in ready("2027-04-06 12:00", LIGHT).moulds] == [("1",)] * 3
    (rack,) = ready("2027-04-20 13:00", *STRIPPED, *SECOND).racks
    assert rack.leave == (("full", 5), ("half", 3), ("thin", 1))
    assert rack.apart == (("full", 3), ("half", 1), ("thin", 1))


def test_none_of_it_counts_as_ready_to_lay(ready: Ready) -> None:
    one = course(ready(OLD_ENOUGH, LIGHT, *STRIPPED), 1)
    assert (one.ready, one.is_whole, one.whole_from) == (0, False, None)
    (some,) = one.some
    assert (some.where, some.count) == ("on the east rack, outside the card", 4)


def test_courses_get_good_blocks_first(ready: Ready) -> None:
    one = course(ready(OLD_ENOUGH, LIGHT, *STRIPPED, *SECOND), 1)
    assert one.ready == 3  # two full and a half of batch 2
    assert one.some[0].blocks == (("full", 2),)


def test_a_word_for_it_ends_that(ready: Ready) -> None:
    assert names(ready("2027-04-06 12:00", LIGHT, "2027-04-06 11:00 passed 1 the scales were wet")) == []
    assert course(ready(OLD_ENOUGH, *STRIPPED), 1).ready == 4


def test_a_batch_poured_again_is_held_by_its_own_weight(ready: Ready) -> None:
    flat = "2027-04-05 09:30 rejected gang-2/1 gang-2/2 tray-1/b1 flat"
    assert names(ready("2027-04-06 12:00", LIGHT, flat, "2027-04-05 10:00 poured 1 again")) == []


def test_what_was_thrown_away_in_the_drum_holds_nothing_poured_in_the_same_minute(ready: Ready) -> None:
    thrown = "2027-04-05 08:24 thrown 1 flat --weight 730kg/m3"
    assert names(ready("2027-04-06 12:00", thrown, "2027-04-05 08:24 poured 1 again")) == []


def test_a_word_for_a_batch_is_none_for_its_next_pour(ready: Ready) -> None:
    word, flat = "2027-04-05 09:00 passed 1 looks good", "2027-04-05 09:30 rejected gang-2/1 gang-2/2 tray-1/b1 flat"
    again = "2027-04-05 10:00 poured 1 again --weight 880kg/m3"
    assert names(ready("2027-04-06 12:00", LIGHT, word, flat, again)) == ["1"]


@pytest.fixture
def by_strength(small: AsPlanned, small_folder: Path, tmp_path: Path) -> AsPlanned:
    """The same yard, in which blocks are laid at 0.6 MPa."""
    folder = Path(shutil.copytree(small_folder / "inputs", tmp_path / "inputs"))
    (folder / "cubes.csv").write_text(table(0.08), encoding="utf-8")
    change(folder, ("lay_at: 28 d", "lay_at: 0.6 MPa\n  cubes: cubes.csv"))
    return replace(small, site=load_site(folder / "site.yaml"))


@pytest.mark.parametrize(("load", "off"), [(6.1, []), (5.9, ["1"])])
def test_cubes_as_strong_as_is_asked_end_that(
    ready: Ready, by_strength: AsPlanned, load: float, off: list[str]
) -> None:
    assert names(ready(OLD_ENOUGH, LIGHT, CUBE.format(load), plan=by_strength)) == off


def test_where_no_strength_is_asked_no_cube_answers_for_it(ready: Ready) -> None:
    assert names(ready(OLD_ENOUGH, LIGHT, CUBE.format(30))) == ["1"]


@pytest.mark.parametrize(("load", "off"), [(11.1, []), (10.9, ["1"])])
def test_a_mix_that_is_ordered_by_its_strength_asks_for_that(
    ready: Ready, by_strength: AsPlanned, tmp_path: Path, load: float, off: list[str]
) -> None:
    order = Path(shutil.copy(by_strength.order[""], tmp_path / "order.yaml"))
    change(tmp_path, ("oven_dry_density: 600 kg/m3", "strength: 1.1 MPa"), file="order.yaml")
    plan = replace(by_strength, order={**by_strength.order, "": order})
    assert names(ready(OLD_ENOUGH, LIGHT, CUBE.format(load), plan=plan)) == off


def test_a_plan_made_anew_calls_it_by_its_own_number(ready: Ready, small: AsPlanned, tmp_path: Path) -> None:
    folder = Path(shutil.copytree(small.directory, tmp_path / "anew"))
    poured = moment("2027-04-05T08:24")
    before = BatchPoured(number=3, plan=small.id, was=1, mixer="drum", mix="light", bags=3.5, poured=poured)
    (folder / "inputs" / BEGUN).write_text(Begun(since=poured, batches=(before,)).text(), encoding="utf-8")
    assert names(ready("2027-04-06 12:00", LIGHT, plan=small)) == ["1"]
    assert names(ready("2027-04-06 12:00", plan=load_as_planned(folder))) == ["3"]


def test_what_is_set_apart_is_laid_last_and_thrown_out_by_its_batch(ready: Ready) -> None:
    both = (LIGHT, *STRIPPED, *SECOND)
    blocks = ("on the east rack", (("full", 3), ("half", 1), ("thin", 1)))
    assert ready(OLD_ENOUGH, *both, "2027-05-10 07:00 laid wall 1 2 full").off_card[0].where == (blocks,)
    (off,) = ready(OLD_ENOUGH, "2027-05-10 07:10 laid wall 1 1 full").off_card
    assert off.where == (("on the east rack", (("full", 2), ("half", 1), ("thin", 1))),)
    assert names(ready(OLD_ENOUGH, "2027-05-10 07:20 rejected east 2 full 1 half 1 thin of 1 light")) == []


def anew(plan: AsPlanned, tmp_path: Path, old: str, new: str, file: str) -> AsPlanned:
    """The plan with something else in a file of its inputs."""
    folder = Path(shutil.copytree(plan.directory, tmp_path / "changed"))
    change(folder / "inputs", (old, new), file=file)
    return load_as_planned(folder)


@pytest.mark.parametrize(
    ("weighed", "old", "new", "file"),
    [
        ("weight 730kg/m3", "oven_dry_density: 600 kg/m3", "oven_dry_density: 550 kg/m3", "order.yaml"),
        ("foam 71g/L", "density: 95 g/L", "density: 72 g/L", "site.yaml"),
    ],
)
def test_each_pour_is_held_to_the_card_it_was_poured_to(
    ready: Ready, small: AsPlanned, tmp_path: Path, weighed: str, old: str, new: str, file: str
) -> None:
    before = ready("2027-04-06 12:00", f"{POURED} --{weighed}").off_card
    after = ready("2027-04-06 12:00", plan=anew(small, tmp_path, old, new, file)).off_card
    assert [one.off for one in after] == [one.off for one in before] != []


def test_a_word_counts_until_later_cubes_are_weaker(ready: Ready, by_strength: AsPlanned) -> None:
    word, weak, strong = "2027-04-06 11:00 passed 1 the scales were wet", CUBE.format(5.9), CUBE.format(6.1)
    assert names(ready(OLD_ENOUGH, LIGHT, word, plan=by_strength)) == []
    assert names(ready(OLD_ENOUGH, weak, plan=by_strength)) == ["1"]
    assert names(ready(OLD_ENOUGH, word.replace("04-06", "05-06"), plan=by_strength)) == []
    assert names(ready(OLD_ENOUGH, strong.replace("05-05", "05-07"), plan=by_strength)) == []


def test_cubes_of_a_batch_poured_twice_speak_for_its_last_pour_alone(ready: Ready, by_strength: AsPlanned) -> None:
    flat, again = "2027-04-05 09:30 rejected gang-2/1 flat", "2027-04-05 10:00 poured 1 again gang-2/1"
    assert names(ready(OLD_ENOUGH, LIGHT, flat, again, CUBE.format(30), plan=by_strength)) == ["1"]


def test_the_strength_that_is_asked_is_told_with_it(ready: Ready, by_strength: AsPlanned) -> None:
    assert ready("2027-04-06 12:00", LIGHT).off_card[0].asked_mpa is None
    assert ready("2027-04-06 12:00", plan=by_strength).off_card[0].asked_mpa == 0.6


def test_one_of_another_plan_is_told_and_passed_as_such(ready: Ready, small: AsPlanned) -> None:
    other = replace(small, casts=tuple(replace(cast, turn=cast.turn + 10) for cast in small.casts))
    assert names(ready("2027-04-06 12:00", LIGHT)) == ["1"]
    assert names(ready("2027-04-06 12:00", plan=other)) == ["1 of another plan"]
    assert names(ready("2027-04-06 12:00", "2027-04-06 11:00 passed 1 looked at it", plan=other)) == []
