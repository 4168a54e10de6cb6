"""YAML as text with places."""

from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.files.yaml import Document, read_yaml


def document(tmp_path: Path, text: str) -> Document:
    file = tmp_path / "a.yaml"
    file.write_text(text, encoding="utf-8")
    return read_yaml(file)


def refusal(tmp_path: Path, text: str) -> BadInput:
    with pytest.raises(BadInput) as caught:
        document(tmp_path, text)
    return caught.value


@pytest.mark.parametrize(
    "text",
    ["12:30", "1:40", "NO", "yes", "010", "1e3", "2027-04-05", "1/2", "0x1F", "1_000", ".inf", "9**9**9", "true"],
)
def test_plain_values_stay_the_text_of_the_file(tmp_path: Path, text: str):
    assert document(tmp_path, f"key: {text}\n").data == {"key": text}


def test_a_directive_for_an_older_yaml_changes_nothing(tmp_path: Path):
    assert document(tmp_path, "%YAML 1.1\n---\na: NO\nb: 1:40\n").data == {"a": "NO", "b": "1:40"}


@pytest.mark.parametrize("text", ["", "~", "null"])
def test_no_value_is_none(tmp_path: Path, text: str):
    assert document(tmp_path, f"key: {text}\n").data == {"key": None}


def test_a_quoted_null_is_text(tmp_path: Path):
    assert document(tmp_path, "key: 'null'\n").data == {"key": "null"}


def test_an_alias_repeats_what_it_names(tmp_path: Path):
    assert document(tmp_path, "a: &x [1]\nb: *x\n").data == {"a": ["1"], "b": ["1"]}


def test_a_doubled_key_is_refused_with_both_lines(tmp_path: Path):
    error = refusal(tmp_path, "a: 1\nb: 2\na: 3\n")
    assert (error.what, error.line, error.column) == ("a is written twice; first in line 1", 3, 1)


def test_all_doubled_keys_are_said_at_once(tmp_path: Path):
    assert len(refusal(tmp_path, "a: 1\na: 2\nb: {c: 1, c: 2}\n").all()) == 2


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a: [1\nb: 2\n", "a bracket is not closed, or a comma is missing"),
        ("a: b: c\n", "a second colon with a space after it"),
        ("a: *x\n", "a value starts with *"),
        ("a: 1\n---\nb: 2\n", "a second document starts here"),
        ("a: @b\n", "a sign that YAML keeps for itself"),
        ("a: & b\n", "a sign that YAML keeps for itself"),
        ("a: |b\n", "a sign that YAML keeps for itself"),
        ("a: {, b: 1}\n", "a value is missing here"),
        ("a: - b\n", "an item of a list starts in the line of its key"),
        ("a: \x07\n", "does not print"),
        ("- a\n- b\n", "does not start with a key"),
        ("plain\n", "does not start with a key"),
        ("# nothing\n", "holds nothing but comments"),
        ("? [a]\n: 1\n", "a key must be one word"),
        ("[" * 1000, "nested too deep"),
        ("a: &a [*a]\n", "nested too deep"),
    ],
)
def test_what_cannot_be_read_is_refused_in_words(tmp_path: Path, text: str, said: str):
    error = refusal(tmp_path, text)
    assert error.todo
    assert said in error.what


RIGHT = "this line starts too far right"
LEFT = "this line starts too far left"
MIXED = "a key and an item of a list stand in one column"
NO_KEY = "this line has no key with a colon and a space"


