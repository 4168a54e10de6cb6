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
