"""What people write beside the plain form of a unit, and what stays refused because it could mean two things."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun import units
from blockrun.errors import BadInput

PAIRS = [
    (dimension, spelling, unit)
    for dimension in units.UNITS
    for spelling, unit in sorted(units.spellings(dimension).items())
]


@pytest.mark.parametrize(
    ("written", "dimension", "plain"),
    [
        ("150l", "volume", "150 L"),
        ("150 l", "volume", "150 L"),
        ("1 litre", "volume", "1 L"),
        ("150 Liters", "volume", "150 L"),
        ("150\N{NO-BREAK SPACE}L", "volume", "150 L"),
        ("150\N{THIN SPACE}L", "volume", "150 L"),
        ("150\N{NARROW NO-BREAK SPACE}LITRES", "volume", "150 L"),
        ("0.2 m³", "volume", "0.2 m3"),
        ("0.2 m^3", "volume", "0.2 m3"),
        ("2 cubic metres", "volume", "2 m3"),
        ("7 cu ft", "volume", "7 ft3"),
        ("5 imperial gallons", "volume", "5 imp gal"),
        ("5 US gal", "volume", "5 gal"),
        ("28 days", "time", "28 d"),
        ("1 day", "time", "1 d"),
        ("24 hrs", "time", "24 h"),
        ("24 Hours", "time", "24 h"),
        ("1 hr 30 mins", "time", "1 h 30 min"),
        ("90secs", "time", "90 s"),
        ("25 kgs", "mass", "25 kg"),
        ("25 KG", "mass", "25 kg"),
        ("94lbs", "mass", "94 lb"),
        ("12C", "temperature", "12 degC"),
        ("5 °C", "temperature", "5 degC"),
        ("5 ° C", "temperature", "5 degC"),
        ("5℃", "temperature", "5 degC"),
        ("\N{MINUS SIGN}5 degrees C", "temperature", "-5 degC"),
        ("40 °F", "temperature", "40 degF"),
        ("9 °F", "temperature_difference", "9 degF"),
        ("600 kg/m³", "density", "600 kg/m3"),
        ("600 kg/m^3", "density", "600 kg/m3"),
        ("600 kg / m3", "density", "600 kg/m3"),
        ("600 kg per cubic metre", "density", "600 kg/m3"),
        ("95 g/l", "density", "95 g/L"),
        ("5.9 pcf", "density", "5.9 lb/ft3"),
        ("60 l/min", "rate", "60 L/min"),
        ("2 N/mm²", "strength", "2 N/mm2"),
        ("2 N / mm^2", "strength", "2 N/mm2"),
        ("2 mpa", "strength", "2 MPa"),
        ("300 PSI", "strength", "300 psi"),
        ("3000 lb", "force", "3000 lbf"),
        ("12 lbs", "mass", "12 lb"),
        ("60 litres per minute", "rate", "60 L/min"),
        ("60 lpm", "rate", "60 L/min"),
        ("15°", "angle", "15 deg"),
        ("7' 6\"", "length", "7 ft 6 in"),
        ("7'6\"", "length", "7 ft 6 in"),
        ("7\N{PRIME} 6½\N{DOUBLE PRIME}", "length", "7 ft 6 1/2 in"),
        ("3½ in", "length", "3 1/2 in"),
        ("2 feet 7 5/8 inches", "length", "2 ft 7 5/8 in"),
    ],
)
def test_a_common_spelling_reads_as_the_plain_one(written: str, dimension: str, plain: str):
    assert units.read(written, dimension) == units.read(plain, dimension)


@pytest.mark.parametrize(
    ("written", "dimension"),
    [
        ("12C", "volume"),
        ("12 c", "temperature"),
        ("5 gallons", "volume"),  # US or imperial
        ("5 Ml", "volume"),  # a million litres, to the letter
        ("600 Mm", "length"),
        ("5 m", "time"),
        ("5 M", "length"),
        ("2 tons", "mass"),
        ("60 L/m", "rate"),
        ("5'", "time"),
        ("5 oz", "volume"),
        ("1 1/2' x", "length"),
        ("7'-6\"", "length"),
    ],
)
def test_what_could_mean_two_things_is_not_guessed_at(written: str, dimension: str):
    with pytest.raises(BadInput):
        units.read(written, dimension)


@given(
    pair=st.sampled_from(PAIRS),
    number=st.sampled_from(["1", "24", "1.5", "1/2", "3 1/2"]),
    gap=st.sampled_from(["", " ", "  ", "\N{NO-BREAK SPACE}", "\N{THIN SPACE}", "\N{NARROW NO-BREAK SPACE}"]),
)
def test_every_spelling_reads_as_its_plain_form(pair: tuple[str, str, str], number: str, gap: str):
    dimension, spelling, unit = pair
    written = f"{number}{gap}{spelling}"
    assert units.read(written, dimension) == units.read(f"{number} {unit}", dimension)
    assert re.match(units.pattern(), written)


@given(
    pair=st.sampled_from([pair for pair in PAIRS if len(pair[1]) > 2 and "/" not in pair[1]]),
    case=st.sampled_from(["upper", "capitalize"]),
)
def test_a_word_may_start_or_stand_in_capitals(pair: tuple[str, str, str], case: str):
    dimension, spelling, unit = pair
    assert units.read(f"3 {getattr(spelling, case)()}", dimension) == units.read(f"3 {unit}", dimension)


@given(st.sampled_from(PAIRS))
def test_no_spelling_is_the_plain_form_of_another_unit(pair: tuple[str, str, str]):
    dimension, spelling, unit = pair
    assert spelling not in units.UNITS[dimension]
    assert unit in units.UNITS[dimension]


@pytest.mark.parametrize(
    "text",
    ["60x30x20 cm", "60 X 30 X 20 cm", "60\u00d730\u00d720cm", "60 \u00d7 30 \u00d7 20 cm", "60cm x 30cm x 20cm"],
)
def test_a_size_needs_no_spaces_and_takes_the_real_sign(text: str):
    assert [side.value for side in units.size(text)] == [600.0, 300.0, 200.0]


def test_a_percentage_and_a_ratio_take_other_spaces():
    assert (units.percent("3\N{NO-BREAK SPACE}%"), units.ratio("1\N{THIN SPACE}: 40")) == (
        units.percent("3 %"),
        (1, 40),
    )


@pytest.mark.parametrize(
    ("number", "dimension", "usual", "todo"),
    [
        ("24", "time", "h", "24 of what? Write 24 h."),
        ("28", "time", "d", "28 of what? Write 28 d."),
        ("95", "density", "g/L", "95 of what? Write 95 g/L or 95 lb/ft3."),
        ("-5", "temperature", "degC", "-5 of what? Write -5 degC or -5 degF."),
        ("10", "time", "", "10 of what? Write 10 min."),
    ],
)
def test_a_bare_number_is_answered_in_the_unit_usual_there(number: str, dimension: str, usual: str, todo: str):
    with pytest.raises(BadInput, match="has no unit") as caught:
        units.read(number, dimension, usual=usual)
    assert caught.value.todo == todo
