"""What the rules on ages come to: one age for each, from the cubes where the site asks for a strength."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.order import Order, load_order
from blockrun.planner import make_plan
from blockrun.planner.ages import Ages
from blockrun.planner.audit import audit
from blockrun.planner.brief import Brief, brief
from blockrun.planner.inputs import check_inputs
from blockrun.planner.saved import load_plan, save_plan
from blockrun.planner.times import times_of
from blockrun.planner.wanted import wanted
from blockrun.show.days import days_text
from blockrun.site import Site, Strength, load_site
from tests.cure.cubes import cubes, law

AT = tuple((density, days) for density in (550.0, 700.0, 950.0) for days in (0.5, 1.0, 3.0, 28.0))
STRIP, LAY = "strip_at: 24 h", "lay_at: 28 d"


def table(scatter: float = 0.0) -> str:
    rows = (f"{cube.dry_density_kg_m3},{cube.equivalent_age_h},{cube.strength_mpa:.9f}" for cube in cubes(AT, scatter))
    return "\n".join(["dry_density_kg_m3,equivalent_age_h,strength_mpa", *rows]) + "\n"


@pytest.fixture
def inputs(small_folder: Path, tmp_path: Path) -> Path:
    """Site and order of the small plan, with cubes: a light mix of 600 kg/m3 and a heavy one of 900."""
    folder = Path(shutil.copytree(small_folder / "inputs", tmp_path / "inputs"))
    (folder / "cubes.csv").write_text(table(), encoding="utf-8")
    change(folder, (STRIP, f"{STRIP}\n  cubes: cubes.csv"))
    return folder


def change(folder: Path, *edits: tuple[str, str], file: str = "site.yaml") -> None:
    text = (folder / file).read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    (folder / file).write_text(text, encoding="utf-8")


@pytest.fixture
def asked(inputs: Path) -> Callable[..., Brief]:
    def of(*edits: tuple[str, str]) -> Brief:
        change(inputs, *edits)
        return brief(load_site(inputs / "site.yaml"), load_order(inputs / "order.yaml"), 60)

    return of


def read_both(inputs: Path, *edits: tuple[str, str]) -> tuple[Site, Order]:
    change(inputs, *edits)
    return load_site(inputs / "site.yaml"), load_order(inputs / "order.yaml")


def test_an_age_stays_as_it_is_and_asks_no_cubes(asked) -> None:
    ages = asked().ages
    assert (ages.strip_h, ages.lay_h, ages.lay_min) == (24, None, 28 * 1440)
    assert list(ages.said()) == []


def test_a_strength_is_the_age_of_the_weakest_mix_ordered(asked) -> None:
    ages = asked((STRIP, "strip_at: 0.3 MPa")).ages
    assert law(600, ages.strip_h / 24) >= 0.3 > law(600, (ages.strip_h - 0.25) / 24)


def name_mixes(inputs: Path, of: Callable[[float], str]) -> None:
    """Add the column mix to the cubes, by their density."""
    head, *rows = table().splitlines()
    named = [f"{head},mix", *(f"{row},{of(float(row.split(',')[0]))}" for row in rows)]
    (inputs / "cubes.csv").write_text("\n".join(named) + "\n", encoding="utf-8")


def test_a_mix_without_a_cube_of_its_own_is_told_where_cubes_name_mixes(asked, inputs) -> None:
    name_mixes(inputs, lambda _: "light")
    said = " ".join(asked((STRIP, "strip_at: 0.3 MPa")).ages.said())
    assert (
        "None of the 12 cubes is of heavy: all of them tell its strength, as if cement, water ratio and all that is "
        "dry were the same. Cast six cubes of heavy, 900 kg/m3 dry, and test three each at 12 h and 28 d." in said
    )


def test_neat_and_sanded_mixes_told_by_the_same_cubes_are_named(asked, inputs) -> None:
    change(inputs, ("oven_dry_density: 900 kg/m3", "oven_dry_density: 900 kg/m3, sand: 1"), file="order.yaml")
    name_mixes(inputs, lambda _: "light")
    said = " ".join(asked((STRIP, "strip_at: 0.3 MPa")).ages.said())
    assert "They are not: heavy is with 1 of sand to 1 of cement, light neat. Cast six cubes of heavy" in said


def test_a_mix_ordered_by_its_strength_is_told_so_too(asked, inputs) -> None:
    name_mixes(inputs, lambda density: "light" if density > 900 else "heavy")
    change(inputs, ("oven_dry_density: 600 kg/m3", "strength: 1.4 MPa, sand: 0.5"), file="order.yaml")
    (said,) = asked().ages.said()
    assert said.startswith("Only 4 of the 12 cubes are of light, and 6 are the least: all of them tell its strength")
    assert "They are not: light is with 0.5 of sand to 1 of cement, heavy neat." in said
    assert said.endswith("Cast light at three densities, and test three cubes of each at 12 h and 28 d.")


def test_cubes_that_name_no_mix_are_not_to_tell_of_neat_and_sanded_ones_alike(asked, inputs) -> None:
    change(inputs, ("oven_dry_density: 900 kg/m3", "oven_dry_density: 900 kg/m3, sand: 1"), file="order.yaml")
    said = " ".join(asked((STRIP, "strip_at: 0.3 MPa")).ages.said())
    assert "one law is taken for all: heavy with 1 of sand to 1 of cement, light neat. Add the column mix" in said


def test_cubes_that_name_no_mix_say_nothing_of_mixes_made_of_the_same(asked) -> None:
    said = " ".join(asked((STRIP, "strip_at: 0.3 MPa")).ages.said())
    assert "The cubes name no mix" not in said
    assert "of the 12 cubes" not in said


def test_a_plan_by_cubes_of_each_mix_is_found_right_by_the_audit(inputs) -> None:
    """The light mix has cubes half as strong as the law of all says: it is stripped the later, and the audit knows."""
    own = [f"{600 + n},{days * 24},{0.5 * law(600 + n, days):.9f},light" for n in range(3) for days in (0.5, 3, 28)]
    name_mixes(inputs, lambda _: "heavy")
    by_others = brief(*read_both(inputs, (STRIP, "strip_at: 0.2 MPa")), 60).ages.strip_h
    with (inputs / "cubes.csv").open("a", encoding="utf-8") as file:
        file.write("\n".join(own) + "\n")
    site, order = read_both(inputs)
    plan = make_plan(site, order, rounds=0)
    assert audit(site, order, plan.tables, list(plan.stages), plan.totals) == []
    assert brief(site, order, 60).ages.strip_h > 1.5 * by_others


def test_a_strength_of_a_strip_reaches_the_optimiser_as_minutes(asked, inputs) -> None:
    by_strength = asked((STRIP, "strip_at: 0.3 MPa"))
    change(inputs, ("strip_at: 0.3 MPa", f"strip_at: {by_strength.ages.strip_h} h"))
    by_age = brief(load_site(inputs / "site.yaml"), load_order(inputs / "order.yaml"), 60)
    assert (by_strength.problem.ripe_strip[0] == by_age.problem.ripe_strip[0]).all()


def test_a_mould_waits_for_whichever_of_strip_and_move_is_later(asked) -> None:
    later = asked((STRIP, f"{STRIP}\n  move_at: 30 h")).ages
    assert later.strip_h == 30
    assert list(later.said()) == ["Blocks are moved as they are stripped, so moulds wait for move_at, 30 h at 20 degC."]
    assert asked(("move_at: 30 h", "move_at: 20 h")).ages.strip_h == 24


def test_laying_by_strength_follows_the_air(asked) -> None:
    problem = asked((LAY, "lay_at: 0.8 MPa")).problem
    cold, mild = 8 * 60, 30 * 1440 + 8 * 60
    assert problem.lay_at == 0
    assert problem.ready(cold, cold) == problem.leaves_rack(cold)
    assert problem.ripe_lay is not None
    assert problem.ripe_lay[cold] - cold != problem.ripe_lay[mild] - mild
    strong = asked(("lay_at: 0.8 MPa", "lay_at: 1.2 MPa")).problem
    assert strong.ready(cold, cold) == strong.ripe_lay[cold] > strong.leaves_rack(cold)


def test_what_a_strength_was_reckoned_from_is_said_in_words(asked) -> None:
    ages = asked((STRIP, "strip_at: 0.3 MPa"), ("sides_off_at: 8 h", "sides_off_at: 0.01 MPa")).ages
    sides, strip = ages.said()
    assert strip == (
        f"Stripped at 0.3 MPa, reckoned at {ages.strip_h:g} h at 20 degC from 12 cubes: 95 % of such cubes are "
        "stronger then, for light, the weakest mix."
    )
    assert sides.startswith("tray-1: sides off at 0.01 MPa, reckoned at 12 h at 20 degC")
    assert sides.endswith("The youngest cubes had it already: test younger ones.")


def test_more_scatter_and_a_surer_margin_wait_longer(asked, inputs) -> None:
    exact = asked((STRIP, "strip_at: 0.2 MPa")).ages.strip_h
    (inputs / "cubes.csv").write_text(table(scatter=0.1), encoding="utf-8")
    likely, sure = asked().ages.strip_h, asked(("cubes: cubes.csv", "cubes: cubes.csv\n  sure: 99 %")).ages.strip_h
    assert exact < likely < sure


@pytest.mark.parametrize(
    ("edits", "place", "said", "todo"),
    [
        ([(STRIP, "strip_at: 5 MPa")], "strip_at: 5 MPa", "5 MPa is not reached: 95 % of cubes of 600 kg/m3", "Ask"),
        ([(LAY, "lay_at: 700 psi")], "lay_at: 700 psi", "is not reached", "older cubes"),
        ([("sides_off_at: 8 h", "sides_off_at: 9 MPa")], "sides_off_at: 9 MPa", "is not reached", "denser"),
    ],
)
def test_a_strength_the_cubes_do_not_tell_is_refused_where_it_stands(inputs, edits, place, said, todo) -> None:
    change(inputs, *edits)
    fault = refused(inputs)
    assert place in fault.text
    assert said in fault.what
    assert todo in fault.todo


def refused(inputs: Path) -> BadInput:
    site, order = load_site(inputs / "site.yaml"), load_order(inputs / "order.yaml")
    with pytest.raises(BadInput) as caught:
        check_inputs(site, order, wanted(site, order))
    return caught.value


def test_a_mix_lighter_than_any_cube_is_refused_with_the_cube_to_test(inputs) -> None:
    change(inputs, (STRIP, "strip_at: 0.3 MPa"))
    change(inputs, ("oven_dry_density: 600 kg/m3", "oven_dry_density: 450 kg/m3"), file="order.yaml")
    fault = refused(inputs)
    assert "the lightest of the 12 cubes tested has 550 kg/m3 dry, and the mix 450 kg/m3" in fault.what
    assert fault.todo == "Cast and test cubes of 450 kg/m3 dry."


def test_too_few_cubes_are_refused_where_the_site_names_them(inputs) -> None:
    change(inputs, (STRIP, "strip_at: 0.3 MPa"))
    (inputs / "cubes.csv").write_text("".join(table().splitlines(keepends=True)[:5]), encoding="utf-8")
    fault = refused(inputs)
    assert "cubes: cubes.csv" in fault.text
    assert "4 cubes are too few to tell a strength" in fault.what


def test_a_mix_asked_for_by_its_strength_gets_its_density_from_the_cubes(inputs) -> None:
    change(inputs, ("oven_dry_density: 600 kg/m3", "strength: 1.4 MPa"), file="order.yaml")
    site, order = load_site(inputs / "site.yaml"), load_order(inputs / "order.yaml")
    light = brief(site, order, 60).ages.densities_kg_m3["light"]
    assert law(light, 28) >= 1.4 - 1e-6 > law(light - 0.5, 28) - 1e-6
    change(inputs, ("strength: 1.4 MPa", "strength: 9 MPa"), file="order.yaml")
    assert "9 MPa is not reached" in refused(inputs).what


def test_a_yard_in_us_units_is_refused_in_them(inputs) -> None:
    change(inputs, (STRIP, "strip_at: 700 psi"))
    site = (inputs / "site.yaml").read_text(encoding="utf-8")
    (inputs / "site.yaml").write_text(f"units: US\n{site.replace('units: SI', '')}", encoding="utf-8")
    assert refused(inputs).what.startswith(
        "700 psi is not reached: 95 % of cubes of 37.46 lb/ft3 dry pass 180 psi at 28 d"
    )
    change(inputs, ("strip_at: 700 psi", "strip_at: 40 psi"))
    change(inputs, ("oven_dry_density: 600 kg/m3", "oven_dry_density: 28 lb/ft3"), file="order.yaml")
    assert "has 34.34 lb/ft3 dry, and the mix 28.03 lb/ft3" in refused(inputs).what
    change(inputs, ("  cubes: cubes.csv\n", ""), ("strip_at: 40 psi", STRIP))
    change(inputs, ("oven_dry_density: 28 lb/ft3", "strength: 400 psi"), file="order.yaml")
    assert "no cubes of this yard tell which density gives 400 psi" in refused(inputs).what.lower()


def test_a_plan_by_strengths_is_made_said_audited_and_kept(inputs, tmp_path) -> None:
    change(inputs, (STRIP, "strip_at: 0.3 MPa"), (LAY, "lay_at: 0.9 MPa"))
    plan = make_plan(load_site(inputs / "site.yaml"), load_order(inputs / "order.yaml"), rounds=0)
    assert audit(plan.site, plan.order, plan.tables, list(plan.stages), plan.totals) == []
    said = [warning for warning in plan.warnings if "reckoned at" in warning]
    assert [sentence.partition(" at ")[0] for sentence in said] == ["Stripped", "Laid"]
    assert any("strength says nothing of shrinkage" in warning for warning in plan.warnings)
    in_short = f"{said[0].partition(':')[0]}."
    assert in_short in " ".join(days_text(plan, 80).plain.split())
    save_plan(plan, tmp_path / "plan")
    assert load_plan(tmp_path / "plan").site.curing.strip_at_h == Strength(0.3)


def test_the_rules_that_wait_are_listed_with_their_places(small_plan) -> None:
    site: Site = small_plan.site
    assert [where for where, _, _ in Ages(site, {}).asked()] == [
        ("moulds", ("kind", "tray-1"), "sides_off_at"),
        ("curing", "strip_at"),
    ]


def test_cure_refuses_a_strength_where_it_stands_as_plan_does(inputs) -> None:
    site, order = read_both(inputs, (STRIP, "strip_at: 5 MPa"))
    with pytest.raises(BadInput, match=r"site\.yaml:\d+:\d+") as caught:
        times_of(site, order)
    assert "strip_at: 5 MPa" in caught.value.text
