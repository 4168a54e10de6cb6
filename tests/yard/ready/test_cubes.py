"""Cubes that were crushed overrule the age of a batch by the margin of the site: strip at 0.2 MPa, 600 kg/m3."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from blockrun.planner.as_planned import AsPlanned
from blockrun.planner.morning import InMould, Morning
from blockrun.site import Cube, load_site
from tests.cure.cubes import law
from tests.planner.test_ages import STRIP, change, table
from tests.yard.ready.conftest import POURED, Ready, moment

Asking = Callable[..., AsPlanned]

TEST = "test cube 1 {}kN 100x100mm {}d"
LONG_AFTER = "2027-04-09 12:00"


@pytest.fixture
def asking(small: AsPlanned, small_folder: Path, tmp_path: Path) -> Asking:
    """The small plan on a site that has cubes, with other rules."""

    def of(*edits: tuple[str, str], scatter: float = 0.08) -> AsPlanned:
        folder = Path(shutil.copytree(small_folder / "inputs", tmp_path / "inputs"))
        (folder / "cubes.csv").write_text(table(scatter), encoding="utf-8")
        change(folder, (STRIP, f"{STRIP}\n  cubes: cubes.csv"), *edits)
        return replace(small, site=load_site(folder / "site.yaml"))

    return of


@pytest.fixture
def strong(asking: Asking) -> AsPlanned:
    return asking((STRIP, "strip_at: 0.2 MPa"))


def gang(morning: Morning) -> InMould:
    return next(mould for mould in morning.moulds if mould.place == "gang-2/01")


def strip(morning: Morning) -> datetime:
    found = gang(morning).strip_from
    assert found is not None
    return found


def test_cubes_of_any_batch_move_the_curve_at_once(ready: Ready, strong: AsPlanned) -> None:
    as_planned = strip(ready(LONG_AFTER, POURED, plan=strong))
    loads = {days: f"{10 * 0.85 * law(600, days):.2f}" for days in (1, 2, 3)}
    weak = [f"2027-04-0{5 + days} 08:24 {TEST.format(load, days)} 600kg/m3" for days, load in loads.items()]
    assert strip(ready(LONG_AFTER, *weak, plan=strong)) > as_planned


def test_a_cube_that_the_site_has_by_now_counts_once(ready: Ready, strong: AsPlanned) -> None:
    cubes = strong.site.curing.cubes
    assert cubes is not None
    weak = [f"2027-04-0{5 + days} 08:24 {TEST.format(load, days)} 600kg/m3" for days, load in ((1, 1), (2, 3))]
    by_journal = ready(LONG_AFTER, POURED, *weak, plan=strong)
    tests = tuple(Cube(600, mpa, age_h, 20.0, age_h, mix="light") for mpa, age_h in ((0.1, 24), (0.3, 48)))
    curing = strong.site.curing.model_copy(update={"cubes": replace(cubes, tests=cubes.tests + tests)})
    written = replace(strong, site=strong.site.model_copy(update={"curing": curing}))
    assert strip(ready(LONG_AFTER, plan=written)) == strip(by_journal)


def test_cubes_without_a_density_leave_the_curve_alone(ready: Ready, strong: AsPlanned) -> None:
    as_planned = strip(ready(LONG_AFTER, POURED, plan=strong))
    later = [f"2027-04-0{day} 07:30 {TEST.format(3, day - 4)}" for day in (7, 8)]
    assert strip(ready("2027-04-06 12:00", *later, plan=strong)) == as_planned


def test_a_cube_weaker_than_asked_holds_its_batch_back(ready: Ready, strong: AsPlanned) -> None:
    morning = ready(LONG_AFTER, POURED, f"2027-04-07 12:00 {TEST.format(1.5, 2)}", plan=strong)
    (cubes,) = morning.cubes
    assert (gang(morning).strip_from, gang(morning).held) == (None, (1,))
    assert (cubes.batch, cubes.weakest_mpa, cubes.asked_mpa, cubes.holds) == (1, pytest.approx(0.15), 0.2, True)


def test_what_came_out_before_such_a_cube_was_crushed_is_looked_at(ready: Ready, strong: AsPlanned) -> None:
    out = "2027-04-07 11:00 stripped gang-2/1"
    (early,) = ready(LONG_AFTER, POURED, out, f"2027-04-07 12:00 {TEST.format(1.5, 2)}", plan=strong).early
    assert (early.place, early.blocks, early.early_h) == ("gang-2/01", (("full", 2),), None)


def test_the_weakest_of_a_set_is_gone_by_and_a_later_set_overrules_it(ready: Ready, strong: AsPlanned) -> None:
    weak = [f"2027-04-07 12:0{n} {TEST.format(load, 2)}" for n, load in enumerate((4, 1.5, 4))]
    assert gang(ready(LONG_AFTER, POURED, *weak, plan=strong)).held == (1,)
    assert gang(ready(LONG_AFTER, f"2027-04-08 12:00 {TEST.format(4, 3)}", plan=strong)).held == ()


def test_a_cube_as_young_as_it_is_weak_holds_nothing_back(ready: Ready, strong: AsPlanned) -> None:
    """At 8 h nobody knows yet; at 18 h a cube far under all others of its age is known to be behind."""
    as_planned = strip(ready(LONG_AFTER, POURED, plan=strong))
    assert strip(ready(LONG_AFTER, f"2027-04-05 16:24 {TEST.format(0.2, 0.33)}", plan=strong)) == as_planned
    assert gang(ready(LONG_AFTER, f"2027-04-06 02:24 {TEST.format(0.4, 0.75)}", plan=strong)).held == (1,)


def test_cubes_that_are_surely_strong_enough_let_it_come_sooner(ready: Ready, strong: AsPlanned) -> None:
    as_planned = strip(ready(LONG_AFTER, POURED, plan=strong))
    crushed = as_planned - timedelta(hours=3)
    sure = strip(ready(LONG_AFTER, f"{crushed:%Y-%m-%d %H:%M} {TEST.format(4, 0.8)}", plan=strong))
    assert crushed <= sure < as_planned


def test_cubes_just_over_what_is_asked_are_not_sure(ready: Ready, strong: AsPlanned) -> None:
    as_planned = strip(ready(LONG_AFTER, POURED, plan=strong))
    crushed = as_planned - timedelta(hours=3)
    assert strip(ready(LONG_AFTER, f"{crushed:%Y-%m-%d %H:%M} {TEST.format(2.1, 0.8)}", plan=strong)) == as_planned


def test_after_frost_no_cube_brings_a_strip_forward(ready: Ready, strong: AsPlanned) -> None:
    cold = (POURED, "2027-04-06 07:00 weather -4 12 2027-04-06")
    as_planned = strip(ready(LONG_AFTER, *cold, plan=strong))
    crushed = as_planned - timedelta(hours=3)
    assert strip(ready(LONG_AFTER, f"{crushed:%Y-%m-%d %H:%M} {TEST.format(9, 1)}", plan=strong)) == as_planned


def test_what_a_thumb_doubts_no_cube_hurries(ready: Ready, strong: AsPlanned) -> None:
    as_planned = strip(ready(LONG_AFTER, POURED, plan=strong))
    crushed = as_planned - timedelta(hours=3)
    told = (f"{crushed:%Y-%m-%d %H:%M} {TEST.format(4, 0.8)}", f"{as_planned:%Y-%m-%d %H:%M} thumb gang-2/1 dents")
    morning = ready(LONG_AFTER, *told, plan=strong)
    assert strip(morning) > as_planned
    assert next(mould.strip_from for mould in morning.moulds if mould.place == "gang-2/02") < as_planned


def test_where_an_age_is_asked_for_a_strength_is_told_and_changes_nothing(ready: Ready, small: AsPlanned) -> None:
    as_planned = ready(LONG_AFTER, POURED)
    morning = ready(LONG_AFTER, f"2027-04-07 12:00 {TEST.format(0.5, 2)}")
    (cubes,) = morning.cubes
    assert (cubes.asked_mpa, cubes.holds) == (None, False)
    assert morning.moulds == as_planned.moulds


def test_a_weak_cube_keeps_blocks_from_being_laid(ready: Ready, asking: Asking) -> None:
    plan = asking(("lay_at: 28 d", "lay_at: 0.6 MPa"))
    stripped = "2027-04-06 13:00 stripped gang-2/1"
    (course, *_) = ready("2027-05-20 08:00", POURED, stripped, plan=plan).courses
    assert course.ready == 2
    morning = ready("2027-05-20 08:00", f"2027-05-19 08:00 {TEST.format(5, 44)}", plan=plan)
    assert (morning.courses[0].ready, [one.job for one in morning.cubes if one.holds]) == (0, ["lay"])


def test_cubes_that_fit_no_curve_are_left_out_and_told(ready: Ready, strong: AsPlanned) -> None:
    as_planned = strip(ready(LONG_AFTER, POURED, plan=strong))
    odd = [f"2027-04-06 07:{n:02} {TEST.format(0.3, 1)} 2500kg/m3" for n in range(9)]
    morning = ready("2027-04-06 08:00", *odd, plan=strong)
    assert (
        "those recorded are left out of the curve: by these 21 cubes heavier blocks would be weaker"
        in morning.cubes_doubted
    )
    assert ready(LONG_AFTER, plan=strong).moulds[-1].place == "tray-1/b01"
    assert as_planned > moment("2027-04-06T08:00")
