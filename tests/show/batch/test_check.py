from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from blockrun.errors import BadInput
from blockrun.mix.tolerances import Tolerances
from blockrun.show.batch.check import check_text


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


def test_foam_to_add_is_said_with_its_dilution(inputs: list[Path]) -> None:
    """At 8.6 kg in 10 L 161.24 kg fill 187.5 L, and want 14.2 L of 95 g/L to weigh 806.18 g/L: 1.3 kg of dilution."""
    words = said(inputs, weight="8.6kg").replace("\u00a0", " ")
    assert "add 14 L of foam (1.3 kg): run the generator 14 s; it takes 1.3 L of dilution, 32.9 mL of it agent" in words


def test_agent_drawn_is_told_with_that_of_the_bucket_weighed(inputs: list[Path]) -> None:
    """4 bags take 11.23 L of dilution, 10 L of foam 0.95 L: one part in 41 is agent."""
    words = said(inputs, foam="135g/L").replace("\u00a0", " ")
    assert "this batch takes 297 mL in 11.9 L of water, with the bucket weighed; it settles in its drum" in words


def test_the_verdict_comes_first_with_what_to_do(inputs: list[Path]) -> None:
    assert "in the drum ───" in said(inputs, weight="8.06kg")
    assert re.search(r"─ PASS: pour it\.", said(inputs, weight="8.06kg"))
    assert re.search(r"─ PASS: go on\.", said(inputs, foam="96g/L"))
    assert re.search(r"─ CORRECT: add, blend in, and weigh again before pouring\.", said(inputs, weight="8.6kg"))
    assert re.search(r"─ REJECT: do not pour it for this order;", said(inputs, weight="8.6kg", since="20min"))
    assert re.search(r"─ PASS: its blocks may stay\.", said(inputs, sank="2%", weight="8.06kg"))
    assert re.search(r"─ REJECT: set its blocks aside: ", said(inputs, sank="6%"))
    assert re.search(r"─ WAIT: bring the foam right and weigh it again\.", said(inputs, foam="400g/L"))
    assert re.search(r"─ WAIT: weigh the mix now\.", said(inputs, foam="102g/L", since="12min"))
    assert re.search(r"─ WAIT: warm the slurry before the foam goes in\. 10 degC is", said(inputs, temperature="2degC"))
    assert re.search(
        r"─ PASS WITH CARE: pour it, but look: mixed too long\.", said(inputs, weight="8.06kg", mixed="15min")
    )


def test_a_correction_tells_the_new_volume_the_room_and_the_minutes_left(inputs: list[Path]) -> None:
    words = said(inputs, weight="8.6kg", since="6min")
    # 187.5 L of the mix and 14.2 L of foam; 25 min less 6, less 4 of blending, less 10 of pouring
    assert "it then makes 202 L (the mixer holds 220 L)" in words
    assert "it takes 4 min: begin within 5 min, and the pour life holds" in words


def test_a_hot_mix_keeps_a_shorter_while_in_whole_minutes(inputs: list[Path]) -> None:
    words = said(inputs, weight="8.06kg", temperature="36degC", since="1min")
    # EN between 30 and 36 degC: 25 min / 1.29 are 19.3; less 10 of pouring and 1 gone
    assert "begin within 8 min: the pour takes 10 min" in words
    late = said(inputs, weight="8.06kg", temperature="58degC", since="20min")
    assert "20 of 8 min are gone, and the pour takes 10" in late
    assert "a pour takes longer than the mix keeps" in late


def test_a_mix_as_warm_as_an_ordinary_hot_day_is_not_thrown_away(inputs: list[Path]) -> None:
    """From 30 to 31 degC next to nothing happens, and at 35 degC foam, blending and pour are over in time."""
    for celsius, keeps in (("30degC", ""), ("31degC", "to 23 min"), ("35degC", "to 20 min")):
        words = said(inputs, weight="8.06kg", temperature=celsius, since="5min")
        assert "REJECT" not in words
        assert f"the heat cuts the pour life {keeps}" in words or not keeps
        assert ("the heat cuts" in words) == bool(keeps)


def test_a_question_ends_as_one(inputs: list[Path]) -> None:
    assert "is it this batch, is it this mix? no correction" in said(inputs, weight="6.5kg")


def patient(inputs: list[Path], folder: Path) -> list[Path]:
    """The yard with an hour of pour life, so that slurry can be mixed apart."""
    for file in inputs[0].parent.iterdir():
        text = file.read_text(encoding="utf-8").replace("pour_life: 25 min", "pour_life: 60 min")
        (folder / file.name).write_text(text, encoding="utf-8")
    return [folder / "site.yaml", folder / "order.yaml"]


