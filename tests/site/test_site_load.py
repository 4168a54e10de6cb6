"""A site file read, its numbers, its digest and its schema."""

import re
from collections.abc import Callable
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest
from pydantic import BaseModel, ValidationError

from blockrun.errors import BadInput
from blockrun.site import Crew, Mixer, Site, digest_site, load_site, site_schema
from blockrun.site.file_model import key_of

CONFIGS = Path(__file__).parents[2] / "configs"
Load = Callable[..., Site]


def test_every_value_is_kept_in_the_unit_of_its_name(yard: Load):
    site = yard()
    mixer, mould = site.mixers[0], site.moulds[0]
    assert (mixer.usable_volume_l, mixer.bag_step, mixer.pour_time_min) == (220.0, Fraction(1, 2), 10)
    assert (mould.length_mm, mould.height_mm, mould.thickness_mm) == (600.0, 300.0, 200.0)
    assert (mould.bases, mould.sides_off_at_h, mould.sides_time_min) == (10, 18.0, 6)
    assert (site.foam_generator.foam_density_kg_m3, site.foam_generator.agent_parts) == (95.0, 1.0)
    assert site.foam_generator.water_parts == 40.0
    assert (site.curing.strip_at_h, site.curing.rack_for_min, site.curing.lay_at_min) == (24.0, 10080, 40320)
    assert (site.overfill, site.pour_life_min, site.move_time_min) == (0.03, 25.0, 1.0)
    assert site.chores[0].at == (510, 900)
    assert site.stock.cement.deliveries[0].amount == 80.0
    assert site.stock.foaming_agent.deliveries[0].day == date(2027, 4, 20)


def test_what_may_be_left_out_has_its_default(yard: Load):
    site = yard(
        ("overfill: 3 %\n", ""),
        ("    bases: 10\n    sides_off_at: 18 h\n    sides_time: 6 min\n", ""),
        ("    stop_ends: true\n    wedges: [0 deg]\n", ""),
        ("  last_foam: 15:30\n", ""),
        ("  breaks: [12:00-12:30]\n  closed: [2027-04-16]\n  set_up: 30 min\n  close_down: 30 min\n", ""),
        (", away: [{day: 2027-04-14, people: 1}]", ""),
        ("chores: [{chore: wet the rack, at: [08:30, 15:00], time: 10 min, people: 1}]\n", ""),
        (", price: 6.10", ""),
        ("units: SI\n", ""),
    )
    mould = site.moulds[0]
    assert (site.overfill, mould.bases, mould.stop_ends, mould.wedges_deg) == (0.0, None, False, (0.0,))
    assert (site.calendar.last_foam_min, site.calendar.windows) == (990, ((450, 990),))
    assert (site.crew.away, site.chores, site.stock.cement.price, site.units) == ({}, (), None, "SI")


@pytest.mark.parametrize(("written", "minutes"), [("10 min", 10), ("10.2 min", 11), ("0.1 h", 6), ("90 s", 2)])
def test_lengths_of_tasks_round_up_to_whole_minutes(yard: Load, written: str, minutes: int):
    assert yard(("pour_time: 10 min", f"pour_time: {written}")).mixers[0].pour_time_min == minutes


def test_us_units_are_read_beside_metric_ones(yard: Load):
    site = yard(("usable_volume: 220 L", "usable_volume: 58 gal"), ("least_air: 5 degC", "least_air: 41 degF"))
    assert site.mixers[0].usable_volume_l == pytest.approx(219.554, abs=1e-3)
    assert site.curing.least_air_c == 5.0


def test_people_away_on_one_day_add_up(yard: Load):
    site = yard(("[{day: 2027-04-14, people: 1}]", "[{day: 2027-04-14, people: 1}, {day: 2027-04-14, people: 1}]"))
    assert (site.crew.on(date(2027, 4, 14)), site.crew.on(date(2027, 4, 15))) == (1, 3)


def test_the_files_read_are_named(yard: Load, tmp_path: Path):
    assert yard().sources == {"": tmp_path / "yard.yaml", "weather.csv": tmp_path / "weather.csv"}


