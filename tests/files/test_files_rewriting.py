"""New values in a YAML file, and not a byte of it changed beside them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from blockrun.errors import BadInput
from blockrun.files.rewriting import rewritten, value_at
from blockrun.files.yaml import Where, read_yaml

ROOT = Path(__file__).parents[2]
YARDS = sorted([*ROOT.glob("configs/*yard.yaml"), *ROOT.glob("examples/*/site.yaml")])

SITE = """\
# my yard
mixers:
  - name: drum          # the red one
    pour_time:   10 min   # with Ben
  - {name: "pan", pour_time: '6 min', left_behind: "1 gal"}
curing: {strip_at: 24 h}
"""


@pytest.fixture
def site(tmp_path: Path) -> Path:
    path = tmp_path / "site.yaml"
    path.write_text(SITE, encoding="utf-8")
    return path


def test_only_the_values_change(site: Path) -> None:
    new = rewritten(
        site,
        [
            (("mixers", ("name", "drum"), "pour_time"), "14 min"),
            (("mixers", ("name", "pan"), "left_behind"), "1.5 gal"),
            (("mixers", ("name", "pan"), "pour_time"), "11 min"),
            (("curing", "strip_at"), "27 h"),
        ],
    )
    expected = SITE.replace("10 min ", "14 min ").replace("'6 min'", "'11 min'").replace('"1 gal"', '"1.5 gal"')
    assert new.new.decode() == expected.replace("24 h", "27 h")
    assert [line.number for line in new.lines] == [4, 5, 6]
    assert new.lines[0].after == "    pour_time:   14 min   # with Ben"


@pytest.mark.parametrize(("mark", "end"), [(b"", "\r\n"), (b"\xef\xbb\xbf", "\n"), (b"\xef\xbb\xbf", "\r\n")])
def test_line_ends_and_the_mark_of_an_editor_stay(site: Path, mark: bytes, end: str) -> None:
    written = mark + SITE.replace("\n", end).encode()
    site.write_bytes(written)
    new = rewritten(site, [(("curing", "strip_at"), "27 h")])
    assert new.new == written.replace(b"24 h", b"27 h")


def test_letters_beyond_ascii_shift_nothing(site: Path) -> None:
    site.write_text("# Höfe, 庭, 🧱\nname: café 🧱 {x}\nage: 24 h\n", encoding="utf-8")
    assert rewritten(site, [(("age",), "27 h")]).new.decode().endswith("café 🧱 {x}\nage: 27 h\n")


@pytest.mark.parametrize("yard", YARDS, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_each_value_of_each_yard_can_be_changed_alone(yard: Path) -> None:
    before = yard.read_bytes()
    places = list(_places(read_yaml(yard).data, ()))
    assert len(places) > 40
    for where in places:
        new = rewritten(yard, [(where, "<changed>")])
        assert len(new.lines) == 1
        assert new.new.replace(b"<changed>", value_at(yard, where).encode()) == before
    same = rewritten(yard, [(where, value_at(yard, where)) for where in places])
    assert (same.new, same.lines) == (before, ())


@pytest.mark.parametrize(
    ("text", "where", "said"),
    [
        ("a: &wait 24 h\nb: *wait\n", ("b",), "once for several places"),
        ("a: &wait 24 h\nb: *wait\n", ("a",), "once for several places"),
        ("a: &one {x: 24 h}\nb: *one\n", ("b", "x"), "once for several places"),
        ("a: >\n  24 h\n", ("a",), "no single value"),
        ("a: [1, 2]\n", ("a",), "no single value"),
        ("a: 24 h\n", ("b",), "b is not in this file"),
    ],
)
def test_what_is_no_value_of_its_own_is_refused_at_its_place(site: Path, text: str, where: Where, said: str) -> None:
    site.write_text(text, encoding="utf-8")
    with pytest.raises(BadInput) as fault:
        rewritten(site, [(where, "27 h")])
    assert said in fault.value.what
    assert (fault.value.file, fault.value.line is not None) == (str(site), True)


def test_all_that_is_refused_is_told_at_once(site: Path) -> None:
    with pytest.raises(BadInput) as fault:
        rewritten(site, [(("one",), "1"), (("two",), "2")])
    assert [one.what for one in fault.value.all()] == ["one is not in this file", "two is not in this file"]


def _places(data: Any, where: Where) -> Iterator[Where]:
    """Where every value of one line stands."""
    if isinstance(data, dict):
        for key, value in data.items():
            yield from _places(value, (*where, key))
    elif isinstance(data, list):
        for index, value in enumerate(data):
            yield from _places(value, (*where, index))
    elif data is not None:
        yield where