def test_what_does_not_fit_the_mixer_is_taken_out_first(inputs: list[Path], tmp_path: Path) -> None:
    words = said(patient(inputs, tmp_path), weight="7.2kg", bags="4")
    # 161.2 kg in 223.9 L; the mixer holds 220
    assert re.search(
        r"first take out [\d.]+ L, then add [\d.]+ L of slurry \([\d.]+ kg\), mixed apart in another mixer or tub:",
        words,
    )
    assert "it then makes 220 L (the mixer holds 220 L)" in words


def test_slurry_for_which_there_is_no_time_is_not_asked_for(inputs: list[Path]) -> None:
    words = said(inputs, weight="7.2kg")
    assert "REJECT" in words
    assert "mixed apart" not in words


def test_foam_that_is_off_keeps_the_slurry_and_says_no_amount(inputs: list[Path]) -> None:
    words = said(inputs, foam="130g/L")
    assert "95 g/L is due: look at air, agent and water of the generator; the slurry waits" in words
    assert "put in" not in words


def test_a_slurry_off_its_card_is_given_water_or_cement_and_weighed_again(inputs: list[Path]) -> None:
    stiff, thin = said(inputs, slurry="18.9kg"), said(inputs, slurry="17.7kg")
    assert re.search(
        r"add 5\.\d L of water \(5\.\d kg\) to the slurry, half of it first, mix 10 min and weigh the slurry", stiff
    )
    assert "put in" not in stiff
    assert re.search(r"add 1\d(\.\d)? kg of cement to the slurry, mix 10 min and weigh the slurry again", thin)
    assert re.search(r"once that is right, .*put in \d+ L of foam in place of 118 L", thin)


def test_a_slurry_that_cannot_be_asks_for_the_bags(inputs: list[Path]) -> None:
    for slurry in ("1400kg/m3", "2400kg/m3"):
        words = said(inputs, slurry=slurry)
        assert "WAIT: measure the slurry again and count the bags." in words
        assert "what to look at" not in words


def test_a_mix_of_another_batch_is_asked_for(inputs: list[Path]) -> None:
    words = said(inputs, weight="6kg")
    assert "WAIT: weigh again: is it this batch, is it this mix?" in words
    assert "no correction makes this mix of that" in words


def test_a_weight_that_cannot_be_of_this_mix_has_no_causes(inputs: list[Path]) -> None:
    """98 kg/m3, where 806 are due: 35 m3 of foam would do it; 600 kg/m3 half as much again."""
    words = said(inputs, weight="1.96kg/20L")
    assert "WAIT: weigh again: is it this batch, is it this mix?" in words
    assert "what to look at" not in words
    assert "more foam than the card says" in said(inputs, weight="6kg")


def test_a_hot_slurry_has_a_shorter_pour_life(inputs: list[Path]) -> None:
    assert "PASS: pour it" in said(inputs, weight="8.06kg", since="8min", temperature="29degC")
    assert "REJECT" in said(inputs, weight="8.06kg", since="8min", temperature="42degC")


def test_all_well_says_no_share_of_air(inputs: list[Path]) -> None:
    words = said(inputs, weight="806.2kg/m3")
    assert "more air" not in words
    assert "(as due)" in words


def test_what_was_weighed_in_is_said_with_what_it_weighs_empty(inputs: list[Path]) -> None:
    assert "weighed in 10 L, nothing taken off for it" in said(inputs, weight="8.06kg")
    words = said(inputs, weight="4.43kg", container="5L", empty="0.4kg")
    assert "weighed in 5 L, 0.4 kg taken off for it" in words
    assert "weighed in" not in said(inputs, weight="806kg/m3")


