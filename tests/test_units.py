"""Text with a unit to a number and back."""

import contextlib
import re
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun import units
from blockrun.errors import BadInput


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("220 L", "volume", 220.0),
        ("240L", "volume", 240.0),
        ("5 gal", "volume", 18.92705892),  # 231 cubic inches each, exact
        ("1 imp gal", "volume", 4.54609),  # exact by definition
        ("0.1 m3", "volume", 100.0),
        ("94 lb", "mass", 42.63768278),  # 0.45359237 kg each, exact
        ("3 1/2 in", "length", 88.9),
        ("1/2 in", "length", 12.7),
        ("7 ft 6 in", "length", 2286.0),
        ("2 ft 7 5/8 in", "length", 803.275),
        ("24 m", "length", 24000.0),
        ("7 d", "time", 10080.0),
        ("1 h 30 min", "time", 90.0),
        ("54 degF", "temperature", 12.222222222),
        ("-5 degC", "temperature", -5.0),
        ("32 degF", "temperature", 0.0),
        ("9 degF", "temperature_difference", 5.0),
        ("95 g/L", "density", 95.0),
        ("40 lb/ft3", "density", 640.738534958),
        ("60 L/min", "rate", 60.0),
        ("15 gal/min", "rate", 56.78117676),
        ("15 deg", "angle", 15.0),
        ("40 kJ/mol", "activation_energy", 40.0),
        ("38400 J/mol", "activation_energy", 38.4),
        ("2.5 MPa", "strength", 2.5),
        ("2.5 N/mm2", "strength", 2.5),
        ("200 psi", "strength", 1.378951459),  # 0.45359237 kg x 9.80665 m/s2 on 25.4 mm x 25.4 mm
    ],
)
def test_a_quantity_is_read_in_the_base_unit(text: str, dimension: str, value: float):
    assert units.read(text, dimension).value == value


def test_the_unit_written_is_kept():
    assert units.read("7 ft 6 in", "length").unit == "ft"


@pytest.mark.parametrize("text", ["220", "0", "3 1/2", "1.5", "-4"])
def test_a_bare_number_is_refused_where_a_unit_is_needed(text: str):
    with pytest.raises(BadInput, match="has no unit"):
        units.read(text, "volume")


@pytest.mark.parametrize("text", ["1/0", "3 1/0", "1/00"])
def test_a_bare_number_that_divides_by_nothing_is_refused(text: str):
    with pytest.raises(BadInput, match="divides by nothing"):
        units.read(text, "time")


def test_a_bare_number_is_answered_with_the_same_number_and_a_unit():
    with pytest.raises(BadInput) as caught:
        units.read("220", "volume")
    assert caught.value.todo == "220 of what? Write 220 L or 220 gal."


def test_a_wrong_dimension_says_which_was_expected():
    with pytest.raises(BadInput, match="220 kg is a mass, and a volume is due"):
        units.read("220 kg", "volume")


@pytest.mark.parametrize(
    ("text", "dimension", "meant"),
    [
        ("5 gallons", "volume", "gal"),
        ("12 c", "temperature", "degC"),
        ("5 ML", "volume", "mL"),
        ("600 Mm", "length", "mm"),
    ],
)
def test_another_spelling_is_answered_with_the_unit_meant(text: str, dimension: str, meant: str):
    with pytest.raises(BadInput) as caught:
        units.read(text, dimension)
    assert str(caught.value.todo).startswith(f"Did you mean {meant}?")


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "L",
        "9**9**9",
        "9**9**9 L",
        "nan L",
        "inf L",
        ".inf",
        "1e5 L",
        "1,5 L",
        "1.5 1/2 L",
        "1/0 L",
        "--5 L",
        "5 L 3 L",
        "3 mL 2 L",
        "94 lb/bag",
        "12:30",
        "0x10 L",
        "1_000 L",
        "5 \N{FULLWIDTH DIGIT FIVE} L",
        "\N{ARABIC-INDIC DIGIT FIVE} L",
        "x" * 100_000,
        "9" * 100_000 + " L",
        "1 L; drop",
        "None",
    ],
)
def test_anything_else_is_refused(text: str):
    with pytest.raises(BadInput):
        units.read(text, "volume")


