"""The batch card: the figures of `mix` and `check`, large, in the order of the hands, none cut off."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from blockrun.mix import Solids, proportions
from blockrun.planner.lots import new_lots
from blockrun.planner.plan import Plan
from blockrun.show.batch.card import cards_text
from blockrun.show.batch.check import check_text
from blockrun.show.cautions import BURNS
from blockrun.show.day import Pour
from blockrun.show.lots import trial_asked
from blockrun.show.paper.asked import Asked
from blockrun.show.paper.cards import batch_cards
from blockrun.show.paper.press import Head, Sheet, print_sheets
from blockrun.show.paper.size import Paper
from blockrun.show.paper.too_heavy import TooHeavy, too_heavy
from blockrun.site import Buckets
from tests.show.paper.conftest import HEAD
from tests.show.paper.read import Page, moulds_named, read_back

DEMO = Path(__file__).parents[2] / "plans" / "demo"
US = replace(HEAD, paper=Paper.LETTER, units="US")


def cards_of(plan: Plan) -> list[Sheet]:
    asked = Asked(plan)
    return [sheet for day in asked.days for sheet in batch_cards(asked, day)]


def read_cards(plan: Plan) -> list[Page]:
    return read_back(print_sheets(HEAD, cards_of(plan)))


def read_first(plan: Plan, head: Head = HEAD) -> Page:
    """The page of the first cards; the others are not printed."""
    page, *_ = read_back(print_sheets(head, cards_of(plan)[:1]))
    return page


def with_site(plan: Plan, **changes: Any) -> Plan:
    return replace(plan, site=plan.site.model_copy(update=changes))


@pytest.fixture(scope="module")
def pages(demo_plan: Plan) -> list[Page]:
    return read_cards(demo_plan)


@pytest.fixture(scope="module")
def data(demo_plan: Plan) -> dict[str, Any]:
    """Cards of the demo by the number of their batch."""
    return {card["batch"]: card for sheet in cards_of(demo_plan) for card in sheet.data["cards"]}


def test_every_batch_has_its_card(demo_plan: Plan, pages: list[Page]) -> None:
    numbers = [int(number) for page in pages for number in re.findall(r"BATCH (\d+) ", page.words)]
    assert numbers == demo_plan.tables.batches["batch"].tolist()


def test_each_half_says_what_burns_and_which_card_of_how_many_it_is(demo_plan: Plan, pages: list[Page]) -> None:
    words = " ".join(page.words for page in pages)
    cards = len(demo_plan.tables.batches)
    assert words.count(BURNS) == cards
    assert re.findall(r"card (\d+) of (\d+)", words) == [(str(n + 1), str(cards)) for n in range(cards)]
    assert min(size for page in pages for size in page.sizes_of(BURNS)) >= 8.5


def test_two_cards_lie_on_a_page_which_is_on_its_side(pages: list[Page]) -> None:
    assert all(page.width > page.height for page in pages)
    assert max(page.words.count("BATCH") for page in pages) == 2


def test_every_mould_of_a_batch_stands_on_its_card(demo_plan: Plan, data: dict[str, Any]) -> None:
    casts = demo_plan.tables.casts
    for batch, of_batch in casts.groupby("batch"):
        said = " ".join(f"{mould['names']} {mould['contents']}" for mould in data[str(batch)]["moulds"])
        assert all(mark in said for mark in of_batch["mark"])
        assert set(of_batch["mould"]) <= moulds_named(said)


def test_figures_are_those_that_mix_prints(demo_plan: Plan, data: dict[str, Any]) -> None:
    printed = cards_text(demo_plan.site, demo_plan.order, 400).plain
    of_mix = dict(re.findall(r"── *\n?|^mix (\w+) ─+\n(.*?)(?=^mix|\Z)", printed, re.MULTILINE | re.DOTALL))
    for card in data.values():
        said = of_mix[card["mix"]]
        figures = {step["do"]: step["figure"].replace("\u00a0", " ") for step in card["steps"]}
        asides = {step["do"]: step["aside"].replace("\u00a0", " ") for step in card["steps"]}
        (line,) = re.findall(rf"^{figures['Cement']} of cement .*\n.*\n.*", said, re.MULTILINE)
        agent, water = figures["Agent"].split(" in ")
        assert f"{figures['Water']} of water" in line
        in_all = asides["Agent"].removeprefix("in water, ")
        assert f"run the generator {figures['Foam in']}; {agent} of agent in {water} of water, {in_all}" in line
        assert f"10 L of foam weigh {figures['weigh foam']}" in said
        assert f"10 L of mix weigh {figures['weigh mix']}" in said


def test_foam_for_a_mix_too_heavy_is_what_check_says(data: dict[str, Any]) -> None:
    for batch in ("1", "11"):
        heavy = data[batch]["heavy"]
        assert heavy["rows"]
        for row in heavy["rows"]:
            weighs = row["weighs"].replace("\u00a0", "")
            answer = check_text([DEMO], {"batch": batch, "weight": weighs}, 400).plain.replace("\u00a0", " ")
            foam, runs = row["foam"].replace("\u00a0", " "), row["runs"].replace("\u00a0", " ")
            assert f"add {foam} of foam" in answer
            assert f"run the generator {runs}" in answer
            (begin,) = re.findall(r"begin by (\d+) min", answer)
            assert heavy["begin_within_min"] <= int(begin)


def test_the_first_weight_that_is_too_heavy_is_one_that_check_corrects_and_the_limit_itself_passes() -> None:
    passes = check_text([DEMO], {"batch": "1", "weight": "8.4kg"}, 80).plain
    assert "PASS" in passes
    assert "CORRECT" in check_text([DEMO], {"batch": "1", "weight": "8.5kg"}, 80).plain


def test_the_first_row_is_for_all_that_is_over_the_limit_so_that_no_weight_is_untold() -> None:
    """8.41 kg, the first weight that does not pass, with the foam of the first row, 8.5 kg, is in the limits again."""
    answer = check_text([DEMO], {"batch": "1", "weight": "8.5kg"}, 400).plain.replace("\u00a0", " ")
    (added,) = re.findall(r"add ([\d.]+) L of foam", answer)
    # batch 1 was to make 200 L at 806.18 g/L, and is 161.24 kg at 841 g/L; foam of 95 g/L comes on top of it
    mass_kg = 200 * 0.80618
    makes_l = mass_kg / 0.841
    assert 7.7 < 10 * (mass_kg + 0.095 * float(added)) / (makes_l + float(added)) < 8.4


def test_the_card_says_over_which_weight_its_table_begins(data: dict[str, Any], pages: list[Page]) -> None:
    assert data["1"]["heavy"]["over"].replace("\u00a0", " ") == "8.4 kg"
    assert data["1"]["heavy"]["rows"][0]["weighs"].replace("\u00a0", " ") == "8.5 kg"
    assert "Too heavy, over 8.4 kg? Add foam" in pages[0].words
    assert "up to 8.5 kg" in pages[0].words


def test_agent_is_made_up_for_the_foam_and_for_the_bucket_weighed(data: dict[str, Any]) -> None:
    """Batch 1: 11.23 L of dilution for its foam, and 0.95 L for 10 L of it: one part in 41 of 12.18 L is agent."""
    (agent, *_) = data["1"]["steps"]
    assert agent["figure"].replace("\u00a0", " ") == "297 mL in 11.9 L"
    assert agent["aside"].replace("\u00a0", " ") == "in water, 12.2 L in all: 11.2 L for foam, 0.95 L to weigh"


def test_foam_that_is_weighed_is_thrown_away(pages: list[Page]) -> None:
    assert "weigh foam 10 L, then throw the foam away" in pages[0].words


def test_dilution_for_foam_to_add_is_at_hand_and_goes_into_the_next_batch(data: dict[str, Any]) -> None:
    heavy = data["1"]["heavy"]
    assert heavy["rows"][-1]["foam"] == "34.5\u00a0L"
    # the most is 34.34 L of foam before rounding, 3.26 kg: a kilogram is a litre, one part in 41 of it is agent
    assert heavy["dilution"].replace("\u00a0", " ") == (
        "Have 3.3 L more dilution ready, 79.5 mL in 3.2 L; what is left is for the next batch."
    )


def test_with_a_tank_foam_to_add_comes_out_of_it(demo_plan: Plan) -> None:
    generator = demo_plan.site.foam_generator.model_copy(update={"tank_l": 20.0})
    said = heavy_in(with_site(demo_plan, foam_generator=generator)).dilution.replace("\u00a0", " ")
    assert re.fullmatch(r"See that [\d.]+ L more are in the tank\.", said)


def test_a_trial_of_a_new_lot_stands_on_the_card_of_its_first_batch(
    demo_plan: Plan, data: dict[str, Any], pages: list[Page]
) -> None:
    asked = {number: card["trials"] for number, card in data.items() if card["trials"]}
    assert asked == {str(new.batch): [trial_asked(new)] for new in new_lots(demo_plan)}
    assert len(asked) == 2
    words = " ".join(page.words for page in pages)
    assert words.count("TRIAL before the first batch") == 2


def heavy_in(plan: Plan) -> TooHeavy:
    pour = next(pour for day in Asked(plan).days for pour in day.pours)
    return too_heavy(pour, plan.site.mixers[0], plan.site)


def heavy_of(plan: Plan, **changes: Any) -> TooHeavy:
    site = plan.site
    pour = next(pour for day in Asked(plan).days for pour in day.pours)
    pour = replace(pour, pour_life=replace(pour.pour_life, **changes))
    return too_heavy(pour, site.mixers[0], site)


def test_where_there_is_no_time_left_to_correct_no_foam_is_offered(demo_plan: Plan) -> None:
    assert heavy_of(demo_plan).rows
    assert heavy_of(demo_plan, minutes=14.0).rows == ()


def test_a_card_without_a_mend_says_not_to_pour(demo_plan: Plan) -> None:
    (sheet, *_) = cards_of(demo_plan)
    heavy = {"rows": [], "begin_within_min": 0, "over": "8.4 kg", "dilution": ""}
    card = {**sheet.data["cards"][0], "heavy": heavy}
    (page,) = read_back(print_sheets(HEAD, [Sheet("cards", {"cards": [card], "caution": BURNS})]))
    assert "Too heavy, over 8.4 kg, or too light: do not pour. Weigh again, then ask." in page.words
    assert "heavier still" not in page.words


def test_where_the_mixer_is_full_some_is_taken_out_before_foam_is_added(demo_plan: Plan) -> None:
    (mixer,) = demo_plan.site.mixers
    page, *_ = read_cards(with_site(demo_plan, mixers=(mixer.model_copy(update={"usable_volume_l": 200.0}),)))
    assert re.search(r"up to 8\.5 kg .*take out [\d.]+ L .*then foam \+ [\d.]+ L", page.words)
    assert "Take mix out first: the drum has no room for the foam." in page.words


def test_where_the_mixer_has_room_nothing_is_said_of_taking_out(pages: list[Page]) -> None:
    assert "Take mix out" not in pages[-1].words


def test_the_order_is_that_of_the_hands(pages: list[Page]) -> None:
    words = pages[0].words
    hands = ("Agent", "weigh foam", "Water", "Cement", "Mix ", "Foam in", "weigh mix", "Too heavy", "ALL IN MOULDS")
    places = [words.index(word) for word in hands]
    assert places == sorted(places)
    assert words.index("gang-4/01") > places[-1]


def test_figures_are_large(pages: list[Page], data: dict[str, Any]) -> None:
    for page in pages[:3]:
        for batch in re.findall(r"BATCH (\d+) ", page.words):
            card = data[batch]
            figures = [step["figure"] for step in card["steps"]]
            figures += [row[what] for row in card["heavy"]["rows"] for what in ("weighs", "runs")]
            figures += [f"+{row['foam']}" for row in card["heavy"]["rows"]]
            figures += [f"WITHIN{card['pour']['within']}", *(mould["contents"] for mould in card["moulds"])]
            assert min(size for figure in figures for size in page.sizes_of(figure)) >= 16
        assert min(page.sizes_of(f"BATCH{batch}") - {15.0}) >= 40


def test_nothing_runs_off_its_half(pages: list[Page]) -> None:
    for page in pages:
        for letter in page.letters:
            assert 0 < letter.bottom < letter.top < page.height
            assert 0 < letter.left < letter.right < page.width
            assert letter.right < page.width / 2 or letter.left > page.width / 2


def test_a_card_says_by_when_all_is_poured_and_has_room_for_when_the_foam_went_in(
    demo_plan: Plan, pages: list[Page]
) -> None:
    first = demo_plan.tables.batches.iloc[0]
    assert f"by the plan {first.foam_at:%H:%M}, pour by 08:25" in pages[0].words
    assert "foam went in at" in pages[0].words
    assert "initials" in pages[0].words


def test_water_is_counted_in_buckets_and_weights_are_with_the_bucket_where_the_site_says_so(demo_plan: Plan) -> None:
    buckets = Buckets(water_l=12, foam_l=20, mix_l=12, empty_kg=0.7)
    page = read_first(with_site(demo_plan, buckets=buckets))
    assert "4 \u00d7 12 L" in page.words
    assert "20 L and bucket" in page.words


def test_a_tank_is_filled_before_the_batch_that_needs_it(demo_plan: Plan) -> None:
    generator = demo_plan.site.foam_generator.model_copy(update={"tank_l": 20.0})
    page = read_first(with_site(demo_plan, foam_generator=generator))
    assert "Fill tank" in page.words
    assert "Agent " not in page.words


def test_a_tank_that_does_not_last_is_told_beside_the_foam(demo_plan: Plan) -> None:
    generator = demo_plan.site.foam_generator.model_copy(update={"tank_l": 4.0})
    page = read_first(with_site(demo_plan, foam_generator=generator))
    assert re.search(r"fill that again 2 times while it runs, as full it lasts \d+ s", page.words)
    test_nothing_runs_off_its_half([page])


def test_sand_is_weighed_on_the_card(demo_plan: Plan) -> None:
    asked = Asked(demo_plan)
    day = asked.days[0]
    mix = proportions(slurry_water_cement=0.5, foam_density_kg_m3=95, wet_density_kg_m3=1000, solids=Solids(sand=0.5))
    (sheet,) = batch_cards(asked, replace(day, jobs=(replace(day.pours[0], mix=mix),)))
    steps = {step["do"]: step for step in sheet.data["cards"][0]["steps"]}
    assert steps["Sand"]["figure"].endswith("\u00a0kg")
    assert steps["Sand"]["measured"] == "kg"


def test_left_over_and_slabs_are_told(slabs_plan: Plan) -> None:
    words = " ".join(page.words for page in read_cards(slabs_plan))
    assert "a slab for saw plan 1 (2 F, 3 E, 2 C, 2 B, 3 D)" in words
    assert "Left over 23.5 L: fill 1 of small/01 (300 x 200 x 200 mm), throw 11.2 L away" in words


def test_cards_print_in_us_units_on_letter_paper(demo_plan: Plan) -> None:
    page = read_first(with_site(demo_plan, units="US"), US)
    assert (round(page.width), round(page.height)) == (792, 612)
    assert "Mon Apr 5, 2027" in page.words
    assert re.search(r"weigh foam 2 gal, then throw the foam away [\d.]+ to [\d.]+ lb", page.words)
    assert " kg" not in page.words


def test_a_card_with_many_moulds_and_long_names_goes_on_in_the_next_half(demo_plan: Plan) -> None:
    (sheet, *_) = cards_of(demo_plan)
    moulds = [{"names": f"a-rather-long-kind-of-mould/{n:02d}", "contents": f"4 lintel-{n}"} for n in range(40)]
    card = {**sheet.data["cards"][0], "moulds": moulds, "mix": "m" * 60, "mixer": "d" * 60, "cubes": ["4 test cubes"]}
    pages = read_back(print_sheets(HEAD, [Sheet("cards", {"cards": [card], "caution": BURNS})]))
    words = " ".join(page.words for page in pages)
    assert all(f"mould/{n:02d} 4 lintel-{n}" in words for n in range(40))
    assert "Test cubes: 4 test cubes" in words
    test_nothing_runs_off_its_half(pages)


def test_moulds_that_fit_in_smaller_letters_stay_with_their_figures(demo_plan: Plan) -> None:
    """Who pours has both before them: names of moulds may be smaller, figures of the mix may not."""
    (sheet, *_) = cards_of(demo_plan)
    moulds = [{"names": f"gang-4/{n:02d}", "contents": "3 full, 1 cut (stop-end at 450 mm)"} for n in range(6)]
    card = {**sheet.data["cards"][0], "moulds": moulds}
    (page,) = read_back(print_sheets(HEAD, [Sheet("cards", {"cards": [card], "caution": BURNS})]))
    assert "on the next card" not in page.words
    assert 12 <= min(page.sizes_of("gang-4/05")) <= 16
    assert min(size for step in card["steps"] for size in page.sizes_of(step["figure"])) >= 16


def test_the_lines_at_the_foot_of_a_card_stand_apart(demo_plan: Plan) -> None:
    names = replace(HEAD, site="Upper Long Meadow Community Self-Build Training Yard North", order="x" * 12 + " y" * 40)
    page, *_ = read_back(print_sheets(names, cards_of(demo_plan)[:1]))
    foot = sorted({round(letter.bottom) for letter in page.letters if letter.text == "y" and letter.size_pt == 8})
    assert len(foot) > 1
    assert all(above - below >= 8 for below, above in pairwise(foot))


def test_days_without_a_batch_have_no_card(demo_plan: Plan) -> None:
    asked = Asked(demo_plan)
    idle = next(day for day in asked.days if not any(isinstance(job, Pour) for job in day.jobs))
    assert list(batch_cards(asked, idle)) == []


def hot_card(plan: Plan, minutes: float) -> tuple[dict[str, Any], Page]:
    """The card of the first batch, did it keep so long in 33 degC; its foam and pour take 14 min."""
    asked = Asked(plan)
    day = next(day for day in asked.days if day.pours)
    pour = replace(day.pours[0], pour_life=replace(day.pours[0].pour_life, minutes=minutes, hot_c=33.0))
    (sheet,) = batch_cards(asked, replace(day, jobs=(pour,)))
    (page,) = read_back(print_sheets(HEAD, [sheet]))
    return sheet.data["cards"][0], page


def test_heat_shortens_what_the_card_allows(demo_plan: Plan) -> None:
    card, page = hot_card(demo_plan, 21.0)
    assert "ALL IN MOULDS WITHIN 21 min" in page.words
    assert "it keeps 21 min in the heat, 33 \u00b0C (our choice, no standard)" in page.words
    assert card["short"] == ""


@pytest.mark.parametrize(
    ("minutes", "said"),
    [
        (15.0, "NO TIME TO WEIGH: a smaller batch, or a cooler hour"),
        (13.0, "CANNOT BE POURED IN TIME: do not make it at this hour"),
    ],
)
def test_a_batch_that_heat_leaves_no_time_for_is_told_so_before_it_is_begun(
    demo_plan: Plan, minutes: float, said: str
) -> None:
    card, page = hot_card(demo_plan, minutes)
    assert page.words.index(said) < page.words.index("Agent") < page.words.index("ALL IN MOULDS")
    assert page.words.count(said) == 1
    assert card["pour"]["heat"].count("(") == card["pour"]["heat"].count(")")
    assert "Too heavy, over 8.4 kg, or too light: do not pour." in page.words


def test_of_a_small_batch_a_litre_is_weighed_and_foam_too_little_to_time_is_measured(demo_plan: Plan) -> None:
    batches = demo_plan.tables.batches.copy()
    small = batches["batch"] == batches["batch"].iloc[0]
    share = 12 / float(batches.loc[small, "yield_l"].iloc[0])
    for column in ("bags", "cement_kg", "slurry_water_kg", "foam_l", "foam_kg", "agent_l", "yield_l"):
        batches.loc[small, column] *= share
    generator = demo_plan.site.foam_generator.model_copy(update={"rate_l_min": 120.0})
    plan = with_site(replace(demo_plan, tables=replace(demo_plan.tables, batches=batches)), foam_generator=generator)
    day = next(iter(Asked(plan).days))
    pour = replace(day.pours[0], batch=day.pours[0].batch._replace(**batches[small].iloc[0]))
    (sheet,) = batch_cards(Asked(plan), replace(day, jobs=(pour,)))
    steps = {step["do"]: step for step in sheet.data["cards"][0]["steps"]}
    assert steps["weigh mix"]["aside"].startswith("1\u00a0L")
    assert steps["Foam in"]["figure"].endswith("\u00a0L")
    assert steps["Foam in"]["measured"] == "L"
    assert steps["Foam in"]["aside"].startswith("by the mark of a bucket; blend")
