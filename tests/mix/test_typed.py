import pytest

from blockrun.errors import BadInput, OutOfRange
from blockrun.mix.check import Tolerances
from blockrun.mix.seen import Seen
from blockrun.mix.typed import read_seen, read_tolerances, weighed_in
from blockrun.site import Buckets


def test_what_is_typed_is_read():
    typed = {
        "foam": "102g/L", "slurry": "18.3kg", "weight": "8.6 kg", "temperature": "18degC", "mixed": "4min",
        "since": "6 min", "ran": "95 s", "sank": "12mm", "of": "200mm", "container": None, "empty": None,
    }  # fmt: skip
    assert read_seen(typed, "SI", None) == Seen(102, 1830, 860, 18, 4, 6, pytest.approx(95), pytest.approx(0.06))


def test_what_was_not_measured_stays_open():
    assert read_seen({}, "SI", None) == Seen()


def test_a_container_and_its_empty_weight_go_for_all_that_is_weighed():
    seen = read_seen({"weight": "4.7kg", "foam": "0.875kg", "container": "5L", "empty": "0.4kg"}, "SI", None)
    assert (seen.wet_kg_m3, seen.foam_kg_m3) == (pytest.approx(860), pytest.approx(95))


def test_the_usual_container_of_a_us_yard_is_two_gallons():
    seen = read_seen({"weight": "13.5 lb", "temperature": "64.4degF"}, "US", None)
    assert seen.wet_kg_m3 == pytest.approx(13.5 * 0.45359237 / 7.570823568 * 1000)
    assert seen.slurry_c == pytest.approx(18)


def test_the_buckets_of_the_site_are_what_was_weighed_in():
    buckets = Buckets(foam_l=20.0, mix_l=5.0, empty_kg=0.5, tolerance=0.04)
    seen = read_seen({"foam": "2.4kg", "weight": "4.8kg", "slurry": "9.65kg"}, "SI", buckets)
    assert (seen.foam_kg_m3, seen.wet_kg_m3, seen.slurry_kg_m3) == (pytest.approx(95), pytest.approx(860), 1830)
    assert read_seen({"foam": "0.95kg", "container": "10L"}, "SI", buckets).foam_kg_m3 == pytest.approx(95)
    assert read_tolerances({"within": "3%"}, buckets) == Tolerances(wet=0.03, foam=0.04)


def test_what_is_weighed_in_a_container_of_its_own_names_it():
    seen = read_seen({"foam": "1.96kg/20L", "weight": "9.0kg", "slurry": "18.3kg", "container": "10L"}, "SI", None)
    assert (seen.foam_kg_m3, seen.wet_kg_m3, seen.slurry_kg_m3) == (pytest.approx(98), pytest.approx(900), 1830)
    buckets = Buckets(foam_l=20.0, mix_l=5.0, empty_kg=0.5)
    assert read_seen({"weight": "9.0kg/10L"}, "SI", buckets).wet_kg_m3 == pytest.approx(900)
    assert list(weighed_in({"foam": "1.96kg/20L", "weight": "9kg"}, "SI", None).values()) == [["foam"], ["mix"]]


@pytest.mark.parametrize("typed", [{"weight": "8.6kg/0L"}, {"weight": "8.6kg", "container": "0L"}])
def test_a_container_of_nought_is_not_the_usual_one(typed):
    with pytest.raises(OutOfRange, match="a container of 0 L is none to weigh with"):
        read_seen(typed, "SI", None)


def test_sinking_may_be_a_share():
    assert read_seen({"sank": "6%"}, "SI", None).sank == pytest.approx(0.06)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"foam": "102"}, "--foam: 102 has no unit"),
        ({"mixed": "4 kg"}, "--mixed: 4 kg is a mass"),
        ({"container": "big"}, "--container: big"),
        ({"sank": "12mm"}, "--sank 12mm of what height"),
        ({"of": "200mm"}, "--of goes with"),
        ({"sank": "6%", "of": "200mm"}, "--of goes with"),
        ({"sank": "12mm", "of": "0mm"}, "--of 0mm is no height"),
    ],
)
def test_what_cannot_be_read_names_its_option(typed, said):
    with pytest.raises(BadInput) as refused:
        read_seen(typed, "SI", None)
    assert refused.value.what.startswith(said)
    assert refused.value.todo


def test_tolerances_are_percentages():
    told = {"within": "4%", "foam-within": "8 %", "sinks": "2%"}
    assert read_tolerances(told, None) == Tolerances(wet=0.04, foam=0.08, sank=0.02)
    assert read_tolerances({}, None) == Tolerances()


@pytest.mark.parametrize("written", ["5", "0%", "100%", "-3%", "some"])
def test_a_tolerance_that_is_none_says_what_to_write(written):
    with pytest.raises(BadInput, match="--within"):
        read_tolerances({"within": written}, None)


def test_a_decimal_comma_is_a_point_as_in_the_journal():
    seen = read_seen({"foam": "0,95kg/10L", "weight": "8,1kg", "sank": "2,5 %"}, "SI", None)
    assert (seen.foam_kg_m3, seen.wet_kg_m3, seen.sank) == pytest.approx((95, 810, 0.025))


def test_a_comma_that_may_part_off_thousands_is_refused_with_its_option():
    with pytest.raises(BadInput, match="--weight: 1,250 may be a thousand or a part of one"):
        read_seen({"weight": "1,250kg/m3"}, "SI", None)