def test_temperatures_are_never_added_up():
    with pytest.raises(BadInput, match="is not one temperature"):
        units.read("5 degC 3 degF", "temperature")


@pytest.mark.parametrize(
    ("text", "sizes"),
    [
        ("600 x 300 x 200 mm", (600.0, 300.0, 200.0)),
        ("60 cm x 300 mm x 0.2 m", (600.0, 300.0, 200.0)),
        ("15 5/8 x 7 5/8 x 7 5/8 in", (396.875, 193.675, 193.675)),
    ],
)
def test_a_size_is_three_lengths(text: str, sizes: tuple[float, float, float]):
    assert tuple(side.value for side in units.size(text)) == sizes


@pytest.mark.parametrize(
    "text", ["600 x 300 mm", "600 x 300 x 200", "600 by 300 by 200 mm", "600 x 300 x 200 kg", "x x x"]
)
def test_anything_but_three_lengths_is_no_size(text: str):
    with pytest.raises(BadInput):
        units.size(text)


@pytest.mark.parametrize(
    ("text", "todo"),
    [
        ("600 x 300 x 200", "Write it behind the last of them, such as 600 x 300 x 200 mm or 600 x 300 x 200 in."),
        ("600 mm x 300 x 200", "Write it behind the last of them, such as 600 mm x 300 x 200 mm or"),
    ],
)
def test_a_size_without_a_unit_is_answered_as_a_whole(text: str, todo: str):
    with pytest.raises(BadInput, match=f"{text} has no unit for its last length") as caught:
        units.size(text)
    assert str(caught.value.todo).startswith(todo)


@pytest.mark.parametrize(
    ("text", "todo"), [("3", "Write 3 %."), ("0.03", "Write a number and the % sign, for example 3 %.")]
)
def test_a_percentage_without_its_sign_is_answered_with_it(text: str, todo: str):
    with pytest.raises(BadInput) as caught:
        units.percent(text)
    assert caught.value.todo == todo


def test_a_percentage_is_read_exactly():
    assert units.percent("0.1 %") == Decimal("0.001")


@pytest.mark.parametrize("text", ["3", "0.03", "%", "3 per cent", "1e2 %", "nan %"])
def test_a_percentage_needs_its_sign_and_a_plain_number(text: str):
    with pytest.raises(BadInput, match="not a percentage"):
        units.percent(text)


def test_a_ratio_is_two_numbers_of_parts():
    assert units.ratio("1:40") == (1.0, 40.0)


@pytest.mark.parametrize("text", ["40", "1:0", "0:40", "1/40", "1:2:3", "-1:40", "a:b"])
def test_anything_else_is_no_ratio(text: str):
    with pytest.raises(BadInput, match="not a ratio"):
        units.ratio(text)


@pytest.mark.parametrize(
    ("value", "dimension", "system", "text"),
    [
        (62.5, "volume", "SI", "62.5 L"),
        (112.5, "mass", "SI", "112.5 kg"),
        (18.92705892, "volume", "US", "5 gal"),
        (42.63768278, "mass", "US", "94 lb"),
        (406.4, "length", "US", "16 in"),
        (0.0, "temperature", "US", "32 degF"),
        (5.0, "temperature_difference", "US", "9 degF"),
        (640.738534958, "density", "US", "40 lb/ft3"),
        (56.78117676, "rate", "US", "15 gal/min"),
        (1545.0, "time", "US", "1 d 1 h 45 min"),
        (0.0, "time", "SI", "0 min"),
        (2.5, "time", "SI", "2.5 min"),
        (0.03, "fraction", "SI", "3 %"),
        (40.0, "ratio", "SI", "1:40"),
        (-0.0001, "temperature", "SI", "0 degC"),
        (1234567.0, "volume", "SI", "1234567 L"),
    ],
)
def test_values_print_in_the_units_of_the_yard(value: float, dimension: str, system: str, text: str):
    assert units.show(value, dimension, system) == text


