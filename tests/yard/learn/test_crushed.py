"""Cubes that were crushed become rows of the site's own table, and what the curve says with them is told."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from blockrun.errors import BadInput
from blockrun.planner.ages import Ages
from blockrun.planner.as_planned import AsPlanned
from blockrun.planner.learned import CubeRow, Finding, Lessons
from blockrun.site import Cube, Strength
from blockrun.site.cubes import Cubes, read_cubes
from blockrun.site.weather import Weather
from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import Crushed
from blockrun.yard.learn.crushed import NEW_FILE
from blockrun.yard.learn.cube_rows import added, new_table, not_among
from blockrun.yard.learn.lessons import lessons_of
from blockrun.yard.ready.cubes import RecordedCubes

About = Callable[[Lessons, str], Finding]
START = datetime.fromisoformat("2027-04-12T10:00")
CUBES = Path(__file__).parents[3] / "configs" / "cubes.csv"


def crushed(nth: int, load_kn: float, age_d: float, dry: float | None = 600, **other: Any) -> Entry:
    told = {"what": "cube", "mix": "light", "batch": 1, "length_mm": 100, "width_mm": 100} | other
    event = Crushed.model_validate(told | {"load_kn": load_kn, "age_d": age_d, "dry_density_kg_m3": dry})
    at = START + timedelta(hours=nth)
    return Entry(f"c{nth}", at, at.replace(tzinfo=UTC), event)


LOADS = [(2, 1), (2.1, 1), (4, 3), (4.2, 3), (6, 7), (6.1, 7)]
SIX = [crushed(nth, load, age) for nth, (load, age) in enumerate(LOADS)]
EVERY = [*SIX, *(crushed(10 + nth, load, age, 900, mix="heavy") for nth, (load, age) in enumerate(LOADS))]


def test_a_cube_is_told_by_its_load_over_its_area(demo: AsPlanned) -> None:
    (row,) = lessons_of(demo, [crushed(0, 22.5, 7, marked="7a", length_mm=150, width_mm=150)]).cubes
    assert row == CubeRow("light", 1, 600, 7, 168, 1.0, START.date(), "7a")


def test_a_cube_is_as_old_as_the_morning_list_has_it_in_a_hot_yard(demo: AsPlanned, about: About) -> None:
    air = Weather(demo.site.calendar.start, ((30.0, 40.0),) * 60)
    curing = demo.site.curing.model_copy(update={"cubes": Cubes(())})
    hot = replace(demo, site=demo.site.model_copy(update={"weather": air, "curing": curing}))
    recorded = RecordedCubes(hot.site, SIX).joined().curing.cubes
    assert recorded is not None
    ages = [row.equivalent_age_h for row in lessons_of(hot, SIX).cubes]
    assert ages == [one.equivalent_age_h for one in recorded.tests]
    assert min(ages) > 1.5 * 24
    asked = hot.site.curing.model_copy(update={"strip_at_h": Strength(0.2)})
    hours = Ages(RecordedCubes(hot.site, SIX).joined(), {"light": 600}).hours(Strength(0.2))
    notes = about(lessons_of(replace(hot, site=hot.site.model_copy(update={"curing": asked})), EVERY), "Strength").notes
    assert any(f"with these it is {hours:g} h at 20 degC" in note for note in notes)


def test_a_table_that_has_cubes_of_a_hot_yard_as_kept_cool_is_told_and_not_believed(
    demo: AsPlanned, about: About
) -> None:
    air = Weather(demo.site.calendar.start, ((30.0, 40.0),) * 60)
    known = Cubes(tuple(Cube(600, load / 10, 24 * age, mix="light") for load, age in LOADS))
    curing = demo.site.curing.model_copy(update={"cubes": known})
    hot = replace(demo, site=demo.site.model_copy(update={"weather": air, "curing": curing}))
    joined = RecordedCubes(hot.site, SIX).joined().curing.cubes
    assert joined is not None
    assert [one.equivalent_age_h is None for one in joined.tests] == [False] * len(SIX)
    notes = about(lessons_of(hot, SIX), "Strength").notes
    assert (
        "The table has 6 cubes for younger than they may be: the yard was warmer than 20 degC. Write equivalent_age_h."
        in notes
    )
    told = replace(known, tests=tuple(replace(one, cured_c=22.0) for one in known.tests))
    curing = hot.site.curing.model_copy(update={"cubes": told})
    assert RecordedCubes(hot.site.model_copy(update={"curing": curing}), SIX).joined().curing.cubes == told


def test_cubes_that_the_site_has_already_are_not_added_again(demo: AsPlanned) -> None:
    known = read_cubes(CUBES)
    curing = demo.site.curing.model_copy(update={"cubes": known})
    plan = replace(demo, site=demo.site.model_copy(update={"curing": curing}))
    same = known.tests[0]
    assert same.age_h is not None
    there = crushed(0, same.strength_mpa * 10, same.age_h / 24, same.dry_density_kg_m3)
    assert [row.strength_mpa for row in lessons_of(plan, [there, crushed(1, 5, 7)]).cubes] == [0.5]


def test_without_a_dry_density_it_is_told_and_not_added(demo: AsPlanned, about: About) -> None:
    lessons = lessons_of(demo, [crushed(0, 5, 7, None)])
    assert lessons.cubes == ()
    assert about(lessons, "Strength").verdict == "no row to add"
    assert about(lessons, "Strength").notes[0].startswith("1 cube without a dry density")


def test_blocks_are_told_and_are_in_no_curve(demo: AsPlanned, about: About) -> None:
    lessons = lessons_of(demo, [crushed(0, 120, 7, what="block", length_mm=600, width_mm=200)])
    assert lessons.cubes == ()
    found = about(lessons, "Blocks crushed")
    assert (found.seen, found.verdict) == ("1 crushed: 1 MPa at 7 d", "told only: no curve is drawn of blocks")


def test_the_strength_at_the_strip_is_told_with_them_and_without(demo: AsPlanned, about: About) -> None:
    notes = about(lessons_of(demo, SIX), "Strength").notes
    told = next(note for note in notes if note.startswith("light at 24 h"))
    assert told.startswith(
        "light at 24 h, when it is stripped: no cubes so far told its strength; with these it is at least 0.1"
    )
    assert any("Strength is not promised" in note for note in notes)
    few = about(lessons_of(demo, SIX[:5]), "Strength").notes
    assert "light at 24 h, when it is stripped: no cubes tell its strength yet: crush some of it about 24 h old." in few


def test_a_rule_that_is_a_strength_gets_its_age_with_them_and_without(demo: AsPlanned, about: About) -> None:
    curing = demo.site.curing.model_copy(update={"strip_at_h": Strength(0.2), "cubes": Cubes(())})
    plan = replace(demo, site=demo.site.model_copy(update={"curing": curing}))
    notes = about(lessons_of(plan, EVERY), "Strength").notes
    said = next(note for note in notes if note.startswith("Stripped at 0.2 MPa"))
    assert said.startswith("Stripped at 0.2 MPa: no cubes so far told its age; with these it is ")
    assert said.endswith(" h at 20 degC.")


ROW = CubeRow("light", 3, 604, 7, 168, 0.62, START.date(), "3a")
WARM = replace(ROW, equivalent_age_h=331.26)


@pytest.mark.parametrize(
    ("table", "line"),
    [
        ("dry_density_kg_m3,age_d,strength_mpa\n500,7,0.5\n", "604,7,0.62"),
        ("age_d,mix,strength_mpa,dry_density_kg_m3,note\n7,x,0.5,500,\n", "7,light,0.62,604,marked 3a"),
        ("dry_density_lb_ft3;age_h;strength_psi\n31;168;70\n", "37.71;168;89.92"),
        ("Mix,Dry density (kg/m3),Age (d),Strength (MPa)\nx,500,7,0.5\n", "light,604,7,0.62"),
        (
            "made,tested,dry_density_kg_m3,strength_mpa\n2027-01-01,2027-01-08,500,0.5\n",
            "2027-04-05,2027-04-12,604,0.62",
        ),
    ],
)
@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("whole", [True, False])
def test_rows_go_below_in_the_columns_units_and_line_ends_that_are_there(
    tmp_path: Path, table: str, line: str, end: str, whole: bool
) -> None:
    path = tmp_path / "cubes.csv"
    old = (table if whole else table.rstrip("\n")).replace("\n", end).encode()
    path.write_bytes(old)
    content, lines = added(path, [ROW])
    assert lines == (line,)
    assert content == old + ("" if whole else end).encode() + f"{line}{end}".encode()
    path.write_bytes(content)
    before, after = read_cubes(path).tests
    assert before.strength_mpa == pytest.approx(0.5, rel=0.05)
    assert after.strength_mpa == pytest.approx(ROW.strength_mpa, rel=1e-3)
    assert after.dry_density_kg_m3 == pytest.approx(ROW.dry_density_kg_m3, rel=1e-3)
    assert after.age_h == pytest.approx(7 * 24)


def test_a_new_table_reads_back(tmp_path: Path) -> None:
    path = tmp_path / "cubes.csv"
    path.write_bytes(new_table([ROW])[0])
    (cube,) = read_cubes(path).tests
    assert (cube.mix, cube.strength_mpa, cube.dry_density_kg_m3, cube.age_h) == ("light", 0.62, 604, 168)


def test_a_table_of_hours_at_20_degc_alone_takes_them(tmp_path: Path) -> None:
    path = tmp_path / "cubes.csv"
    path.write_text("dry_density_kg_m3,equivalent_age_h,strength_mpa\n500,150,0.5\n")
    content, lines = added(path, [WARM])
    assert lines == ("604,331.3,0.62",)
    path.write_bytes(content)
    assert not_among([WARM], read_cubes(path)) == ()


def test_cubes_of_a_warm_yard_are_written_as_old_as_they_are_reckoned(tmp_path: Path) -> None:
    path = tmp_path / "cubes.csv"
    path.write_bytes(new_table([WARM])[0])
    (cube,) = read_cubes(path).tests
    assert (cube.age_h, cube.equivalent_age_h) == (168, 331.3)
    assert not_among([WARM], read_cubes(path)) == ()


def test_a_table_without_room_for_warmth_takes_no_cube_for_younger_than_it_is(tmp_path: Path) -> None:
    path = tmp_path / "cubes.csv"
    path.write_text("dry_density_kg_m3,age_d,strength_mpa\n500,7,0.5\n")
    with pytest.raises(BadInput, match=r"no column for hours at 20 degC: a cube 7 d old had 331\.3 h") as fault:
        added(path, [ROW, WARM])
    assert fault.value.todo == "Add equivalent_age_h, or type the rows in by hand."


def test_dates_alone_have_no_room_for_an_age_that_is_no_whole_days(tmp_path: Path) -> None:
    path = tmp_path / "cubes.csv"
    path.write_text("made,tested,dry_density_kg_m3,strength_mpa\n2027-01-01,2027-01-08,500,0.5\n")
    with pytest.raises(BadInput, match=r"no column for the age of a cube 1\.4 d old") as fault:
        added(path, [ROW, replace(ROW, age_d=1.4)])
    assert fault.value.todo == "Add age_d, or type the rows in by hand."


@pytest.mark.parametrize("strength_mpa", [0.0023456, 0.062345, 0.62345, 12.345])
def test_a_strength_is_written_so_that_it_is_known_again(tmp_path: Path, strength_mpa: float) -> None:
    path = tmp_path / "cubes.csv"
    row = replace(ROW, strength_mpa=strength_mpa)
    path.write_bytes(new_table([row])[0])
    assert not_among([row], read_cubes(path)) == ()


def test_without_a_table_of_cubes_it_is_told_to_name_the_new_one(demo: AsPlanned, about: About) -> None:
    assert NEW_FILE in about(lessons_of(demo, SIX), "Strength").notes
    curing = demo.site.curing.model_copy(update={"cubes": read_cubes(CUBES)})
    with_table = replace(demo, site=demo.site.model_copy(update={"curing": curing}))
    assert NEW_FILE not in about(lessons_of(with_table, SIX), "Strength").notes
