"""What single moulds and bases are called, and what their names tell."""

from __future__ import annotations

from blockrun.site import MouldKind
from blockrun.site.mould_names import kind_named, number_named


def test_moulds_and_bases_are_numbered_from_one() -> None:
    kind = MouldKind(
        kind="tray-3", count=2, cavities=3, cavity=(600, 300, 200), strip_time_min=9, clean_time_min=9,
        bases=3, sides_off_at_h=18.0, sides_time_min=6,
    )  # fmt: skip
    assert kind.mould_names == ["tray-3/01", "tray-3/02"]
    assert kind.base_names == ["tray-3/b01", "tray-3/b02", "tray-3/b03"]
    assert {kind_named(name) for name in (*kind.mould_names, *kind.base_names)} == {"tray-3"}
    assert [number_named(name) for name in kind.base_names] == [1, 2, 3]


def test_a_kind_without_bases_has_none_by_name() -> None:
    kind = MouldKind(kind="gang-4", count=101, cavities=4, cavity=(600, 300, 200), strip_time_min=9, clean_time_min=9)
    assert (kind.base_names, kind.mould_names[-1], number_named("gang-4/101")) == ([], "gang-4/101", 101)
