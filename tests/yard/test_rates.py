from __future__ import annotations

from pathlib import Path
from typing import Final

import pytest

from blockrun.errors import BadInput
from blockrun.planner.risk.rates import Broken, Cause, ColdSnaps, Rates, load_rates, with_shares

CONFIG: Final = Path(__file__).parents[2] / "configs" / "risk.yaml"


def written(folder: Path, text: str) -> Path:
    path = folder / "risk.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def test_the_file_to_copy_holds_the_usual_rates_each_of_them_written_out() -> None:
    assert load_rates(CONFIG) == Rates()
    text = CONFIG.read_text(encoding="utf-8")
    keys = [key for model in (Rates, Broken, ColdSnaps) for key in (f.alias for f in model.model_fields.values())]
    assert [key for key in keys if f"{key}: " not in text and f"{key}:\n" not in text] == []


def test_what_a_file_leaves_out_is_as_usual(tmp_path: Path) -> None:
    rates = load_rates(written(tmp_path, "flat_batches: 4 %\ncold_snaps: {lasts: 36 h, colder: 9 degF}\n"))
    assert (rates.flat_batches, rates.cold_snaps.days, rates.cold_snaps.colder_c) == (0.04, 2, 5.0)
    assert rates.broken == Rates().broken


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("flat_batches: 0.02\n", "risk.yaml:1:15: flat_batches: 0.02 is not a percentage"),
        ("days_lost: 120 %\n", "days_lost: 120 % is out of range"),
        ("broken: {at_stripp: 1 %}\n", "unknown key at_stripp"),
        ("cold_snaps: {colder: 4}\n", "colder"),
    ],
)
def test_a_fault_is_told_at_its_place(tmp_path: Path, text: str, said: str) -> None:
    with pytest.raises(BadInput) as fault:
        load_rates(written(tmp_path, text))
    assert said in str(fault.value)


def test_options_change_single_shares() -> None:
    told = {"--broken": "3%", "--flat": "0 %", "--cold": None, "--away": "7%", "--lost": None}
    rates = with_shares(Rates(), told)
    assert (rates.broken, rates.flat_batches, rates.people_away) == (Broken(at_strip=0.03, when_moved=0.0), 0, 0.07)
    assert (rates.cold_snaps, rates.days_lost) == (Rates().cold_snaps, Rates().days_lost)
    assert with_shares(Rates(), {"--cold": "9 %", "--lost": "1%"}).cold_snaps.chance == 0.09


@pytest.mark.parametrize("text", ["0.02", "120%", "-1%", "often"])
def test_an_option_that_is_no_share_says_what_to_write(text: str) -> None:
    with pytest.raises(BadInput, match="--flat"):
        with_shares(Rates(), {"--flat": text})


def test_a_cause_is_switched_off_or_left_alone() -> None:
    rates = Rates()
    assert rates.without() == rates
    assert rates.broken.share == pytest.approx(1 - 0.99 * 0.995)
    assert rates.without(Cause.BROKEN).broken.share == 0
    assert rates.only(Cause.COLD) == rates.without(Cause.BROKEN, Cause.FLAT, Cause.AWAY, Cause.LOST)
    assert rates.only(Cause.COLD).cold_snaps == rates.cold_snaps