def test_a_batch_of_a_plan_is_not_made_another_by_an_option(small_folder: Path) -> None:
    typed = {"batch": "1", "weight": "8.6kg"}
    mix = "light" if "of light in" in check_text([small_folder], typed, 200).plain else "heavy"
    other = {"light": "heavy", "heavy": "light"}[mix]
    assert check_text([small_folder], typed | {"mix": mix}, 80)
    for option, value in (("mix", other), ("bags", "1/2"), ("mixer", "tub")):
        with pytest.raises(BadInput, match="batch"):
            check_text([small_folder], typed | {option: value}, 80)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"sank": "6%"}, "it sank too far: 6.0 % of its height in an hour, over 3.0 %: it went flat."),
        ({"weight": "10kg", "ran": "118s"}, "it breaks its foam: "),
        ({"weight": "8.6kg", "sank": "1%"}, "it is off its weight: a mix off by more than 5.0 %"),
        (
            {"weight": "8.06kg", "since": "16min"},
            "its pour cannot end within its pour life: 16 of 25 min are gone, and the pour takes 10 min.",
        ),
        (
            {"weight": "8.6kg", "since": "12min"},
            "there is no time left to correct it: 12 of 25 min are gone; the 14 L of foam that its weight takes, "
            "4 min, had to be begun by 11 min after the foam, and the pour takes 10 min.",
        ),
        ({"weight": "8.06kg", "foam": "300g/L"}, "it dries to another density than was ordered: an oven-dry "),
        ({"weight": "8.06kg", "foam": "180g/L"}, "it holds too much water: water to cement 0.71 with the "),
    ],
)
def test_each_reason_to_reject_is_said(inputs: list[Path], typed: dict[str, str], words: str) -> None:
    assert words in said(inputs, **typed)


def test_the_share_of_a_cause_is_said(inputs: list[Path]) -> None:
    assert re.search(r"foam too wet: .* 19 % of the difference", said(inputs, foam="112g/L", weight="8.6kg"))
    assert re.search(r"foam too wet: .* more than the difference", said(inputs, foam="190g/L", weight="8.6kg"))
    assert "foam too wet" not in said(inputs, foam="112g/L", weight="7.4kg", since="4min").split("what to look at")[1]


def test_the_time_to_begin_is_said(inputs: list[Path]) -> None:
    assert "begin within 7 min: the pour takes 10 min" in said(inputs, weight="8.06kg", since="8min")


def test_rules_of_the_yard_are_marked_and_three_causes_are_enough(inputs: list[Path]) -> None:
    words = said(inputs, weight="8.6kg")
    assert "a bag too many or too few [practice]" in words
    assert "[practice] common practice, no source" in words
    assert "less foam than the card says" in words
    assert " 3. " in words
    assert " 5. " not in words
    soap = words.index("4. household soap without glycerine")
    assert "a purpose-made agent is steadier [practice]" in words[soap:]


def test_soap_is_no_cause_where_another_was_measured_that_does_most(inputs: list[Path]) -> None:
    assert "soap" not in said(inputs, foam="190g/L", weight="8.6kg")
    assert "soap" in said(inputs, foam="96g/L", sank="6%")
    assert "soap" in said(inputs, foam="130g/L")


def test_what_was_measured_and_is_off_is_listed_however_much_it_is(inputs: list[Path]) -> None:
    words = said(
        inputs, weight="8.6kg", foam="112g/L", slurry="18.9kg", temperature="8degC", mixed="9min", since="9min"
    )
    assert all(f" {number}. " in words for number in range(1, 5))


def test_minutes_that_nobody_gave_are_said_to_be_taken(inputs: list[Path]) -> None:
    words = said(inputs, weight="8.6kg")
    assert "begin by 11 min after the foam went in, and the pour life holds (taken as 4 min ago, the time" in words
    assert "begin by 15 min after the foam went in: the pour takes 10 min (give --since" in said(
        inputs, weight="8.06kg"
    )
    assert "at least 4 of 25 min are gone, the time to blend the foam in (give --since)" in said(inputs, weight="7.2kg")


def test_a_batch_that_is_too_light_and_too_late_is_said_to_be_good_for_lighter_blocks(inputs: list[Path]) -> None:
    words = said(inputs, weight="7.2kg")
    assert re.search(r"as it is, it dries to 5\d\d kg/m3: poured now, it is only for blocks that may be so", words)


def test_reasons_that_are_of_a_corrected_batch_say_so(inputs: list[Path]) -> None:
    words = said(inputs, weight="8.9kg", foam="96g/L", slurry="17.4kg", since="5min")
    assert re.search(
        r"no correction makes it right: with the [\d.]+ L of foam that its weight takes it would have", words
    )
    assert "though the wet mix weighs what it should" not in words


def test_amounts_to_add_can_be_measured_and_weighed(inputs: list[Path]) -> None:
    """14.16 L of foam are 14 L and 1.3 kg; half a litre of 200 is a quarter of a percent of the mix."""
    assert "add 14 L of foam (1.3 kg): run the generator 14 s" in said(inputs, weight="8.6kg", since="6min")


