from __future__ import annotations

import re
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from blockrun.errors import BlockrunError
from blockrun.show.batch.check import IN_THE_YARD
from blockrun.show.batch.trial import ASKED_FOR, trial_text


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


def test_a_trial_makes_up_dilution_for_the_litre_of_foam_that_is_weighed(inputs: list[Path]) -> None:
    """5.91 L of foam go in and 1 L is weighed: 6.91 x 0.095 kg, one part in 41 of it agent."""
    words = said(inputs).replace("\u00a0", " ")
    assert "16 mL of agent in 641 mL of water, for 1 L of foam to weigh too" in words
    # of 40 L of mix there is foam enough to weigh a bucket: (23.65 + 10) x 0.095 kg
    words = said(inputs, bucket="40L").replace("\u00a0", " ")
    assert "78 mL of agent in 3.12 L of water, for 10 L of foam to weigh too" in words


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


def damp(inputs: list[Path], folder: Path, moisture: str, ratio: str = "0.50") -> list[Path]:
    """The inputs, with two parts of damp sand in the heavy mix: 2 kg of sand to each kg of cement."""
    for file in inputs[0].parent.iterdir():
        text = file.read_text(encoding="utf-8")
        if file.name == "site.yaml":
            text = text.replace("stock:\n", f"stock:\n  sand: {{on_hand: 5000 kg, moisture: {moisture}}}\n")
        heavy = f"name: heavy, oven_dry_density: 1280 kg/m3, sand: 2, slurry_water_cement: {ratio}"
        text = re.sub(r"name: heavy, oven_dry_density: 900 kg/m3, slurry_water_cement: [\d.]+", heavy, text)
        (folder / file.name).write_text(text, encoding="utf-8")
    return [folder / "site.yaml", folder / "order.yaml"]


def test_with_damp_sand_the_next_water_is_that_of_the_tap(inputs: list[Path], tmp_path: Path) -> None:
    """1280 / (1.2 + 2) = 400 kg of cement in 1 m3: a bucket of 10 L has 4 kg, 8 kg of sand and 2 L of water.

    Sand of 10 % brings 0.8 L of that, so the tap gives 1.2 L; a slurry stiffer by 0.05 takes 0.2 L off the tap.
    """
    yard = damp(inputs, tmp_path, "10 %")
    assert "1.2 L of water" in said(yard, mix="heavy")
    due = re.search(r"10 L of mix weigh ([\d.]+)", said(yard, mix="heavy"))
    assert due
    words = said(yard, mix="heavy", foam="95g/L", weight=f"{due[1]}kg", sank="7%")
    assert "Next time 1 L of water (-16.7 %)" in words


@pytest.mark.parametrize("moisture", ["20.5 %", "22.4 %"])
def test_sand_that_brings_all_the_water_of_the_next_slurry_is_to_dry(
    inputs: list[Path], tmp_path: Path, moisture: str
) -> None:
    """A slurry stiffer by 0.05 takes 1.8 L, and the sand brings 1.64 L or more: no tap water, or less than none."""
    yard = damp(inputs, tmp_path, moisture)
    words = said(yard, mix="heavy", foam="95g/L", weight="1487kg/m3", sank="7%")
    assert re.search(
        r"Let the sand dry and repeat the card: it brings 1\.\d+ L of water, and the next slurry takes 1.8 L", words
    )
    assert "Next time" not in words


def us(inputs: list[Path], folder: Path) -> list[Path]:
    for file in inputs[0].parent.iterdir():
        text = file.read_text(encoding="utf-8").replace("units: SI", "units: US")
        (folder / file.name).write_text(text, encoding="utf-8")
    return [folder / "site.yaml", folder / "order.yaml"]


def test_a_trial_is_weighed_with_no_more_than_it_makes(inputs: list[Path], tmp_path: Path) -> None:
    """10 L of mix are 4.1 L of slurry and 5.9 L of foam: no bucket of 10 L is filled with either."""
    words = said(inputs)
    assert (
        "1 L of slurry weigh 1.80 to 1.87 kg, 1 L of foam weigh 90 to 100 g, 10 L of mix weigh 7.7 to 8.4 kg" in words
    )
    american = said(us(inputs, tmp_path))
    assert re.search(r"1 qt of slurry weigh .* lb, 1 qt of foam weigh 2\.99 to 3\.36 oz, 2 gal of mix weigh", american)


def test_what_a_trial_prints_to_type_is_its_own_due_weight(inputs: list[Path]) -> None:
    words = said(inputs)
    assert "--foam 95g/L --weight 8.06kg/10L --sank 3mm --of 200mm" in words
    again = said(inputs, foam="95g/L", weight="8.06kg/10L", sank="3mm", of="200mm")
    assert "Nothing: it was as on the card." in again


def test_a_trial_says_how_long_the_generator_runs_and_more_than_the_drum_holds_is_refused(inputs: list[Path]) -> None:
    assert "run the generator 59 s" in said(inputs, bags="2")
    assert "Too much to mix by hand" in said(inputs, bags="2")
    assert "Too much to mix by hand" not in said(inputs)
    assert "by the mark: too little to time" in said(inputs, bucket="5L")
    with pytest.raises(BlockrunError, match=r"more than any mixer of the site holds, 220.L"):
        said(inputs, bucket="300L")
