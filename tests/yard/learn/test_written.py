"""What is proposed goes into the user's own file: those values and nothing else, read back first, the old file kept."""

from __future__ import annotations

import difflib
import shutil
from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.planner.learned import Change, CubeRow, Finding, Lessons
from blockrun.site import load_site
from blockrun.yard.learn import written
from blockrun.yard.learn.cube_rows import added
from blockrun.yard.learn.written import Chosen, chosen, drafts, write

ROOT = Path(__file__).parents[3]
LEFT = Change("left_behind", ("mixers", ("name", "drum"), "left_behind"), "volume", 4, 9.5)
POUR = Change("pour_time", ("mixers", ("name", "drum"), "pour_time"), "time", 10, 14)
STRIP = Change("strip_time", ("moulds", ("kind", "gang-4"), "strip_time"), "time", 12, 16)
FOAM = Change("foam_density", ("foam_generator", "foam_density"), "density", 95, 98)
LATER = Change("strip_at", ("curing", "strip_at"), "time", 1440, 1620)
SOONER = Change("strip_at", ("curing", "strip_at"), "time", 1440, 1320, by_name=True)
ROW = CubeRow("light", 3, 604, 7, 168, 0.62, date(2027, 4, 12))


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """The site of the demo, as its user has it."""
    folder = tmp_path / "yard"
    shutil.copytree(ROOT / "examples" / "demo", folder)
    return folder / "site.yaml"


def changed(old: str, new: str) -> list[str]:
    lines = difflib.unified_diff(old.splitlines(), new.splitlines(), lineterm="", n=0)
    return [line for line in lines if line[:1] in "+-" and line[:3] not in ("+++", "---")]


def test_only_the_values_change_and_the_old_file_is_kept(site: Path) -> None:
    old = site.read_text()
    (file,) = write(drafts(site, Chosen((LEFT, POUR, STRIP, FOAM, LATER), ())))
    assert [line.partition("#")[0].strip("+- ") for line in changed(old, site.read_text())] == [
        "pour_time: 10 min",
        "pour_time: 14 min",
        "left_behind: 4 L",
        "left_behind: 9.5 L",
        "foam_generator: {rate: 60 L/min, foam_density: 95 g/L, agent_dilution: 1:40}",
        "foam_generator: {rate: 60 L/min, foam_density: 98 g/L, agent_dilution: 1:40}",
        "strip_time: 12 min",
        "strip_time: 16 min",
        "strip_at: 24 h",
        "strip_at: 27 h",
    ]
    assert file.kept == site.with_name("site-before.yaml")
    assert file.kept.read_text() == old
    drum = load_site(site).mixers[0]
    assert (drum.left_behind_l, drum.pour_time_min, load_site(site).curing.strip_at_h) == (9.5, 14, 27)


def test_an_old_file_that_was_kept_is_kept_on(site: Path) -> None:
    site.with_name("site-before.yaml").write_text("mine")
    (file,) = write(drafts(site, Chosen((LEFT,), ())))
    assert file.kept == site.with_name("site-before-2.yaml")
    assert site.with_name("site-before.yaml").read_text() == "mine"


def test_drafts_write_nothing(site: Path) -> None:
    before = {path: path.read_bytes() for path in site.parent.iterdir()}
    drafts(site, Chosen((LEFT, POUR), (ROW,)))
    assert {path: path.read_bytes() for path in site.parent.iterdir()} == before


def test_a_file_that_says_something_else_than_the_plan_is_refused_at_its_place(site: Path) -> None:
    site.write_text(site.read_text().replace("left_behind: 4 L", "left_behind: 6 L"))
    with pytest.raises(BadInput) as fault:
        drafts(site, Chosen((LEFT, POUR), ()))
    assert fault.value.what == "left_behind is 6 L here, and the plan was made with 4 L"
    assert fault.value.line is not None
    site.write_text(site.read_text().replace("left_behind: 6 L", "left_behind: 2 gal"))
    with pytest.raises(BadInput, match=r"left_behind is 2 gal here, and the plan was made with 1.057 gal"):
        drafts(site, Chosen((LEFT, POUR), ()))


def test_other_units_of_the_same_value_are_kept(site: Path) -> None:
    site.write_text(site.read_text().replace("left_behind: 4 L", "left_behind: '4000 mL'").replace("24 h", "1 d"))
    write(drafts(site, Chosen((LEFT, LATER), ())))
    assert "left_behind: '9500 mL'" in site.read_text()
    assert "strip_at: 1.125 d" in site.read_text()


def test_a_site_that_would_not_load_is_not_written(site: Path) -> None:
    old = site.read_bytes()
    too_long = Change("left_behind", LEFT.where, "volume", 4, 2e6)
    with pytest.raises(BadInput, match="the site would not load"):
        drafts(site, Chosen((too_long,), ()))
    assert site.read_bytes() == old