@pytest.mark.parametrize(
    ("text", "what", "place", "todo"),
    [
        ("a:\n  b: 1\n   c: 2\n", RIGHT, (3, 4), "Line it up with the line above: put 2 spaces before it."),
        ("a: 1\n b: 2\n", RIGHT, (2, 2), "Line it up with the line above: put no space before it."),
        ("a:\n  - x: 1\n\n     y: 2\n", RIGHT, (4, 6), "Line it up with the line above: put 4 spaces before it."),
        (
            "a:\n  b: 1\n  # note\n c: 2\n",
            LEFT,
            (4, 2),
            "Line it up with a line above: put 2 spaces before it, or 0 if it belongs further out.",
        ),
        (
            "a:\n  - x: 1\n   y: 2\n",
            LEFT,
            (3, 4),
            "Line it up with a line above: put 4 spaces before it, or 2 if it belongs further out.",
        ),
        ("a:\n  - x: 1\n  z: 3\n", MIXED, (3, 3), "Start every item of a list with -"),
        ("a: 1\n- b\n", MIXED, (2, 1), "Start every item of a list with -"),
        ("  a: 1\nb: 2\n", "this line starts further left than the first one", (2, 1), "Give both the same indent."),
        ("a:\t1\n", "a tab stands where a space is due", (1, 3), "Put a space there."),
        ("a:\n  b:\t1\n", "a tab stands where a space is due", (2, 5), "Put a space there."),
        ("a:\n\tb: 1\n", "a tab stands at the start of the line", (2, 1), "Indent with spaces"),
        ("a:1\nb: 2\n", NO_KEY, (1, 1), "Write it as key: value."),
        ("a: 1\nb\nc: 2\n", NO_KEY, (2, 1), "Write it as key: value."),
        ("a: 1\nb\n", NO_KEY, (2, 1), "Write it as key: value."),
        ("a: 'x\nb: 2\n", "a quote is opened here and never closed", (1, 4), "Close it."),
    ],
)
def test_a_line_out_of_line_is_said_in_words(tmp_path: Path, text: str, what: str, place: tuple[int, int], todo: str):
    error = refusal(tmp_path, text)
    assert (error.what, (error.line, error.column)) == (what, place)
    assert str(error.todo).startswith(todo)


def test_aliases_that_grow_without_end_are_refused(tmp_path: Path):
    lines = ["a0: &a0 [x]"] + [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 10)]
    assert refusal(tmp_path, "\n".join(lines)).what == "holds too many values"


@pytest.mark.parametrize(
    ("where", "place"),
    [
        (["a"], (1, 4)),  # a value on the line of its key
        (["b"], (2, 1)),  # a mapping on the lines below: its key
        (["b", "c"], (3, 6)),
        (["b", "e"], (2, 1)),  # not there: the key of what it belongs in
        (["d", 1], (4, 8)),
        (["d", 7], (4, 1)),
        (["f"], (5, 1)),  # no value: its key
        ([], (1, 1)),
    ],
)
def test_a_fault_is_placed_at_its_value_or_the_nearest_thing(
    tmp_path: Path, where: list[str | int], place: tuple[int, int]
):
    source = document(tmp_path, "a: 1\nb:\n  c: 2\nd: [3, 4]\nf:\n")
    fault = source.place(BadInput("odd"), where)
    assert (fault.line, fault.column) == place


def test_a_fault_that_has_a_file_already_is_left_alone(tmp_path: Path):
    fault = document(tmp_path, "a: 1\n").place(BadInput("odd", file="other.csv", line=7), ["a"])
    assert (fault.file, fault.line) == ("other.csv", 7)


@pytest.mark.parametrize("text", ["a: &x {b: 1}\n<<: *x\n", "a: &x {b: 1}\nc:\n  - {<<: *x}\n"])
def test_keys_are_not_taken_over_from_elsewhere(tmp_path: Path, text: str):
    error = refusal(tmp_path, text)
    assert (error.what, error.todo) == (
        "keys are not taken over from elsewhere here", "Write them out in place of <<.",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("text", "tag", "line", "column"),
    [
        ("a: 1\nsite: !!binary aGk=\n", "!!binary", 2, 7),
        ("site: !!python/object:os.system x\n", "!!python/object:os.system", 1, 7),
        ("a: !!map\n  b: 1\n", "!!map", 1, 4),
        ("a:\n  - !mine\n    b: 1\n", "!mine", 2, 5),
        ("a: &x !!str 7\nb: *x\n", "!!str", 1, 4),
        ("a: [1, ! 2]\n", "!", 1, 8),
        ("!!str a: 1\n", "!!str", 1, 1),
        ("!<tag:b.org,2002:c> a: 1\n", "!<tag:b.org,2002:c>", 1, 1),
    ],
)
def test_a_tag_is_refused_at_its_place(tmp_path: Path, text: str, tag: str, line: int, column: int):
    error = refusal(tmp_path, text)
    assert (error.what, error.line, error.column) == (f"tags such as {tag} mean nothing here", line, column)
    assert error.todo == "Take it out; a text that starts with ! put in quotes."
    assert len(error.all()) == 1


def test_a_sign_within_a_value_or_quotes_is_no_tag(tmp_path: Path):
    assert document(tmp_path, "a: hi !there\nb: '!!str x'\n").data == {"a": "hi !there", "b": "!!str x"}
