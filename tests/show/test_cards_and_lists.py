from __future__ import annotations

import dataclasses
import re

import pytest
from syrupy.assertion import SnapshotAssertion

from blockrun.errors import BadInput
from blockrun.mix import batch_sizes, proportions
from blockrun.order import MixSpec, Order
from blockrun.planner.audit import Finding
from blockrun.planner.plan import Plan
from blockrun.show.batch.card import cards_text
from blockrun.show.batch.load import measures
from blockrun.show.cautions import CAUTIONS
from blockrun.show.findings import findings_text
from blockrun.show.measures import by_volume
from blockrun.show.pictures.of_order import order_pictures
from blockrun.show.takeoff import moulds_decide, takeoff_text
from blockrun.site import Cubes, Sand
from tests.cure.cubes import cubes
from tests.order.domes.made import dome
from tests.show.test_summary import with_a_wall


def test_takeoff_at_80_columns(small_plan: Plan, golden: SnapshotAssertion) -> None:
    assert takeoff_text(small_plan.order, 80).plain == golden


def test_takeoff_in_us_units_at_40_columns(small_plan: Plan, golden: SnapshotAssertion) -> None:
    assert takeoff_text(small_plan.order, 40, "US").plain == golden


def test_a_sawn_piece_of_a_dome_has_the_number_it_has_in_the_pictures(small_plan: Plan) -> None:
    order = small_plan.order.model_copy(update={"parts": (dome(mix=small_plan.order.mixes[0].name),)})
    text = " ".join(takeoff_text(order, 80).plain.split())
    said = re.findall(r"x(\d+): saw [^;]*?(?= \d+ D|;| store,)", text)
    assert sorted(set(map(int, said))) == list(range(1, 1 + max(map(int, said))))
    picture = "".join(order_pictures(order, (), units="SI").values())
    assert {f"x{number}" for number in said} == set(re.findall(r">(?:\d+ )?(x\d+)<", picture))


def test_without_a_site_the_blocks_of_a_dome_are_said_to_hang_on_moulds(small_plan: Plan) -> None:
    order = small_plan.order.model_copy(update={"parts": (dome(mix=small_plan.order.mixes[0].name),)})
    note = "Moulds decide which blocks store is made of, and how many"
    assert note in takeoff_text(order, 200).plain
    assert note not in takeoff_text(order, 200, site=small_plan.site).plain
    assert not moulds_decide(small_plan.order, None)


def test_marks_alike_in_length_are_told_apart_by_what_is_set_in_where_they_are_summed(small_plan: Plan) -> None:
    order = small_plan.order.model_copy(update={"parts": (dome(mix=small_plan.order.mixes[0].name),)})
    sums = " ".join(takeoff_text(order, 200).plain.partition("\nall")[2].split())
    assert re.search(r"D\d+-2: [^;]* dry; wedges of \d", sums)


def of_rows(order: Order, *counts: int) -> Order:
    """An order of so many thin blocks, in a row each."""
    (part,) = order.parts
    thin = part.blocks.rows[-1]
    rows = tuple(dataclasses.replace(thin, count=count, course=number) for number, count in enumerate(counts, 1))
    blocks = dataclasses.replace(part.blocks, rows=rows)
    return order.model_copy(update={"parts": (part.model_copy(update={"blocks": blocks}),)})


def test_a_count_of_any_length_stands_clear_of_the_mark(small_plan: Plan) -> None:
    lines = takeoff_text(of_rows(small_plan.order, 1_000_000, 3), 40).plain.split("\n")
    assert "1000000 thin 600 x 300 x 100 mm, light:" in lines
    assert "      3 thin 600 x 300 x 100 mm, light:" in lines
    assert max(map(len, lines)) <= 40


def test_one_block_says_its_mass_once(small_plan: Plan) -> None:
    lines = takeoff_text(of_rows(small_plan.order, 1), 80).plain.split("\n")
    assert "    1 thin 600 x 300 x 100 mm, light: 18 L, 10.8 kg dry" in lines


def test_notes_have_a_heading_and_begin_with_a_dash(small_plan: Plan) -> None:
    lines = takeoff_text(with_a_wall(small_plan).order, 40).plain.split("\n")
    notes = lines[lines.index("notes on north") + 1 :]
    assert notes
    assert {line[:2] for line in notes} == {"- ", "  "}


