import pytest

from blockrun.errors import BadInput, OutOfRange
from blockrun.mix.weighing import Container, read_density

BUCKET = Container(10, 0.4, units="SI")


@pytest.mark.parametrize("text", ["812kg/m3", "812 g/L", "0.812kg/L", "8.52kg", "8520 g"])
def test_a_density_or_what_the_full_container_weighs_is_the_same(text):
    assert read_density(text, BUCKET) == pytest.approx(812)


def test_pounds_in_gallons_are_read():
    assert read_density("13.5lb", Container(2 * 3.785411784, units="SI")) == pytest.approx(
        13.5 * 0.45359237 / 7.570823568 * 1000
    )


@pytest.mark.parametrize("text", ["812", "8.6 L", "heavy", ""])
def test_what_is_neither_says_what_to_write(text):
    with pytest.raises(BadInput) as refused:
        read_density(text, BUCKET)
    assert "8.6kg" in refused.value.todo


@pytest.mark.parametrize("text", ["-5 kg/m3", "0 g/L"])
def test_nothing_weighs_nought(text):
    with pytest.raises(BadInput, match="not above nought"):
        read_density(text, BUCKET)


def test_a_full_container_weighs_more_than_an_empty_one():
    with pytest.raises(OutOfRange, match=r"weighs 0\.4 kg, and empty 0\.4 kg"):
        read_density("0.4 kg", BUCKET)
    with pytest.raises(OutOfRange, match=r"weighs 0\.5 lb, and empty 0\.882 lb"):
        read_density("0.5 lb", Container(10, 0.4, units="US"))


@pytest.mark.parametrize(("volume_l", "empty_kg"), [(0.04, 0), (1001, 0), (10, -0.1)])
def test_a_container_that_is_none_is_refused(volume_l, empty_kg):
    with pytest.raises(OutOfRange):
        Container(volume_l, empty_kg, units="SI")
