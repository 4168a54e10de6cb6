from __future__ import annotations

from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from blockrun.errors import BlockrunError
from blockrun.show.cautions import SHORT
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
        assert SHORT in said(inputs, **typed)


def test_a_trial_as_on_its_card_changes_nothing(inputs: list[Path]) -> None:
    assert "what to change Nothing: it was as on the card." in said(inputs, weight="806.2kg/m3")


def test_a_trial_that_breaks_its_foam_is_not_made_larger(inputs: list[Path]) -> None:
    assert "Find the cause first: " in said(inputs, weight="10kg")


def test_a_trial_of_which_nothing_was_weighed_asks_for_it(inputs: list[Path]) -> None:
    assert "Weigh foam and mix; without them nothing can be said." in said(inputs, sank="1%")


def test_foam_too_wet_for_any_slurry_is_to_be_dried(inputs: list[Path]) -> None:
    assert "Dry the foam: it brings so much water" in said(inputs, foam="260g/L")


@pytest.mark.parametrize("bucket", ["0.4L", "2 m3", "10"])
def test_a_bucket_that_is_none_says_what_to_write(inputs: list[Path], bucket: str) -> None:
    with pytest.raises(BlockrunError) as refused:
        said(inputs, bucket=bucket)
    assert refused.value.todo


@pytest.mark.parametrize("width", [30, 40, 80])
def test_no_line_is_wider_than_the_screen(inputs: list[Path], width: int) -> None:
    typed = {"mix": "light", "foam": "130g/L", "weight": "8.6kg", "slurry": "18.9kg", "sank": "6%"}
    assert max(map(len, trial_text(*inputs, typed, width).plain.split("\n"))) <= width