def test_missing_foam_asks_how_long_the_generator_ran(inputs: list[Path]) -> None:
    words = said(inputs, weight="10kg")
    assert "WAIT: how long did the generator run?" in words
    assert "Did it run 118 s as due, do not pour" in words


def test_tolerances_are_shown_as_our_choice_and_can_be_set(inputs: list[Path]) -> None:
    assert "allowed (our choice): mix 5 %, foam 6 %" in said(inputs, weight="8.06kg")
    assert "CORRECT" in said(inputs, weight="8.3kg", within="2%")


def test_the_least_and_the_most_of_a_slurry_are_those_it_was_judged_by(
    inputs: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    allowed = Tolerances(coldest_c=12.0, warmest_c=26.0)
    monkeypatch.setattr("blockrun.show.batch.check.read_tolerances", lambda *_: allowed)
    assert "12 degC is the least" in said(inputs, temperature="11degC").replace("\u00a0", " ")
    assert "26 degC is the most" in said(inputs, temperature="27degC").replace("\u00a0", " ")


@pytest.mark.parametrize("width", [30, 40, 80])
def test_no_line_is_wider_than_the_screen(inputs: list[Path], width: int) -> None:
    typed = LIGHT | {"weight": "8.6kg", "foam": "130g/L", "slurry": "18.9kg", "since": "9min", "mixed": "9min"}
    text = check_text(inputs, typed, width).plain
    assert max(map(len, text.split("\n"))) <= width


def of_a_yard(inputs: list[Path], folder: Path, *, pour_life_up_to: str) -> list[Path]:
    """The yard with its pour life known to hold up to some air."""
    for file in inputs[0].parent.iterdir():
        text = file.read_text(encoding="utf-8")
        if file == inputs[0]:
            text += f"\npour_life_up_to: {pour_life_up_to}\n"
        (folder / file.name).write_text(text, encoding="utf-8")
    return [folder / path.name for path in inputs]


def test_warm_slurry_is_as_short_lived_in_a_yard_whose_pour_life_holds_in_hot_air(
    inputs: list[Path], tmp_path: Path
) -> None:
    """Its shade and cold water are to keep slurry cool, so they count for none that is warm."""
    shaded = of_a_yard(inputs, tmp_path, pour_life_up_to="38 degC")
    words = said(shaded, weight="8.06kg", temperature="36degC", since="1min")
    assert "the heat cuts the pour life to 19 min, not 25 min: its slurry is at 36 degC; over 30 degC it sets" in words


def test_slurry_over_the_air_that_a_cool_yard_allows_is_said_to_keep_less_long(
    inputs: list[Path], tmp_path: Path
) -> None:
    cool = of_a_yard(inputs, tmp_path, pour_life_up_to="22 degC")
    words = said(cool, weight="8.06kg", temperature="28degC", since="1min")
    assert "its slurry is at 28 degC; over 22 degC it sets as fast as it ages" in words


def test_a_batch_of_a_hot_day_keeps_as_long_as_the_days_say_and_the_heat_is_named(
    small_folder: Path, tmp_path: Path
) -> None:
    """42 degC at noon are 34 at 08:10, when the foam goes in: EN makes 20 of 25 min of that."""
    hot = tmp_path / "hot"
    shutil.copytree(small_folder, hot)
    for weather in hot.glob("inputs/*weather*.csv"):
        lines = weather.read_text(encoding="utf-8").splitlines()
        days = [line.split(",")[0] for line in lines[1:]]
        weather.write_text("\n".join([lines[0], *(f"{day},29,42" for day in days)]) + "\n", encoding="utf-8")
    words = " ".join(check_text([hot], {"batch": "1", "weight": "8.06kg", "since": "8min"}, 80).plain.split())
    assert "the heat cuts the pour life to 20 min, not 25 min: air of 34.1 degC" in words
    assert "begin within 2 min: the pour takes 10 min" in words
    late = " ".join(check_text([hot], {"batch": "1", "weight": "8.06kg", "since": "12min"}, 80).plain.split())
    assert "REJECT" in late
    mild = {"batch": "1", "weight": "8.06kg", "since": "8min", "temperature": "15degC"}
    assert "the heat" not in check_text([hot], mild, 80).plain


def test_a_hot_slurry_is_said_to_cut_the_pour_life(inputs: list[Path]) -> None:
    words = said(inputs, weight="8.06kg", temperature="38degC", since="5min")
    assert (
        "the heat cuts the pour life to 17 min, not 25 min: its slurry is at 38 degC; over 30 degC it sets as fast as "
        "it ages (our choice, no standard)"
    ) in words
