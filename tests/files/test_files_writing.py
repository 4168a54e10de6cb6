"""Writing all or nothing."""

import errno
from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.files.writing import check_place, whole_folder, write_file, write_files

FullDisk = Callable[[int], AbstractContextManager[None]]


def write_plan(folder: Path, text: str, *, replace: bool = False) -> None:
    with whole_folder(folder, replace=replace, mark="plan.json") as new:
        (new / "plan.json").write_text(text)


def write_half(folder: Path) -> None:
    with whole_folder(folder, mark="plan.json") as new:
        (new / "half").write_text("x")
        raise KeyboardInterrupt


def names(folder: Path) -> list[str]:
    return sorted(entry.name for entry in folder.iterdir())


def test_a_folder_appears_whole(tmp_path: Path):
    write_plan(tmp_path / "deep" / "plan", "new")
    assert names(tmp_path / "deep") == ["plan"]
    assert (tmp_path / "deep" / "plan" / "plan.json").read_text() == "new"


def test_an_error_while_writing_leaves_nothing(tmp_path: Path):
    with pytest.raises(KeyboardInterrupt):
        write_half(tmp_path / "plan")
    assert names(tmp_path) == []


def test_a_folder_that_is_there_is_refused(tmp_path: Path):
    write_plan(tmp_path / "plan", "old")
    with pytest.raises(BadInput, match="exists already"):
        write_plan(tmp_path / "plan", "new")
    assert (tmp_path / "plan" / "plan.json").read_text() == "old"


def test_an_empty_folder_is_filled(tmp_path: Path):
    (tmp_path / "plan").mkdir()
    write_plan(tmp_path / "plan", "new")
    assert names(tmp_path / "plan") == ["plan.json"]


def test_a_folder_is_swapped_when_asked_for(tmp_path: Path):
    write_plan(tmp_path / "plan", "old")
    write_plan(tmp_path / "plan", "new", replace=True)
    assert (tmp_path / "plan" / "plan.json").read_text() == "new"
    assert names(tmp_path) == ["plan"]


def test_a_folder_that_is_not_ours_is_never_replaced(tmp_path: Path):
    (tmp_path / "plan").mkdir()
    (tmp_path / "plan" / "letters.txt").write_text("dear")
    with pytest.raises(BadInput, match=r"holds no plan\.json"):
        write_plan(tmp_path / "plan", "new", replace=True)
    assert (tmp_path / "plan" / "letters.txt").read_text() == "dear"


def test_a_folder_whose_mark_lacks_our_line_is_never_replaced(tmp_path: Path):
    (tmp_path / "index.html").write_text("<h1>My garden</h1>\n")
    with pytest.raises(BadInput, match=r"its index\.html is none of ours"):
        check_place(tmp_path, replace=True, mark="index.html", line="<!-- blockrun -->")
    (tmp_path / "index.html").write_text("<h1>Walls</h1>\n<!-- blockrun -->\n")
    check_place(tmp_path, replace=True, mark="index.html", line="<!-- blockrun -->")


def test_an_error_while_replacing_keeps_the_old_folder(tmp_path: Path):
    write_plan(tmp_path / "plan", "old")
    with pytest.raises(ValueError, match="bug"), whole_folder(tmp_path / "plan", replace=True, mark="plan.json"):
        raise ValueError("bug")
    assert (tmp_path / "plan" / "plan.json").read_text() == "old"
    assert names(tmp_path) == ["plan"]


def test_the_old_folder_comes_back_when_the_last_step_fails(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    write_plan(tmp_path / "plan", "old")
    rename = Path.rename

    def fail_for_new(path: Path, target: Path) -> Path:
        if ".new-" in path.name:
            raise OSError(28, "No space left on device")
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", fail_for_new)
    with pytest.raises(BadInput, match="No space left on device"):
        write_plan(tmp_path / "plan", "new", replace=True)
    assert (tmp_path / "plan" / "plan.json").read_text() == "old"
    assert names(tmp_path) == ["plan"]


def test_a_file_in_the_way_of_a_folder_is_refused(tmp_path: Path):
    (tmp_path / "plan").write_text("x")
    with pytest.raises(BadInput, match="is a file"):
        write_plan(tmp_path / "plan", "new", replace=True)


def test_a_folder_below_a_file_cannot_be_written(tmp_path: Path):
    (tmp_path / "file").write_text("x")
    with pytest.raises(BadInput, match="is a file, and a folder is to be written in it"):
        write_plan(tmp_path / "file" / "plan", "new")


def test_a_place_that_may_not_be_looked_at_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    def locked(path: Path) -> bool:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "exists", locked)
    with pytest.raises(BadInput, match="Permission denied"):
        check_place(tmp_path / "plan", replace=False, mark="plan.json")