def test_dry_masses_of_a_mix_given_wet_say_which_foam_they_take(small_plan: Plan) -> None:
    light, heavy = sorted(small_plan.order.mixes, key=lambda mix: mix.name, reverse=True)
    wet = light.model_copy(update={"oven_dry_density_kg_m3": None, "wet_density_kg_m3": 806.18})
    order = small_plan.order.model_copy(update={"mixes": (heavy, wet)})
    text = takeoff_text(order, 80).plain
    assert "2 thin 600 x 300 x 100 mm, light: 36 L, 21.6 kg dry, 10.8 kg each" in text
    assert "take foam of 95 kg/m3" in text


def test_with_a_site_dry_masses_take_its_foam(small_plan: Plan) -> None:
    light, heavy = sorted(small_plan.order.mixes, key=lambda mix: mix.name, reverse=True)
    wet = light.model_copy(update={"oven_dry_density_kg_m3": None, "wet_density_kg_m3": 806.18})
    order = small_plan.order.model_copy(update={"mixes": (heavy, wet)})
    generator = small_plan.site.foam_generator.model_copy(update={"weighed_kg_m3": 50.0})
    site = small_plan.site.model_copy(update={"foam_generator": generator})
    text = takeoff_text(order, 80, site=site).plain
    # cement is (806.18 - 50) of 1833.6 - 50 parts, 1222.4 of them: 518.2 kg, x 1.2 x 18 L
    assert "36 L, 22.39 kg dry, 11.19 kg each" in text
    assert "take foam of" not in text


def test_masses_of_a_mix_asked_for_by_its_strength_want_the_cubes_of_a_site(small_plan: Plan) -> None:
    strong = MixSpec(name="light", strength_mpa=1, slurry_water_cement=0.5)
    order = small_plan.order.model_copy(update={"mixes": (strong, *small_plan.order.mixes[1:])})
    with pytest.raises(BadInput, match="only the cubes of a yard tell what it weighs") as refused:
        takeoff_text(order, 80)
    assert "--site" in str(refused.value.todo)


def test_cards_at_80_columns(small_plan: Plan, golden: SnapshotAssertion) -> None:
    assert cards_text(small_plan.site, small_plan.order, 80).plain == golden


def test_every_card_ends_in_the_cautions(small_plan: Plan) -> None:
    words = " ".join(cards_text(small_plan.site, small_plan.order, 40).plain.split())
    assert all(caution in words for caution in CAUTIONS)


def test_a_mix_no_batch_can_be_made_of_says_why(small_plan: Plan) -> None:
    site = small_plan.site.model_copy(update={"pour_life_min": 5.0})
    text = cards_text(site, small_plan.order, 80).plain
    assert "No batch can be made: the smallest batch" in text


@pytest.mark.parametrize("width", [30, 40, 60, 80])
def test_no_line_is_wider_than_the_screen(small_plan: Plan, width: int) -> None:
    for text in (cards_text(small_plan.site, small_plan.order, width), takeoff_text(small_plan.order, width)):
        assert max(map(len, text.plain.split("\n"))) <= width


def test_generator_seconds_and_dilution_follow_from_the_foam(small_plan: Plan) -> None:
    site = small_plan.site
    mix = proportions(slurry_water_cement=0.5, foam_density_kg_m3=95, oven_dry_density_kg_m3=600)
    size = batch_sizes(site, site.mixers[0], mix)[-1]
    load = measures(size, size.bags, mix, site)
    # 200 L of it: 59.13 % foam is 118.3 L, at 60 L/min 118 s; 95 g/L of it is 11.23 kg, one part agent in 41
    assert (load.bags, load.makes) == ("4\u00a0bags", "200\u00a0L")
    assert (load.foam, load.generator, load.foam_mass) == ("118\u00a0L", "118\u00a0s", "11.2\u00a0kg")
    # and 10 L of foam are weighed, 0.95 kg: 12.18 L of dilution, 1:40
    assert load.dilution.replace("\u00a0", " ") == (
        "297 mL of agent in 11.9 L of water, 12.2 L in all: 11.2 L for foam, 0.95 L to weigh"
    )


@pytest.mark.parametrize(("litres", "said"), [(79.333, "79.3 L"), (160.943, "161 L"), (2011.6, "2012 L")])
def test_volumes_are_said_to_three_digits_or_the_whole_litre(litres: float, said: str) -> None:
    assert by_volume(litres, "SI").replace("\u00a0", " ") == said


@pytest.mark.parametrize(
    ("fluid_ounces", "said"),
    [
        (0.593, "0.593 fl oz"),
        (31.9, "31.9 fl oz"),
        (32, "1 qt"),
        (89.3, "2.79 qt"),
        (127.9, "4 qt"),
        (128, "1 gal"),
        (1280, "10 gal"),
    ],
)
def test_us_volumes_are_in_the_marks_of_a_jug_from_a_quart_on_in_those_of_a_bucket(
    fluid_ounces: float, said: str
) -> None:
    litres = fluid_ounces * 3.785411784 / 128
    assert by_volume(litres * (1 + 1e-12), "US").replace("\u00a0", " ") == said


