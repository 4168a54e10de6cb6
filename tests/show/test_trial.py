from __future__ import annotations

import re
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from blockrun.errors import BlockrunError
from blockrun.show.check import IN_THE_YARD
from blockrun.show.trial import ASKED_FOR, trial_text


@pytest.fixture(scope="session")
def inputs(small_folder: Path) -> list[Path]:
    return [small_folder / "inputs" / "site.yaml", small_folder / "inputs" / "order.yaml"]


def said(inputs: list[Path], **typed: str) -> str:
    return " ".join(trial_text(*inputs, {"mix": "light"} | typed, 80).plain.split())


def test_the_card_of_a_bucket_at_40_columns(inputs: list[Path], golden: SnapshotAssertion) -> None:
    assert trial_text(*inputs, {"mix": "light"}, 40).plain == golden


def test_what_a_bucket_was_at_40_columns(inputs: list[Path], golden: SnapshotAssertion) -> None:
    typed = {"mix": "light", "foam": "102g/L", "weight": "8.6kg", "sank": "12mm", "of": "200mm"}
    assert trial_text(*inputs, typed, 40).plain == golden


def test_sand_and_what_else_goes_in_is_on_the_card(inputs: list[Path], tmp_path: Path) -> None:
    for file in inputs[0].parent.iterdir():
        text = file.read_text(encoding="utf-8").replace(
            "oven_dry_density: 900 kg/m3", "sand: 1, oven_dry_density: 1100 kg/m3"
        )
        (tmp_path / file.name).write_text(text, encoding="utf-8")
    # 1100 / (1.2 + 1) = 500 kg of cement and 500 kg of sand in 1 m3
    assert "5 kg of cement, 5 kg of sand, 2.25 L of water" in said(
        [tmp_path / "site.yaml", tmp_path / "order.yaml"], mix="heavy"
    )


def test_a_trial_says_when_one_is_due_and_the_cautions(inputs: list[Path]) -> None:
    for typed in ({}, {"foam": "95g/L"}):
        assert ASKED_FOR in said(inputs, **typed)
        assert IN_THE_YARD in said(inputs, **typed)


def test_a_trial_as_on_its_card_changes_nothing(inputs: list[Path]) -> None:
    assert "what to do Nothing: it was as on the card." in said(inputs, weight="806.2kg/m3")


def test_a_trial_that_breaks_its_foam_is_not_made_larger(inputs: list[Path]) -> None:
    assert "Find the cause first: " in said(inputs, weight="10kg")


def test_a_trial_of_which_nothing_was_weighed_asks_for_it(inputs: list[Path]) -> None:
    assert "Weigh foam and mix; without them nothing can be said." in said(inputs, sank="1%")


def test_foam_that_was_off_is_brought_right_and_the_card_repeated(inputs: list[Path]) -> None:
    words = said(inputs, foam="110g/L", weight="8.1kg", sank="7%")
    assert "Bring the foam to 95 g/L and repeat the card. If it stays as it is, write weighed: 110 g/L" in words
    assert "Next time" not in words


def test_water_that_was_short_is_told_with_nothing_else_measured(inputs: list[Path]) -> None:
    assert "Repeat the card before you change it: its water was 418 mL short." in said(inputs, slurry="19.3kg")
    assert re.search(r"its water was \d+ mL over", said(inputs, slurry="17kg"))


def test_a_trial_that_sinks_says_what_to_write_so_that_card_and_check_follow(inputs: list[Path]) -> None:
    words = said(inputs, foam="95g/L", weight="8.06kg", sank="7%")
    assert "write slurry_water_cement: 0.45 in the order" in words


def test_the_tolerance_that_was_typed_goes_for_the_causes_too(inputs: list[Path]) -> None:
    assert "what to look at" in said(inputs, weight="8.7kg")
    assert "what to look at" not in said(inputs, weight="8.7kg", within="10%")


@pytest.mark.parametrize("bucket", ["0.4L", "2 m3", "10"])
def test_a_bucket_that_is_none_says_what_to_write(inputs: list[Path], bucket: str) -> None:
    with pytest.raises(BlockrunError) as refused:
        said(inputs, bucket=bucket)
    assert refused.value.todo


@pytest.mark.parametrize("width", [30, 40, 80])
def test_no_line_is_wider_than_the_screen(inputs: list[Path], width: int) -> None:
    typed = {"mix": "light", "foam": "130g/L", "weight": "8.6kg", "slurry": "18.9kg", "sank": "6%"}
    assert max(map(len, trial_text(*inputs, typed, width).plain.split("\n"))) <= width
