from __future__ import annotations

import re
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from blockrun.show.check import check_text


@pytest.fixture(scope="session")
def inputs(small_folder: Path) -> list[Path]:
    return [small_folder / "inputs" / "site.yaml", small_folder / "inputs" / "order.yaml"]


LIGHT = {"mix": "light", "bags": "4"}


def said(places: list[Path], width: int = 80, **typed: str) -> str:
    return " ".join(check_text(places, LIGHT | {k.replace("_", "-"): v for k, v in typed.items()}, width).plain.split())


def test_a_heavy_batch_of_a_plan_at_40_columns(small_folder: Path, golden: SnapshotAssertion) -> None:
    typed = {"batch": "1", "foam": "112g/L", "weight": "8.6kg", "since": "6min", "temperature": "8degC"}
    assert check_text([small_folder], typed, 40).plain == golden


def test_a_light_batch_in_us_units_at_80_columns(inputs: list[Path], tmp_path: Path, golden: SnapshotAssertion) -> None:
    for file in inputs[0].parent.iterdir():
        text = file.read_text(encoding="utf-8")
        (tmp_path / file.name).write_text(text.replace("units: SI", "units: US"), encoding="utf-8")
    typed = LIGHT | {"weight": "12.2lb", "mixed": "9min", "foam": "1.62lb"}
    assert check_text([tmp_path / "site.yaml", tmp_path / "order.yaml"], typed, 80).plain == golden


def test_the_verdict_comes_first_with_what_to_do(inputs: list[Path]) -> None:
    assert "in the drum ───" in said(inputs, weight="8.06kg")
    assert re.search(r"─ PASS: pour it\.", said(inputs, weight="8.06kg"))
    assert re.search(r"─ PASS: go on\.", said(inputs, foam="96g/L"))
    assert re.search(r"─ CORRECT: add, blend in, and weigh again before pouring\.", said(inputs, weight="8.6kg"))
    assert re.search(r"─ REJECT: do not pour it for this order;", said(inputs, weight="8.6kg", since="20min"))
    assert re.search(r"─ PASS: its blocks may stay\.", said(inputs, sank="2%", weight="8.06kg"))
    assert re.search(r"─ REJECT: set its blocks aside: ", said(inputs, sank="6%"))


def test_what_does_not_fit_the_mixer_is_taken_out_first(inputs: list[Path]) -> None:
    words = said(inputs, weight="7.2kg", bags="4")
    # 161.2 kg in 223.9 L; the mixer holds 220
    assert re.search(r"first take out [\d.]+ L, then add [\d.]+ L of slurry, mixed apart:", words)
    assert "it then makes 220 L (the mixer holds 220 L)" in words


def test_foam_weighed_before_it_goes_in_says_how_much_of_it(inputs: list[Path]) -> None:
    words = said(inputs, foam="130g/L")
    assert "put it right before foam and slurry come together" in words
    assert "put in 124 L of this foam (the card says 118 L): run the generator 124 s" in words


def test_a_slurry_off_its_card_is_given_water_or_cement(inputs: list[Path]) -> None:
    assert re.search(r"add 5\.\d+ L of water to the slurry", said(inputs, slurry="18.9kg"))
    assert re.search(r"add 1\d(\.\d)? kg of cement to the slurry", said(inputs, slurry="17.7kg"))


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"sank": "6%"}, "it sank too far: 6.0% of its height in an hour, over 3.0%: it went flat."),
        ({"weight": "10kg"}, "it breaks its foam: "),
        ({"weight": "8.6kg", "sank": "1%"}, "it was poured off its weight: a mix off by more than 5.0%"),
        (
            {"weight": "8.06kg", "since": "26min"},
            "its pour life is over: 26 of 25 min are gone since the foam went in.",
        ),
        (
            {"weight": "8.6kg", "since": "12min"},
            "there is no time left to correct it: 12 of 25 min are gone, and the pour alone takes 10.",
        ),
        ({"foam": "900g/L"}, "the foam is heavier than the mix is to be: "),
    ],
)
def test_each_reason_to_reject_is_said(inputs: list[Path], typed: dict[str, str], words: str) -> None:
    assert words in said(inputs, **typed)


def test_the_share_of_a_cause_is_said_up_to_all_of_it(inputs: list[Path]) -> None:
    assert re.search(r"foam too wet: .* 19% of the difference", said(inputs, foam="112g/L", weight="8.6kg"))
    assert re.search(r"foam too wet: .* more than the difference", said(inputs, foam="190g/L", weight="8.6kg"))
    assert re.search(r"foam too wet: .* against the difference", said(inputs, foam="112g/L", weight="7.4kg"))


def test_little_time_left_is_said(inputs: list[Path]) -> None:
    words = said(inputs, weight="8.06kg", since="18min")
    assert "7 min of its pour life are left, and the pour takes 10 min" in words
    assert "pour at once, and weigh again half way" in words


def test_rules_of_the_yard_are_marked(inputs: list[Path]) -> None:
    words = said(inputs, weight="8.6kg")
    assert "steadies the foam [practice]" in words
    assert "[practice] common practice, no source" in words
    assert "less foam than the card says" in words


def test_tolerances_are_shown_as_our_choice_and_can_be_set(inputs: list[Path]) -> None:
    assert "allowed (our choice): mix 5 %, foam 6 %" in said(inputs, weight="8.06kg")
    assert "CORRECT" in said(inputs, weight="8.3kg", within="2%")


@pytest.mark.parametrize("width", [30, 40, 80])
def test_no_line_is_wider_than_the_screen(inputs: list[Path], width: int) -> None:
    typed = LIGHT | {"weight": "8.6kg", "foam": "130g/L", "slurry": "18.9kg", "since": "3min", "mixed": "9min"}
    text = check_text(inputs, typed, width).plain
    assert max(map(len, text.split("\n"))) <= width
