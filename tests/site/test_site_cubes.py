"""The table of cubes crushed, as builders keep it."""

from datetime import date

import pytest

from blockrun.errors import BadInput
from blockrun.site import Cube, digest_site, read_cubes


@pytest.fixture
def cubes(tmp_path):
    def read(text):
        path = tmp_path / "cubes.csv"
        path.write_text(text, encoding="utf-8")
        return read_cubes(path).tests

    return read


@pytest.fixture
def refused(cubes):
    def refuse(text):
        with pytest.raises(BadInput) as caught:
            cubes(text)
        return str(caught.value)

    return refuse


def test_a_row_is_a_cube(cubes):
    assert cubes("dry_density_kg_m3,age_d,strength_mpa\n602,7,0.9\n") == (Cube(602, 0.9, 168),)


def test_american_units_are_read(cubes):
    (cube,) = cubes("Oven dry density (lb/ft3),age_h,strength (psi),cured_degF\n37.5,30,75,50\n")
    assert cube.dry_density_kg_m3 == pytest.approx(600.69, abs=0.01)
    assert (cube.strength_mpa, cube.age_h, cube.cured_c) == (pytest.approx(0.5171, abs=1e-4), 30, 10)


def test_an_age_may_be_two_dates_or_the_hours_at_20_degrees(cubes):
    made, summed = cubes(
        "made,tested,equivalent_age_h,dry_density_kg_m3,strength_n_mm2\n"
        "2027-03-01,2027-03-08,,600,0.9\n2027-03-01,,150.5,600,0.9\n"
    )
    assert made == Cube(600, 0.9, 168, made=date(2027, 3, 1))
    assert summed == Cube(600, 0.9, None, equivalent_age_h=150.5, made=date(2027, 3, 1))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("dry_density_kg_m3,strength_mpa\n600,1\n", "cubes.csv:2: nothing says how old the cube was"),
        ("made,tested,dry_density_kg_m3,strength_mpa\n2027-03-08,2027-03-08,600,1\n", "tested before a day had passed"),
        ("made,tested,age_d,dry_density_kg_m3,strength_mpa\n2027-03-01,2027-03-08,28,600,1\n",
         "age_d: is 28, and its dates are 7 days apart"),
        ("dry_density_kg_m3,age_d,strength_mpa\n600,7,900\n", "900 MPa is not within 0.001 MPa to 200 MPa"),
        ("dry_density_lb_ft3,age_d,strength_mpa\n600,7,9\n", "600 lb/ft3 is not within"),
        ("dry_density_kg_m3,age_d,strength_mpa\n600,seven,1\n", "cubes.csv:2:5: age_d: seven is not a plain number"),
        ("dry_density_kg_m3,age_d\n600,7\n", "column strength_mpa missing"),
        ("dry_density_kg_m3,age_d,strength\n600,7,1\n", "column strength has no unit"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said_at_its_cell(refused, text, said):
    assert said in refused(text)


CUBES = "made,age_d,dry_density_kg_m3,strength_mpa\n2027-03-01,7,600,1\n"
STRIP = "  strip_at: 24 h\n"


@pytest.fixture
def with_cubes(yard, tmp_path):
    (tmp_path / "cubes.csv").write_text(CUBES)

    def load(*edits):
        return yard((STRIP, "  strip_at: 0.5 MPa\n  cubes: cubes.csv\n"), *edits)

    return load


def test_a_site_names_its_cubes_and_keeps_them_with_its_sources(with_cubes, tmp_path):
    site = with_cubes()
    assert site.curing.cubes.tests == (Cube(600, 1, 168, made=date(2027, 3, 1)),)
    assert site.sources["cubes.csv"] == tmp_path / "cubes.csv"


def test_cubes_count_in_the_digest(with_cubes, tmp_path):
    before = digest_site(with_cubes())
    (tmp_path / "cubes.csv").write_text(CUBES.replace("600,1", "600,1.1"))
    assert digest_site(with_cubes()) != before