@pytest.mark.parametrize(
    ("written", "system", "text"),
    [
        ("29 degF", "US", "29 degF"),
        ("40 degF", "US", "40 degF"),
        ("29 degF", "SI", "-1.7 degC"),
        ("-0.04 degC", "SI", "0 degC"),
    ],
)
def test_degrees_are_rounded_in_what_they_are_shown_in(written: str, system: str, text: str):
    assert units.show_degrees(units.read(written, "temperature").value, system) == text


@pytest.mark.parametrize(("inches", "text"), [(15.625, "15.625 in"), (11.0625, "11.0625 in"), (27.55906, "27.56 in")])
def test_sixteenths_of_an_inch_print_in_full(inches: float, text: str):
    assert units.show(inches * 25.4, "length", "US") == text


def test_a_size_prints_with_one_unit():
    assert units.show_size(406.4, 203.2, 203.2, "US") == "16 x 8 x 8 in"


@given(
    dimension=st.sampled_from(["length", "volume", "mass", "time", "density", "rate", "temperature"]),
    system=st.sampled_from(["SI", "US"]),
    value=st.floats(min_value=1.0, max_value=90_000.0),
)
def test_what_is_printed_reads_back_as_nearly_the_same(dimension: str, system: str, value: float):
    again = units.read(units.show(value, dimension, system), dimension).value
    assert again == pytest.approx(value, rel=2e-3, abs=0.02)


@given(
    dimension=st.sampled_from(sorted(units.UNITS)),
    whole=st.integers(0, 9999),
    share=st.sampled_from(["", ".5", " 1/2"]),
    data=st.data(),
)
def test_every_unit_turns_into_the_base_unit_and_back(dimension: str, whole: int, share: str, data: st.DataObject):
    unit = data.draw(st.sampled_from(sorted(units.UNITS[dimension])))
    value = units.read(f"{whole}{share} {unit}", dimension).value
    assert units.in_unit(value, dimension, unit) == pytest.approx(whole + 0.5 * bool(share), abs=1e-6)
    assert re.match(units.pattern(), f"{whole}{share} {unit}")


@given(st.text(max_size=80))
def test_no_text_whatever_does_more_than_be_refused(text: str):
    value = 0.0
    with contextlib.suppress(BadInput):
        value = units.read(text, "length").value
    assert -1e18 < value < 1e18


@pytest.mark.parametrize("text", ["2,5 %", "2,5%", "1,000 %"])
def test_a_percentage_with_a_comma_is_refused_for_its_comma(text):
    with pytest.raises(BadInput, match="has a comma in its number"):
        units.percent(text)


def test_a_ratio_with_a_comma_is_refused_for_its_comma():
    with pytest.raises(BadInput, match="1:40,5 has a comma in its number"):
        units.ratio("1:40,5")


@pytest.mark.parametrize(
    ("bare", "written"),
    [("5000", "5000 mm"), ("2700", "2700 mm or 2700 in"), ("7.2", "7.2 m or 7.2 in"), ("1000000", "")],
)
def test_a_length_without_a_unit_is_offered_in_units_that_fit_the_usual_one_first(bare, written):
    assert units.offered(bare, "length", "m", lambda mm: 1 <= mm <= 100_000) == written


def test_more_decimals_than_are_taken_are_told_as_that() -> None:
    with pytest.raises(BadInput, match=r"58\.1178515188 gal has more than nine decimals") as caught:
        units.read("58.1178515188 gal", "volume")
    assert caught.value.todo == "Write 58.117851519 gal."
    assert units.read("58.117851519 gal", "volume").unit == "gal"
    with pytest.raises(BadInput) as caught:
        units.read("-0.30000000000000004 degC", "temperature")
    assert caught.value.todo == "Write -0.3 degC."


@pytest.mark.parametrize(
    ("share", "places", "signed", "said"),
    [(0.594, 0, False, "59 %"), (0.067, 1, True, "+6.7 %"), (-0.03, 1, True, "-3.0 %"), (1, 0, False, "100 %")],
)
def test_a_percentage_is_parted_from_its_sign_by_a_blank(share, places, signed, said):
    assert units.show_percent(share, places, signed=signed) == said
