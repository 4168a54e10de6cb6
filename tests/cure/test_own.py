"""A mix is told by its own cubes where they are enough, else by all of the yard's, and it is said which to cast."""

from dataclasses import replace

import pytest

from blockrun.cure import Reckoner
from blockrun.errors import BadInput, OutOfRange
from blockrun.site import Cube, Cubes, Curing
from tests.cure.cubes import cubes, law

AGES = (1.0, 3.0, 7.0, 28.0)
WEAK = 0.5
"""What sand does to the invented mix that has it, at one density."""


def named(mix, at, share=1.0):
    """Cubes of a mix that bear a share of what the law says."""
    made = cubes(at, strength=lambda density, days: share * law(density, days))
    return [replace(cube, mix=mix) for cube in made]


NEAT = named("neat", [(density, days) for density in (500.0, 600.0, 750.0) for days in AGES])
SANDED = named("sanded", [(density, days) for density in (595.0, 605.0) for days in AGES], WEAK)


def reckoner(tests) -> Reckoner:
    return Reckoner(
        Curing(strip_at_h=24.0, rack_for_min=0, lay_at_min=0, least_air_c=5.0, cubes=Cubes(tuple(tests))), "SI"
    )


def test_a_mix_with_enough_cubes_is_told_by_those_alone():
    told = reckoner(NEAT + SANDED)
    hours = told.hours_for(0.4, 600, "sanded")
    assert 0.4 <= WEAK * law(600, hours.hours / 24) < 0.4 * 1.06
    assert hours.cubes == "8 cubes of sanded"
    assert told.hours_for(0.4, 600, "neat") == reckoner(NEAT).hours_for(0.4, 600, "neat")
    assert told.hours_for(0.4, 600, "neat").hours < hours.hours


def test_cubes_of_others_change_nothing_for_a_mix_with_enough_of_its_own():
    alone, among = reckoner(SANDED), reckoner(NEAT + SANDED)
    assert among.hours_for(0.4, 600, "sanded").hours == alone.hours_for(0.4, 600).hours
    assert among.strength_at_least(600, 72, "sanded") == alone.strength_at_least(600, 72)


def test_a_mix_ordered_by_its_strength_takes_the_density_that_its_own_cubes_tell():
    told = reckoner(NEAT + SANDED)
    density = told.density_for(1.5, "neat")
    assert law(density, 28) >= 1.5 - 1e-9 > law(density - 0.5, 28)


LIKE = [cube for cube in SANDED if cube.dry_density_kg_m3 == 595.0]


@pytest.mark.parametrize(
    ("own", "density", "what", "todo"),
    [
        ([], 600, "none of the 12 cubes is of sanded",
         "Cast six cubes of sanded, 600 kg/m3 dry, and test three each at 1 d and 28 d."),
        (LIKE[:1], 600, "only 1 of the 13 cubes is of sanded, and 6 are the least", "Cast six"),
        (LIKE, 600, "only 4 of the 16 cubes are of sanded, and 6 are the least", "Cast six"),
        (named("sanded", [(590.0 + n, 28.0) for n in range(6)]), 600,
         "cubes of sanded were tested at 28 d, and all of them from 1 d to 28 d", "three each at 1 d and 28 d"),
        (named("sanded", [(590.0 + n, days) for n in range(3) for days in (1.0, 7.0)]), 600,
         "cubes of sanded were tested from 1 d to 7 d", "three each at 1 d and 28 d"),
        (SANDED, 650, "cubes of sanded have 595 to 605 kg/m3 dry, and the mix 650 kg/m3", "650 kg/m3 dry"),
        (SANDED, None, "cubes of sanded have 595 to 605 kg/m3 dry, which is near one density",
         "Cast sanded at three densities, and test three cubes of each at 1 d and 28 d."),
    ],
)  # fmt: skip
def test_a_mix_with_too_few_cubes_of_its_own_is_told_by_all_and_which_to_cast_is_said(own, density, what, todo):
    told = reckoner(NEAT + own)
    lack = told.lack("sanded", density)
    assert lack is not None
    assert lack.what.startswith(what)
    assert todo in lack.todo
    assert told.fit("sanded", density).of == ""
    assert len(told.fit("sanded", density).tests) == len(NEAT + own)


def test_the_cubes_it_says_to_cast_are_enough():
    asked = named("sanded", [(600.0, days) for days in (1.0, 28.0) for _ in range(3)], WEAK)
    for had in ([], LIKE, SANDED[:1]):
        assert reckoner(NEAT + had + asked).lack("sanded", 600) is None
    three = named("sanded", [(density, days) for density in (500.0, 600.0, 700.0) for days in (1.0, 28.0)] * 3, WEAK)
    assert reckoner(NEAT + three).lack("sanded", None) is None


HEAVY = named(
    "sanded", [(density, days) for density in (600.0, *(640.0 + n for n in range(5))) for days in (1.0, 28.0)]
)


@pytest.mark.parametrize("density", [590, 600, 620])
def test_cubes_near_one_density_do_not_tell_a_mix_lighter_than_most_of_them(density):
    told = reckoner(NEAT + HEAVY)
    lack = told.lack("sanded", density)
    assert lack is not None
    assert lack.what == (
        "cubes of sanded have 600 to 644 kg/m3 dry, which is near one density, and the mix is lighter than most"
    )
    assert "Cast six cubes of sanded, 559 kg/m3 dry, and test three each at 1 d and 28 d." in lack.todo
    assert told.lack("sanded", 630) is None
    more = named("sanded", [(559.0, days) for days in (1.0, 28.0) for _ in range(3)])
    assert reckoner(NEAT + HEAVY + more).lack("sanded", density) is None


@pytest.mark.parametrize(("youngest_d", "enough"), [(2.0, True), (2.1, False)])
def test_its_own_youngest_cubes_are_at_the_most_twice_as_old_as_the_youngest_of_all(youngest_d, enough):
    own = named("sanded", [(600.0, days) for days in (youngest_d, 28.0) for _ in range(3)])
    assert (reckoner(NEAT + own).lack("sanded", 600) is None) is enough


def test_a_yard_that_tests_all_its_sets_at_four_weeks_still_strips_by_younger_cubes():
    """Two sets of a mix at 28 days tell nothing of its first days: they must not turn a strip of days into weeks."""
    sets = named("sanded", [(600.0, 28.0)] * 6)
    assert reckoner(NEAT + sets).hours_for(0.3, 600, "sanded").hours < 7 * 24


def test_where_all_cubes_are_of_one_mix_or_of_none_nothing_is_lacking():
    assert reckoner(NEAT[:7]).lack("neat", 600) is None
    nameless = [replace(cube, mix="") for cube in NEAT]
    assert reckoner(nameless).lack("sanded", 600) is None
    assert reckoner(nameless).mixes == frozenset()


def test_words_of_a_refusal_name_the_mix_whose_cubes_they_are():
    told = reckoner(NEAT + SANDED)
    with pytest.raises(OutOfRange, match=r"by the 8 cubes of sanded tested"):
        told.hours_for(5, 600, "sanded")
    weaker = [Cube(600.0 + n, 2.0 - days / 28, equivalent_age_h=24 * days, mix="odd") for n in (0, 1) for days in AGES]
    with pytest.raises(BadInput, match="by these 8 cubes of odd older blocks would be weaker"):
        reckoner(NEAT + weaker).hours_for(0.1, 600, "odd")