def test_a_full_disk_leaves_all_as_it_was(site: Path, full_disk: Callable[[int], AbstractContextManager[None]]) -> None:
    before = {path: path.read_bytes() for path in site.parent.iterdir()}
    made = drafts(site, Chosen((LEFT,), (ROW,)))
    with full_disk(20), pytest.raises(BadInput, match="cannot be written"):
        write(made)
    assert {path: path.read_bytes() for path in site.parent.iterdir()} == before


@pytest.fixture
def cubes(site: Path) -> Path:
    """A table of cubes that the site names."""
    site.write_text(site.read_text().replace("  strip_at: 24 h", "  cubes: crushed.csv\n  strip_at: 24 h"))
    return Path(shutil.copy(ROOT / "configs" / "cubes.csv", site.with_name("crushed.csv")))


def test_cubes_go_into_the_table_that_the_site_names(site: Path, cubes: Path) -> None:
    old = cubes.read_text()
    table, file = write(drafts(site, Chosen((POUR,), (ROW,))))
    assert (table.path, table.kept) == (cubes, site.with_name("crushed-before.csv"))
    assert cubes.read_text().startswith(old)
    found = load_site(site).curing.cubes
    assert found is not None
    assert found.tests[-1].strength_mpa == 0.62
    assert file.path == site
    assert table.lines[0].number == old.count("\n") + 1


def test_cubes_that_are_in_the_table_already_are_not_added_again(site: Path, cubes: Path) -> None:
    write(drafts(site, Chosen((), (ROW,))))
    assert drafts(site, Chosen((), (ROW,))) == []
    (table,) = drafts(site, Chosen((), (ROW, replace(ROW, age_d=28))))
    assert [line.after for line in table.lines] == ["light,2027-03-15,28,604,0.62,"]


def test_lines_are_counted_with_blank_ones(site: Path, cubes: Path) -> None:
    old = cubes.read_text()
    cubes.write_text(old + "\n\n")
    (table,) = drafts(site, Chosen((), (ROW,)))
    assert table.lines[0].number == old.count("\n") + 3


def test_rows_that_would_be_read_otherwise_are_not_written(
    site: Path, cubes: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(
        written, "added", lambda path, rows: added(path, [replace(row, age_d=3, equivalent_age_h=72) for row in rows])
    )
    with pytest.raises(BadInput, match="a cube of 2027-04-12 would not be read as it was crushed"):
        drafts(site, Chosen((), (ROW,)))


def test_no_room_for_the_second_file_leaves_the_first_as_it_was(
    site: Path, cubes: Path, full_disk: Callable[[int], AbstractContextManager[None]]
) -> None:
    old = cubes.read_bytes()
    made = drafts(site, Chosen((POUR,), (ROW,)))
    assert len(old) + 100 < len(site.read_bytes())
    with full_disk(len(old) + 100), pytest.raises(BadInput, match="cannot be written"):
        write(made)
    assert cubes.read_bytes() == old
    assert sorted(path.name for path in site.parent.glob("*crushed*")) == ["crushed.csv"]


def test_broken_off_between_two_files_the_same_words_again_write_the_rest(
    site: Path, cubes: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    proposed, replaced = Chosen((POUR,), (ROW,)), Path.replace

    def broken_off(new: Path, place: Path) -> Path:
        if place == site.resolve():
            raise KeyboardInterrupt
        return replaced(new, place)

    old, made = site.read_text(), drafts(site, proposed)
    with monkeypatch.context() as patch:
        patch.setattr(Path, "replace", broken_off)
        with pytest.raises(KeyboardInterrupt):
            write(made)
    assert site.read_text() == old
    (rest,) = write(drafts(site, proposed))
    assert rest.path == site
    assert load_site(site).mixers[0].pour_time_min == 14
    assert cubes.read_text().count("604") == 1


def test_without_a_table_a_new_one_is_written_beside_the_site(site: Path) -> None:
    (table,) = write(drafts(site, Chosen((), (ROW,))))
    assert (table.path, table.kept) == (site.with_name("cubes.csv"), None)
    with pytest.raises(BadInput, match="exists already, and the site does not name it"):
        drafts(site, Chosen((), (ROW,)))


def test_all_is_chosen_but_what_must_be_named() -> None:
    lessons = Lessons(1, (), (ROW,))
    assert chosen(lessons, []).cubes == (ROW,)
    assert chosen(lessons, ["pour_time"]).cubes == ()
    assert chosen(lessons, ["cubes"]).cubes == (ROW,)
    with pytest.raises(BadInput, match="nothing is learnt of pour_tim"):
        chosen(lessons, ["pour_tim"])


def test_an_earlier_strip_is_written_only_by_name() -> None:
    lessons = Lessons(1, (Finding("", "", "", "", SOONER), Finding("", "", "", "", POUR)))
    assert chosen(lessons, []).changes == (POUR,)
    assert chosen(lessons, ["strip_at"]).changes == (SOONER,)
