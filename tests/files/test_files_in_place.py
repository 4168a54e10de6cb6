"""New files that come into a folder in use: all or none, wherever it is broken off, and nothing else is touched."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.files import in_place
from blockrun.files.in_place import COMING, NEW, finish, read_whole
from blockrun.files.writing import check_place, whole_folder
from tests.files.killed import before_each_step, begun, ended, killed_at, killed_at_each_step

MARK = "plan.json"
OLD = {"plan.json": "old", "casts.csv": "old casts", "inputs/site.yaml": "old site", "inputs/old.csv": "old list"}
NEW_ONES = {"plan.json": "new", "casts.csv": "new casts", "inputs/site.yaml": "new site", "inputs/new.csv": "new list"}
OTHERS = {"journal.sqlite": "entries", "notes.txt": "dear", "inputs/remark.txt": "mine", "earlier/1/plan.json": "first"}


def put(folder: Path, files: dict[str, str]) -> None:
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text)


def come(place: Path) -> None:
    """The new files come in place of the old."""
    with whole_folder(place, replace=True, mark=MARK, ours=lambda _: OLD) as folder:
        put(folder, NEW_ONES)


def found(folder: Path) -> dict[str, str]:
    return {str(path.relative_to(folder)): path.read_text() for path in folder.rglob("*") if path.is_file()}


def settled(folder: Path) -> dict[str, str]:
    """What a folder holds once somebody has read it."""
    finish(folder)
    return {name: text for name, text in found(folder).items() if not name.startswith(NEW)}


@pytest.fixture
def used(tmp_path: Path) -> Callable[[int], Path]:
    """Makes folders with files of ours and of others."""

    def make(number: int = 0) -> Path:
        put(tmp_path / str(number), OLD | OTHERS)
        return tmp_path / str(number)

    return make


def test_the_new_files_come_the_old_ones_go_and_all_else_stays(used: Callable[[], Path]) -> None:
    folder = used()
    come(folder)
    assert found(folder) == NEW_ONES | OTHERS
    assert list(folder.parent.iterdir()) == [folder]


def test_what_is_of_others_is_the_same_file_as_before(used: Callable[[], Path]) -> None:
    folder = used()
    before = {name: (folder / name).stat().st_ino for name in OTHERS}
    come(folder)
    assert {name: (folder / name).stat().st_ino for name in OTHERS} == before


def test_wherever_it_is_killed_all_the_old_ones_or_all_the_new_ones_are_there(used: Callable[[int], Path]) -> None:
    seen = [settled(folder) for folder in killed_at_each_step(used, come)]
    old, new = OLD | OTHERS, NEW_ONES | OTHERS
    turned = seen.index(new)
    assert turned > 8, "killed while the new files were written"
    assert len(seen) - turned > 8, "killed while they came in"
    assert seen == [old] * turned + [new] * (len(seen) - turned)


def test_wherever_it_is_killed_what_is_of_others_never_leaves_its_place(used: Callable[[int], Path]) -> None:
    for folder in killed_at_each_step(used, come):
        assert {name: found(folder).get(name) for name in OTHERS} == OTHERS


def test_after_a_kill_the_next_one_comes_in_whole_and_leaves_nothing_behind(used: Callable[[int], Path]) -> None:
    for folder in killed_at_each_step(used, come):
        come(folder)
        assert found(folder) == NEW_ONES | OTHERS
        assert not [path for path in folder.iterdir() if path.name.startswith(".")]


def test_whoever_finishes_may_be_killed_at_every_step_too(used: Callable[[int], Path], tmp_path: Path) -> None:
    folder = used(0)
    committed = next(n for n in range(100) if killed_at(n, lambda: come(folder)) and (folder / COMING).exists())
    assert committed > 8
    begun = shutil.copytree(folder, tmp_path / "begun")
    seen = [
        settled(half)
        for half in killed_at_each_step(lambda n: Path(shutil.copytree(begun, tmp_path / f"half-{n}")), finish)
    ]
    assert len(seen) > 8
    assert seen == [NEW_ONES | OTHERS] * len(seen)


def test_wherever_the_disk_fails_all_the_old_ones_or_all_the_new_ones_are_there(used: Callable[[int], Path]) -> None:
    said = set()
    for number in range(1000):
        folder, fail = used(number), Failing(number)
        with pytest.MonkeyPatch.context() as patch:
            before_each_step(patch, fail)
            try:
                come(folder)
            except BadInput as fault:
                said.add((fault.what, settled(folder) == NEW_ONES | OTHERS))
                assert found(folder) in (OLD | OTHERS, NEW_ONES | OTHERS)
        if not fail.failed:
            break
    assert said == {
        ("cannot be written: No space left on device", False),
        ("not all new files are in their places: No space left on device", True),
    }


class Failing:
    """A disk that is full for one step, and only that."""

    def __init__(self, number: int) -> None:
        self.number, self.failed = number, False

    def __call__(self, step: int) -> None:
        if step == self.number:
            self.failed = True
            raise OSError(28, "No space left on device")


def test_a_failure_once_the_new_ones_count_says_that_the_rest_comes(
    used: Callable[[], Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = used()

    def fail(path: Path, target: Path) -> Path:
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "replace", fail)
        with pytest.raises(BadInput) as caught:
            come(folder)
    assert caught.value.what == "not all new files are in their places: Permission denied"
    assert "the next command on this folder brings in the rest" in str(caught.value)
    check_place(folder, replace=True, mark=MARK)
    assert found(folder) == NEW_ONES | OTHERS


def test_a_disk_that_fills_up_leaves_the_old_ones_and_nothing_else(
    used: Callable[[], Path], full_disk: Callable[[int], AbstractContextManager[None]]
) -> None:
    folder = used()
    with full_disk(4), pytest.raises(BadInput, match="File too large"):
        come(folder)
    assert found(folder) == OLD | OTHERS
    assert not [path for path in folder.iterdir() if path.name.startswith(".")]


def test_somebody_elses_folder_in_the_way_of_a_file_is_told_before_anything_comes(used: Callable[[], Path]) -> None:
    folder = used()
    put(folder, {"inputs/new.csv/letter.txt": "dear"})
    with pytest.raises(BadInput, match="is a folder in the way of a file"):
        come(folder)
    assert found(folder) == OLD | OTHERS | {"inputs/new.csv/letter.txt": "dear"}


@pytest.mark.parametrize("link", [False, True])
def test_what_is_in_the_way_of_a_folder_is_told_before_anything_comes(tmp_path: Path, link: bool) -> None:
    folder = tmp_path / "plan"
    put(folder, {"plan.json": "old"})
    put(tmp_path / "theirs", {"a.txt": "dear"})
    if link:
        (folder / "inputs").symlink_to(tmp_path / "theirs")
    else:
        (folder / "inputs").write_text("dear")
    with pytest.raises(BadInput, match="is in the way of a folder"):
        come(folder)
    assert (folder / "plan.json").read_text() == "old"
    assert found(tmp_path / "theirs") == {"a.txt": "dear"}


def test_an_inner_folder_that_may_not_be_changed_is_told_before_anything_comes(
    used: Callable[[], Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = used()
    monkeypatch.setattr("os.access", lambda path, mode: path != folder / "inputs")
    with pytest.raises(BadInput, match="may not write in this folder"):
        come(folder)
    assert found(folder) == OLD | OTHERS


def test_an_empty_folder_in_which_somebody_was_killed_is_still_empty(tmp_path: Path) -> None:
    tmp_path.joinpath("plan").mkdir()
    assert killed_at(3, lambda: come(tmp_path / "plan"))
    assert list((tmp_path / "plan").iterdir()) != []
    with whole_folder(tmp_path / "plan", mark=MARK) as folder:
        put(folder, NEW_ONES)
    assert found(tmp_path / "plan") == NEW_ONES


def test_two_at_once_come_one_after_the_other_and_are_read_whole(used: Callable[[], Path]) -> None:
    folder = used()

    def come_often() -> None:
        for number in range(15):
            with whole_folder(folder, replace=True, mark=MARK) as new:
                put(new, dict.fromkeys(OLD, f"{os.getpid()} {number}"))

    at_it, seen = [begun(come_often), begun(come_often)], set()
    while at_it:
        at_it = [child for child in at_it if not ended(child)]
        seen.add(read_whole(folder, MARK, lambda: tuple((folder / name).read_text() for name in OLD)))
    assert len(seen) > 1
    assert [texts for texts in seen if len(set(texts)) > 1 and texts != tuple(OLD.values())] == []
    assert set(found(folder)) == set(OLD) | set(OTHERS)


def test_what_was_read_while_others_came_is_read_again(used: Callable[[], Path]) -> None:
    folder, reads = used(), []

    def read() -> str:
        reads.append((folder / "casts.csv").read_text())
        if len(reads) == 1:
            come(folder)
        return reads[-1] + (folder / MARK).read_text()

    assert read_whole(folder, MARK, read) == "new castsnew"
    assert reads == ["old casts", "new casts"]


def test_what_was_broken_off_is_brought_in_before_anything_is_read(used: Callable[[], Path]) -> None:
    folder = used()
    put(folder / COMING, {"casts.csv": "new casts"})
    assert read_whole(folder, MARK, lambda: (folder / "casts.csv").read_text()) == "new casts"
    assert found(folder) == OLD | OTHERS | {"casts.csv": "new casts"}


def test_others_that_are_half_in_when_reading_begins_are_waited_for(
    used: Callable[[], Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    folder, which, looks = used(), in_place._which, []

    def half_in(file: Path) -> tuple[int, ...] | None:
        if not looks:
            put(folder, {"plan.json": "new"})
            put(folder / COMING, {"casts.csv": "new casts"})
        looks.append(file)
        return which(file)

    def read() -> str:
        casts = (folder / "casts.csv").read_text()
        finish(folder)  # as the others do
        return casts + (folder / MARK).read_text()

    monkeypatch.setattr(in_place, "_which", half_in)
    assert read_whole(folder, MARK, read) == "new castsnew"


def test_a_fault_found_while_others_came_is_no_fault(used: Callable[[], Path]) -> None:
    folder, reads = used(), []

    def read() -> str:
        reads.append(1)
        if len(reads) == 1:
            come(folder)
            raise BadInput("half old, half new", "")
        return (folder / MARK).read_text()

    assert read_whole(folder, MARK, read) == "new"


def test_a_fault_that_stays_is_told(used: Callable[[], Path]) -> None:
    def read() -> str:
        raise BadInput("is torn", "")

    with pytest.raises(BadInput, match="is torn"):
        read_whole(used(), MARK, read)