def test_a_file_that_was_moved_is_read_where_it_lies(yard: Load, tmp_path: Path):
    site = yard()
    moved = (tmp_path / "weather.csv").rename(tmp_path / "elsewhere.csv")
    assert load_site(tmp_path / "yard.yaml", files={"weather.csv": moved}).weather == site.weather


def test_lists_in_another_order_give_the_same_site(yard: Load):
    racks = "  - {name: east, places: 120}\n"
    other = "  - {name: west, places: 10}\n"
    one, two = yard((racks, racks + other)), yard((racks, other + racks))
    assert one.racks == two.racks
    assert digest_site(one) == digest_site(two)


def test_comments_spacing_and_units_do_not_change_the_digest(yard: Load):
    same = yard(("site: Test yard", "# a note\nsite:   Test yard"), ("usable_volume: 220 L", "usable_volume: 0.22 m3"))
    assert digest_site(same) == digest_site(yard())


PLAIN_SPELLINGS = [
    ("[mon, tue, wed, thu, fri, sat]", "[Monday, tues, WED, Thur, friday, Sat]"),
    ("07:30-16:30", "07:30 \N{EN DASH} 16:30"),
    ("usable_volume: 220 L", "usable_volume: 220 litres"),
    ("bag_step: 1/2", "bag_step: ½"),
    ("slurry_time: 10 min", "slurry_time: 10 minutes"),
    ("60 L/min", "60 l/min"),
    ("cavity: 600 x 300 x 200 mm", "cavity: 60x30x20 cm"),
    ("strip_at: 24 h", "strip_at: 1 day"),
    ("least_air: 5 degC", "least_air: 5 °C"),
    ("bag: 25 kg", "bag: 25 kgs"),
    ("overfill: 3 %", "overfill: 3\N{NO-BREAK SPACE}%"),
]


@pytest.mark.parametrize("edit", PLAIN_SPELLINGS)
def test_another_spelling_of_the_same_does_not_change_the_digest(yard: Load, edit: tuple[str, str]):
    assert digest_site(yard(edit)) == digest_site(yard())


@pytest.mark.parametrize("edit", PLAIN_SPELLINGS)
def test_the_schema_takes_other_spellings_too(edit: tuple[str, str]):
    key, _, value = edit[1].partition(": ")
    found = [model["properties"][key] for model in site_schema()["$defs"].values() if key in model["properties"]]
    assert all(re.search(entry["pattern"], value) for entry in found if "pattern" in entry)


@pytest.mark.parametrize("edit", [("count: 6", "count: 7"), ("price: 6.10", "price: 6.20"), ("1:40", "1:41")])
def test_another_value_changes_the_digest(yard: Load, edit: tuple[str, str]):
    assert digest_site(yard(edit)) != digest_site(yard())


def test_other_weather_changes_the_digest(yard: Load, tmp_path: Path):
    before = digest_site(yard())
    weather = tmp_path / "weather.csv"
    weather.write_text(weather.read_text().replace("2027-04-07,2,12", "2027-04-07,2,13"))
    assert digest_site(load_site(tmp_path / "yard.yaml")) != before


def test_rows_of_weather_in_another_order_do_not(yard: Load, tmp_path: Path):
    before = digest_site(yard())
    header, *rows = (tmp_path / "weather.csv").read_text().splitlines()
    (tmp_path / "weather.csv").write_text("\n".join([header, *reversed(rows)]))
    assert digest_site(load_site(tmp_path / "yard.yaml")) == before


@pytest.mark.parametrize("name", ["small-yard", "us-yard"])
def test_each_ready_yard_loads(name: str):
    site = load_site(CONFIGS / f"{name}.yaml")
    assert site.weather.first <= site.calendar.start <= site.weather.last


