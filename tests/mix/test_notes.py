import pytest

from blockrun.mix import Proportions, Solids, notes, proportions
from blockrun.order import MixSpec


def first_words(mix, foam_density=95.0):
    return [text.split(":")[0] for text in notes(mix, foam_density)]


def test_an_ordinary_mix_has_no_notes(mix):
    assert notes(mix, 95.0) == []


@pytest.mark.parametrize(("ratio", "said"), [(0.30, ["Stiff slurry"]), (0.3499, ["Stiff slurry"]), (0.35, [])])
def test_a_slurry_under_035_is_noted(ratio, said):
    mix = proportions(oven_dry_density_kg_m3=700, slurry_water_cement=ratio, foam_density_kg_m3=95)
    assert first_words(mix) == said


@pytest.mark.parametrize(("ratio", "said"), [(0.70, []), (0.71, ["Thin slurry"]), (1.1, ["Thin mix"])])
def test_a_slurry_over_070_is_noted_where_all_the_water_is_not(ratio, said):
    mix = proportions(oven_dry_density_kg_m3=700, slurry_water_cement=ratio, foam_density_kg_m3=95)
    assert first_words(mix) == said


@pytest.mark.parametrize(("fibre", "said"), [(0.02, False), (0.021, True)])
def test_fibre_over_2_percent_of_the_cement_is_noted(fibre, said):
    assert ("Much fibre" in first_words(with_sand(0, 1100, fibre=fibre))) is said


@pytest.mark.parametrize(("foam_m3", "said"), [(0.65, []), (0.6501, ["Much foam"])])
def test_foam_over_065_of_the_volume_is_noted(foam_m3, said):
    assert first_words(Proportions(400, 200, foam_m3, foam_m3 * 95)) == said


@pytest.mark.parametrize(("density", "said"), [(89.9, ["Dry foam"]), (90.0, []), (100.0, []), (100.1, ["Wet foam"])])
def test_foam_outside_90_to_100_is_noted_with_the_share_of_water_it_brings(density, said):
    mix = proportions(oven_dry_density_kg_m3=600, slurry_water_cement=0.5, foam_density_kg_m3=density)
    assert first_words(mix, density) == said
    assert all(
        f"{100 * mix.foam_kg / mix.total_water_kg:.1f} % of all the water" in text for text in notes(mix, density)
    )


USUAL, DRY, WET = 95.0, 45.0, 130.0
BY_SLURRY, BY_ALL = {"slurry_water_cement": 0.5}, {"water_cement": 0.6}
ASKED = {"oven_dry_density_kg_m3": 640.0}, {"wet_density_kg_m3": 800.0}


@pytest.mark.parametrize("water", [BY_SLURRY, BY_ALL])
@pytest.mark.parametrize("density", ASKED)
@pytest.mark.parametrize("foam", [DRY, WET])
def test_what_a_note_says_of_other_foam_is_what_it_does_to_the_mix_asked_for(water, density, foam):
    """Each way of asking keeps something else: what is told stiffer, thinner, heavier or lighter is so."""
    spec = MixSpec(name="m", **density, **water)
    mix, usual = (proportions(foam_density_kg_m3=g, **density, **water) for g in (foam, USUAL))
    (said,) = (text for text in notes(mix, foam, asked=spec) if "foam: " in text)
    stiffer = mix.total_water_cement < usual.total_water_cement - 1e-9
    thinner = mix.total_water_cement > usual.total_water_cement + 1e-9
    assert ("the mix is stiffer" in said, "the mix is thinner" in said) == (stiffer, thinner)
    stiff_slurry = mix.slurry_water_cement < usual.slurry_water_cement - 1e-9
    thin_slurry = mix.slurry_water_cement > usual.slurry_water_cement + 1e-9
    assert ("the slurry is stiffer" in said, "the slurry is thinner" in said) == (stiff_slurry, thin_slurry)
    for word, each, as_usual in (
        ("wet", mix.wet_density_kg_m3, usual.wet_density_kg_m3),
        ("dry", mix.oven_dry_density_kg_m3, usual.oven_dry_density_kg_m3),
    ):
        told = f"lighter {word}" in said, f"heavier {word}" in said
        assert told == (each < as_usual - 1e-6, each > as_usual + 1e-6)


def test_drier_foam_is_no_cure_for_a_mix_asked_for_by_all_its_water():
    spec = MixSpec(name="m", oven_dry_density_kg_m3=480.0, water_cement=1.1)
    mix = proportions(oven_dry_density_kg_m3=480, water_cement=1.1, foam_density_kg_m3=95)
    by_slurry, by_all = (
        next(text for text in notes(mix, 95.0, asked=asked) if text.startswith("Thin mix")) for asked in (None, spec)
    )
    assert by_slurry.endswith("Less slurry water or drier foam mends it.")
    assert by_all.endswith("Less water mends it.")


@pytest.mark.parametrize(("slurry_water", "said"), [(352.5, ["Thin slurry"]), (352.6, ["Thin mix"])])
def test_more_water_than_cement_is_noted(slurry_water, said):
    assert first_words(Proportions(400, slurry_water, 0.5, 47.5)) == said


def test_densities_print_in_the_units_asked_for(mix):
    assert notes(mix, 120.0)[0].startswith("Wet foam: 120 g/L, where 90 g/L to 100 g/L is usual.")
    assert notes(mix, 120.0, units="US")[0].startswith("Wet foam: 7.491 lb/ft3, where 5.619 lb/ft3 to 6.243 lb/ft3")


def test_several_notes_stand_beside_each_other():
    mix = proportions(wet_density_kg_m3=300, slurry_water_cement=0.6, foam_density_kg_m3=150)
    assert first_words(mix, 150.0) == ["Much foam", "Wet foam", "Thin mix"]


def with_sand(parts, wet_density, **more):
    solids = Solids(sand=parts, **more)
    return proportions(wet_density_kg_m3=wet_density, slurry_water_cement=0.5, foam_density_kg_m3=95, solids=solids)


def test_anything_beside_cement_asks_for_neat_cement_first():
    (text,) = notes(with_sand(0, 1100, fly_ash=0.1, fibre=0.01), 95.0)
    assert text.startswith("More than cement: with fly ash and fibre a fault is harder to find. Get neat cement right")


def test_damp_sand_is_noted_with_the_share_of_the_slurry_water_it_brings():
    mix = with_sand(1, 1200)
    assert first_words(mix) == ["More than cement", "Damp sand"]
    # 5 % of 1 part of sand beside 0.5 parts of water
    assert "Where it holds 5 % of water, weigh 5 % more of it and pour 10 % less slurry water" in notes(mix, 95.0)[1]


@pytest.mark.parametrize(("wet", "said"), [(999, ["Light for sand"]), (1000, [])])
def test_sand_in_a_light_mix_is_noted(wet, said):
    assert first_words(with_sand(0.2, wet))[2:] == said


def test_water_of_a_mix_with_ash_is_judged_by_cement_and_ash():
    mix = with_sand(0, 1200, fly_ash=0.6)
    assert "its water is 0.31 of the cement and fly ash" in notes(mix, 95.0)[0]