def test_findings_are_told_once_each_with_where_to_look() -> None:
    found = [
        Finding("rack places", "rack west", "rack west holds 5 blocks, but has 4 places"),
        Finding("x", "block 3", "so", "casts.csv row 4"),
        Finding("y", "block 3", "so", "casts.csv row 4"),
    ]
    assert findings_text(found, 50, 80, "SI").plain.split("\n") == [
        "2 things wrong with this plan:",
        "- rack west holds 5 blocks, but has 4 places",
        "- so (casts.csv row 4)",
    ]


def test_a_good_plan_is_said_to_be_one() -> None:
    assert findings_text([], 50, 80, "SI").plain == "Nothing is wrong with this plan: it passes all 50 checks."


def test_a_take_off_with_a_site_names_every_block_too_heavy_to_lift(small_plan: Plan) -> None:
    text = takeoff_text(small_plan.order, 80, "US", site=small_plan.site).plain
    heavy = text.partition("heavy to lift\n")[2].split("\n- ")
    assert [said.split(" weighs ")[0].removeprefix("- ") for said in heavy[:-2]] == ["sill", "full", "thin", "half"]
    assert "Plans count one person for a strip" in " ".join(heavy[-1].split())
    assert "89.5 lb wet, over the 26.1 lb that one person" in heavy[0]
    assert "heavy to lift" not in takeoff_text(small_plan.order, 80).plain


def test_a_take_off_with_cubes_names_every_block_too_weak_to_lift_when_it_is_stripped(small_plan: Plan) -> None:
    found = Cubes(tuple(cubes([(density, age) for density in (600.0, 750.0, 900.0) for age in (1, 3, 7)])))
    curing = small_plan.site.curing.model_copy(update={"cubes": found})
    site = small_plan.site.model_copy(update={"curing": curing})
    weak = takeoff_text(small_plan.order, 80, site=site).plain.partition("weak to lift\n")[2]
    assert weak.startswith("- thin has 0.255 MPa when it is stripped, and takes 0.427 MPa")
    assert "weak to lift" not in takeoff_text(small_plan.order, 80, site=small_plan.site).plain


def test_a_card_weighs_damp_sand_and_pours_less_water(small_plan: Plan) -> None:
    sandy = MixSpec(name="sandy", wet_density_kg_m3=1200, slurry_water_cement=0.5, sand=1)
    order = small_plan.order.model_copy(update={"mixes": (sandy,)})
    stock = small_plan.site.stock.model_copy(update={"sand": Sand(moisture=0.04)})
    damp = small_plan.site.model_copy(update={"stock": stock})
    dry_said, damp_said = (cards_text(site, order, 80).plain.replace("\u00a0", " ") for site in (small_plan.site, damp))
    # 37.5 kg of sand with 4 % of water: 39 kg, and 1.5 L less of 18.75
    assert "1 1/2 bags of cement (37.5 kg), 37.5 kg of sand, 18.8 L of water" in dry_said
    assert "1 1/2 bags of cement (37.5 kg), 39 kg of damp sand, 17.2 L of water" in damp_said
    assert "write moisture under sand in the stock of the site" in " ".join(dry_said.split())


def test_takeoff_says_what_to_mend_before_planning(small_plan: Plan) -> None:
    (gang, tray) = small_plan.site.moulds
    site = small_plan.site.model_copy(
        update={"moulds": (gang, tray.model_copy(update={"cavity": (600.0, 300.0, 90.0)}))}
    )
    mend = takeoff_text(small_plan.order, 80, site=site).plain.partition("to mend before planning\n")[2]
    assert "wall.csv:7: no mould can cast block thin (600 x 300 x 100 mm). The nearest is " in " ".join(mend.split())


def test_takeoff_of_what_can_be_planned_has_nothing_to_mend(small_plan: Plan) -> None:
    assert "to mend" not in takeoff_text(small_plan.order, 80, site=small_plan.site).plain


def test_courses_of_the_same_blocks_are_told_together(small_plan: Plan) -> None:
    lines = takeoff_text(of_rows(small_plan.order, 4, 3, 4, 4, 2), 80).plain.split("\n")
    assert [line for line in lines if "course" in line] == [
        "wall, in each of courses 1, 3 and 4",
        "wall, course 2",
        "wall, course 5",
    ]
    assert lines.count("    4 thin 600 x 300 x 100 mm, light: 72 L, 43.2 kg dry, 10.8 kg each") == 1
