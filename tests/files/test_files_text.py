"""Files that are missing, empty, binary or in another encoding."""

from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.files.text import References, did_you_mean, read_text


def test_a_byte_order_mark_is_left_out(tmp_path: Path):
    file = tmp_path / "a.csv"
    file.write_bytes("\ufeffmark".encode())
    assert read_text(file) == "mark"


def test_a_missing_file_is_said_to_be_missing(tmp_path: Path):
    with pytest.raises(BadInput, match="there is no such file"):
        read_text(tmp_path / "no.yaml")


def test_a_folder_is_no_file(tmp_path: Path):
    with pytest.raises(BadInput, match=r"^[^:]*: is a folder, not a file\n[^\n]*$"):
        read_text(tmp_path)


def test_a_name_that_no_system_takes_is_refused():
    with pytest.raises(BadInput, match="cannot be opened"):
        read_text(Path("a\0b"))


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "is empty"),
        (b" \n\n", "is empty"),
        (b"\x00\x01\x02", "is not a text file"),
        ("caf\u00e9".encode("utf-16"), "is saved as UTF-16"),
        (b"mark\ncaf\xe9\n", "byte 0xe9 is not UTF-8"),
    ],
)
def test_what_is_not_utf_8_text_is_refused(tmp_path: Path, content: bytes, said: str):
    file = tmp_path / "a.csv"
    file.write_bytes(content)
    with pytest.raises(BadInput, match=said):
        read_text(file)


def test_a_wrong_byte_is_found_by_its_line(tmp_path: Path):
    file = tmp_path / "a.csv"
    file.write_bytes(b"mark\ncaf\xe9\n")
    with pytest.raises(BadInput) as caught:
        read_text(file)
    assert caught.value.line == 2


def test_a_near_word_is_offered_and_else_all_of_them():
    assert did_you_mean("coarse", ["course", "count"]) == "Did you mean course?"
    assert did_you_mean("zzz", ["course", "count"]) == "Known here: count, course."


def test_a_reference_lies_beside_the_file_that_names_it(tmp_path: Path):
    (tmp_path / "a.csv").touch()
    references = References(tmp_path, {})
    assert references.find("a.csv") == tmp_path / "a.csv"
    assert references.found == {"a.csv": tmp_path / "a.csv"}


def test_a_reference_may_have_been_moved(tmp_path: Path):
    (tmp_path / "copy.csv").touch()
    assert References(tmp_path, {"lists/a.csv": tmp_path / "copy.csv"}).find("lists/a.csv") == tmp_path / "copy.csv"


def test_a_misspelt_reference_is_answered_with_the_file_that_is_there(tmp_path: Path):
    (tmp_path / "weather.csv").touch()
    with pytest.raises(BadInput, match=r"no file wether\.csv") as caught:
        References(tmp_path, {}).find("wether.csv")
    assert caught.value.todo == "Did you mean weather.csv?"


def test_a_file_that_is_alike_in_its_ending_alone_is_not_meant(tmp_path: Path):
    (tmp_path / "one.csv").touch()
    with pytest.raises(BadInput) as caught:
        References(tmp_path, {}).find("nothere.csv")
    assert caught.value.todo == "Put it beside the file that names it, or correct the name."