def test_a_folder_that_may_not_be_changed_is_refused_before_anything_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr("os.access", lambda path, mode: path != tmp_path)
    with pytest.raises(BadInput, match="may not write in this folder"):
        check_place(tmp_path / "deep" / "plan", replace=False, mark="plan.json")


def test_what_somebody_put_beside_a_plan_is_kept_when_it_is_replaced(tmp_path: Path):
    write_plan(tmp_path / "plan", "old")
    (tmp_path / "plan" / "notes.txt").write_text("dear")
    (tmp_path / "plan" / "photos").mkdir()
    write_plan(tmp_path / "plan", "new", replace=True)
    assert names(tmp_path / "plan") == ["notes.txt", "photos", "plan.json"]
    assert (tmp_path / "plan" / "plan.json").read_text() == "new"


def test_a_link_to_a_folder_stays_a_link_when_its_folder_is_swapped(tmp_path: Path):
    write_plan(tmp_path / "real", "old")
    (tmp_path / "link").symlink_to(tmp_path / "real")
    write_plan(tmp_path / "link", "new", replace=True)
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real" / "plan.json").read_text() == "new"


def test_a_file_is_written_whole_and_refused_when_there(tmp_path: Path):
    write_file(tmp_path / "a.txt", "one")
    with pytest.raises(BadInput, match="exists already"):
        write_file(tmp_path / "a.txt", "two")
    write_file(tmp_path / "a.txt", b"three", replace=True)
    assert (tmp_path / "a.txt").read_text() == "three"
    assert names(tmp_path) == ["a.txt"]


def test_of_several_files_all_are_as_they_were_where_the_last_cannot_take_its_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    old, fresh, held = (tmp_path / name for name in ("old.csv", "fresh.csv", "held.csv"))
    old.write_text("1", encoding="utf-8")
    held.write_text("2", encoding="utf-8")
    rename = Path.replace

    def replace(self: Path, target: Path) -> Path:
        if target == held:
            raise PermissionError(13, "it is open elsewhere")
        return rename(self, target)

    monkeypatch.setattr(Path, "replace", replace)
    with pytest.raises(BadInput, match="it is open elsewhere"):
        write_files({old: "3", fresh: "4", held: "5"}, replace=True)
    assert {path.name: path.read_text(encoding="utf-8") for path in tmp_path.iterdir()} == {
        "old.csv": "1",
        "held.csv": "2",
    }


def test_a_folder_is_never_written_as_a_file(tmp_path: Path):
    with pytest.raises(BadInput, match="is a folder"):
        write_file(tmp_path, "x", replace=True)


# a full disk: the system takes so many bytes of a file, and no more


def test_a_file_that_the_disk_has_no_room_for_leaves_the_old_one_and_no_half_one(tmp_path: Path, full_disk: FullDisk):
    write_file(tmp_path / "a.txt", "old")
    with full_disk(1000), pytest.raises(BadInput, match="cannot be written: File too large") as caught:
        write_file(tmp_path / "a.txt", "new" * 1000, replace=True)
    assert caught.value.todo == "Make room on the disk, or choose another place."
    assert (tmp_path / "a.txt").read_text() == "old"
    assert names(tmp_path) == ["a.txt"]


def test_a_folder_that_the_disk_has_no_room_for_leaves_nothing(tmp_path: Path, full_disk: FullDisk):
    with full_disk(1000), pytest.raises(BadInput, match="cannot be written: File too large"):
        write_plan(tmp_path / "plan", "new" * 1000)
    assert names(tmp_path) == []


@pytest.mark.parametrize("said", [errno.ENOSPC, errno.EIO])
def test_what_the_disk_loses_after_taking_it_is_not_called_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, said: int
):
    def lose(handle: int) -> None:
        raise OSError(said, "lost")

    monkeypatch.setattr("os.fsync", lose)
    with pytest.raises(BadInput, match="cannot be written: lost"):
        write_file(tmp_path / "a.txt", "new")
    assert names(tmp_path) == []


def test_a_disk_that_cannot_be_told_to_hurry_is_written_to_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    def refuse(handle: int) -> None:
        raise OSError(errno.EINVAL, "Invalid argument")

    monkeypatch.setattr("os.fsync", refuse)
    write_file(tmp_path / "a.txt", "new")
    assert (tmp_path / "a.txt").read_text() == "new"
