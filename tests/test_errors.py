"""How errors print, gather and sort."""

import pickle
import subprocess
import sys

import pytest

from blockrun.errors import (
    BadInput,
    BadPlan,
    BlockrunError,
    JournalError,
    NoPlanInTime,
    NoPlanPossible,
    OutOfRange,
)


def test_an_error_prints_place_line_caret_and_what_to_do():
    error = BadInput(
        "least_volume is more than usable_volume",
        "Write a volume up to 220 L.",
        file="yard.yaml",
        line=12,
        column=19,
        text="    least_volume: 300 L",
    )
    assert str(error) == (
        "yard.yaml:12:19: least_volume is more than usable_volume\n"
        "    least_volume: 300 L\n"
        "                  ^\n"
        "  Write a volume up to 220 L."
    )


def test_an_error_without_a_place_prints_only_what_is_wrong():
    assert str(OutOfRange("the slurry is too dry")) == "the slurry is too dry"


def test_a_long_source_line_is_cut_around_the_caret():
    error = BadInput("too long", file="a.csv", line=1, column=501, text="x" * 500 + "Y" + "x" * 500)
    source, caret = str(error).splitlines()[1:3]
    assert len(source) <= 104
    assert source[caret.index("^")] == "Y"


def test_characters_that_do_not_print_are_shown_as_spaces():
    error = BadInput("odd", file="a.csv", line=1, column=3, text="a\x1b\tb")
    assert str(error).splitlines()[1] == "    a  b"


@pytest.mark.parametrize(
    ("kind", "code"),
    [(BadInput, 2), (OutOfRange, 2), (BadPlan, 2), (JournalError, 2), (NoPlanPossible, 3), (NoPlanInTime, 4)],
)
def test_each_error_has_its_exit_code(kind: type[BlockrunError], code: int):
    assert kind("x").exit_code == code


def test_gathered_faults_stand_by_file_and_place():
    faults = [BadInput(str(line), file="a", line=line, column=column) for line, column in [(3, 1), (1, 9), (1, 2)]]
    gathered = BadInput.of(faults)
    assert [(fault.line, fault.column) for fault in gathered.all()] == [(1, 2), (1, 9), (3, 1)]


def test_gathering_gathered_faults_keeps_each_once():
    inner = BadInput.of([BadInput("a", line=1), BadInput("b", line=2)])
    assert [fault.what for fault in BadInput.of([inner, BadInput("c", line=3)]).all()] == ["a", "b", "c"]


def test_at_most_ten_faults_are_printed_and_the_rest_counted():
    shown = str(BadInput.of([BadInput(f"fault {n}", line=n) for n in range(1, 13)]))
    assert shown.count("fault ") == 10
    assert shown.endswith("... and 2 more.")


def test_an_error_survives_pickling_with_its_fields():
    error = pickle.loads(pickle.dumps(BadInput("odd", "Mend it.", file="a.yaml", line=2, limit=5)))
    assert (error.what, error.todo, error.file, error.line, error.limit) == ("odd", "Mend it.", "a.yaml", 2, 5)


def test_importing_the_errors_loads_no_library():
    code = (
        "import sys, blockrun.errors; "
        "print([m for m in ('pandas', 'pint', 'pydantic', 'ortools', 'numpy', 'ruamel') if m in sys.modules])"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "[]\n"


LONG = BadInput(
    "least_volume is more than usable_volume, which is what the mixer can hold when the foam is in",
    "Write a volume up to 220 L, or correct the usable_volume.",
    file="a-folder-of-mine/yard.yaml",
    line=12,
    column=71,
    text="  - {name: drum, usable_volume: 220 L, slurry_time: 10 min, least_volume: 300 L, left_behind: 4 L, crew: 3}",
)


@pytest.mark.parametrize("width", [40, 60, 80])
def test_an_error_is_told_within_the_width_of_the_screen(width: int):
    assert max(map(len, LONG.told(width).splitlines())) <= width
    assert LONG.told(width).split()[-9:] == LONG.todo.split()[-9:]


@pytest.mark.parametrize("width", [20, 40, 60, 80, None])
@pytest.mark.parametrize("column", [3, 30, 71, 107])
def test_the_caret_points_at_the_same_character_however_narrow_the_screen(width: int | None, column: int):
    error = BadInput("odd", file="a", line=1, column=column, text=LONG.text)
    source, caret = error.told(width).splitlines()[1:]
    assert source[caret.index("^")] == LONG.text[column - 1]


def test_the_value_under_the_caret_can_be_read_at_40_columns():
    assert "least_volume: 300" in LONG.told(40)


def test_a_path_is_never_broken():
    error = BadInput("odd", file="a/very/long/path/to/a/yard/of/somebody/yard.yaml", line=1)
    assert error.told(30).splitlines()[0] == "a/very/long/path/to/a/yard/of/somebody/yard.yaml:1:"


def test_without_a_width_an_error_is_told_as_it_is_written():
    assert LONG.told() == str(LONG)
    assert str(LONG).splitlines()[0].endswith("when the foam is in")


def test_several_faults_are_told_within_the_width_too():
    shown = BadInput.of([BadInput("too much of it " * 5, line=n) for n in range(12)]).told(40)
    assert max(map(len, shown.splitlines())) <= 40
    assert shown.endswith("... and 2 more.")