def test_python_gives_numbers_in_the_unit_of_the_name():
    mixer = Mixer(
        name="drum",
        usable_volume_l=220,
        least_volume_l=80,
        bag_step=Fraction(1, 2),
        slurry_time_min=10,
        foam_time_min=4,
        pour_time_min=10,
        wash_time_min=4,
        left_behind_l=4,
        crew=3,
    )
    assert repr(mixer.usable_volume_l) == "220.0"


def test_python_is_held_to_the_same_limits():
    with pytest.raises(ValidationError, match="at least 1"):
        Crew(people=0)


def test_python_must_give_the_type_of_the_field():
    with pytest.raises(ValidationError, match="valid integer"):
        Crew.model_validate({"people": 2.5})


@pytest.mark.parametrize(("key", "said"), [("weighed: 12 g/L", "20 g/L"), ("weighed: 501 g/L", "500 g/L")])
def test_foam_that_a_check_would_not_believe_is_refused_in_the_site_too(yard: Load, key: str, said: str) -> None:
    with pytest.raises(BadInput, match=said):
        yard(("foam_density: 95 g/L", f"foam_density: 95 g/L, {key}"))


def test_foam_weighs_what_it_weighed_last(yard: Load):
    assert yard().foam_generator.density_kg_m3 == 95.0
    weighed = yard(("foam_density: 95 g/L", "foam_density: 95 g/L, weighed: 98 g/L")).foam_generator
    assert (weighed.density_kg_m3, weighed.foam_density_kg_m3) == (98.0, 95.0)


def test_buckets_have_the_sizes_that_are_named(yard: Load):
    assert yard().buckets is None
    buckets = yard(("pour_life:", "buckets: {water: 10 L, mix: 5 gal, empty: 600 g}\npour_life:")).buckets
    assert (buckets.water_l, buckets.foam_l, buckets.mix_l) == (10.0, None, 18.92705892)
    assert (buckets.empty_kg, buckets.tolerance) == (0.6, 0.05)


def test_a_tolerance_of_nought_lets_nothing_pass_and_is_refused(yard: Load):
    with pytest.raises(BadInput, match="tolerance"):
        yard(("pour_life:", "buckets: {tolerance: 0 %}\npour_life:"))


def test_a_site_cannot_be_changed_once_read(yard: Load):
    with pytest.raises(ValidationError, match="frozen"):
        yard().move_time_min = 3.0


@pytest.mark.parametrize(
    ("attribute", "key"),
    [
        ("usable_volume_l", "usable_volume"),
        ("rate_l_min", "rate"),
        ("foam_density_kg_m3", "foam_density"),
        ("least_air_c", "least_air"),
        ("on_hand_bags", "on_hand"),
        ("strip_at_h", "strip_at"),
        ("places", "places"),
    ],
)
def test_a_key_is_the_attribute_without_its_unit(attribute: str, key: str):
    assert key_of(attribute) == key


def test_the_schema_describes_the_keys_of_the_file():
    schema = site_schema()
    assert schema["required"][:3] == ["site", "calendar", "mixers"]
    volume = schema["$defs"]["Mixer"]["properties"]["usable_volume"]
    assert (volume["type"], volume["examples"]) == ("string", ["220 L"])
    assert "a volume" in volume["description"]
    assert schema["properties"]["weather"]["type"] == ["string", "array"]
    assert schema["$defs"]["MouldKind"]["properties"]["bases"]["type"] == "integer"
    assert schema["$defs"]["MouldKind"]["additionalProperties"] is False


def test_every_key_of_the_schema_is_described():
    for name, model in site_schema()["$defs"].items():
        for key, entry in model["properties"].items():
            assert entry.get("description"), f"{name}.{key}"


def test_the_schema_takes_what_the_reader_takes():
    """Each example of the schema fits its own pattern."""
    patterns = 0
    for model in site_schema()["$defs"].values():
        for entry in model["properties"].values():
            if "pattern" in entry:
                patterns += 1
                assert re.search(entry["pattern"], entry["examples"][0])
    assert patterns > 20


def test_models_say_what_they_are():
    assert all(issubclass(kind, BaseModel) and kind.__doc__ for kind in (Site, Mixer, Crew))
