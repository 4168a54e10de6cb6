"""How a site says by which rule its blocks age."""

from datetime import datetime

import pytest

from blockrun.site import digest_site

RULE = ("  strip_at: 24 h\n", "  strip_at: 24 h\n  age: {}\n")


def rule(text):
    return (RULE[0], RULE[1].format(text))


def test_blocks_age_by_the_european_codes_unless_told(yard):
    assert yard().curing.age == "EN"
    assert digest_site(yard()) == digest_site(yard(rule("EN")))


@pytest.mark.parametrize(
    ("since", "until"),
    [
        ("2027-04-05 10:00", "2027-04-12 10:00"),
        ("2027-04-05 12:10", "2027-04-12 12:30"),  # in the break
        ("2027-04-09 15:00", "2027-04-17 08:00"),  # Friday the 16th is closed
    ],
)
def test_blocks_leave_a_rack_in_working_hours_once_their_time_is_over(yard, since, until):
    assert yard().off_rack(datetime.fromisoformat(since)) == datetime.fromisoformat(until)


def test_the_settings_of_a_rule_are_read_with_their_units(yard):
    assert yard(rule("arrhenius\n  activation_energy: 38400 J/mol")).curing.activation_energy_kj_mol == 38.4
    assert yard(rule("nurse-saul\n  datum: 32 degF")).curing.datum_c == 0


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("arhenius", "age: arhenius is not known here"),
        ("EN\n  activation_energy: 40 kJ/mol", "activation_energy is given, and age is EN"),
        ("arrhenius\n  datum: -10 degC", "datum is given, and age is arrhenius"),
        ("arrhenius\n  activation_energy: 40", "40 has no unit, and an activation energy needs one"),
        ("arrhenius\n  activation_energy: 4 kJ/mol", "it must be at least 10 kJ/mol"),
        ("nurse-saul\n  datum: 15 degC", "it must be at most 10 degC"),
    ],
)
def test_a_rule_that_is_not_whole_is_refused_at_its_key(refusal, text, said):
    fault = refusal(rule(text))
    assert said in str(fault)
    assert fault.line is not None


CUBES = "dry_density_kg_m3,age_d,strength_mpa\n600,7,1\n"
STRIP = "  strip_at: 24 h\n"
GIVEN = (STRIP, STRIP + "  cubes: cubes.csv\n")


@pytest.fixture
def cubes(tmp_path):
    (tmp_path / "cubes.csv").write_text(CUBES)


@pytest.mark.usefixtures("cubes")
@pytest.mark.parametrize(
    ("text", "mpa"), [("0.5 MPa", 0.5), ("0.5 N/mm2", 0.5), ("75 psi", pytest.approx(0.5171, abs=1e-4))]
)
def test_what_waits_for_an_age_may_wait_for_a_strength(yard, text, mpa):
    curing = yard(
        GIVEN, (STRIP, f"  strip_at: {text}\n  move_at: {text}\n"), ("lay_at: 28 d", f"lay_at: {text}")
    ).curing
    assert [asked.mpa for asked in (curing.strip_at_h, curing.move_at_h, curing.lay_at_min)] == [mpa] * 3
    assert yard(GIVEN, ("sides_off_at: 18 h", f"sides_off_at: {text}")).moulds[0].sides_off_at_h.mpa == mpa


@pytest.mark.parametrize(
    ("edit", "key"),
    [
        ((STRIP, "  strip_at: 0.5 MPa\n"), "strip_at"),
        ((STRIP, STRIP + "  move_at: 0.5 MPa\n"), "move_at"),
        (("lay_at: 28 d", "lay_at: 1.5 MPa"), "lay_at"),
        (("sides_off_at: 18 h", "sides_off_at: 0.3 MPa"), "sides_off_at"),
    ],
)
def test_a_strength_without_cubes_is_refused_where_it_stands(refusal, edit, key):
    fault = refusal(edit)
    assert f"{key} is a strength, and there are no cubes to reckon it from" in str(fault)
    assert key in fault.text


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("0 MPa", "it must be more than 0 and at most 100 MPa"),
        ("500 MPa", "it must be more than 0 and at most 100 MPa"),
        ("20000 psi", "it must be more than 0 and at most 14504 psi"),
        ("0.5", "0.5 has no unit"),
        ("5 kg", "5 kg is a mass, and a time is due"),
    ],
)
def test_what_is_neither_an_age_nor_a_strength_is_refused(refusal, text, said):
    assert said in str(refusal((STRIP, f"  strip_at: {text}\n")))


@pytest.mark.usefixtures("cubes")
def test_the_margin_is_the_lower_95_per_cent_band_unless_told(yard, refusal):
    assert yard(GIVEN).curing.sure == 0.95
    assert yard(GIVEN, (STRIP, STRIP + "  sure: 90 %\n")).curing.sure == 0.9
    assert "it must be at least 50 %" in str(refusal(GIVEN, (STRIP, STRIP + "  sure: 10 %\n")))


@pytest.mark.parametrize("text", ["cement_heat: rapid", "fresh_mix: 15 degC"])
def test_what_only_modelled_heat_uses_is_refused_without_it(refusal, text):
    fault = refusal((STRIP, f"{STRIP}  {text}\n"))
    assert f"{text.split(':')[0]} is given, and heat is not modelled" in str(fault)
    assert fault.line is not None


def test_modelled_heat_guesses_no_walls(refusal, yard):
    modelled = (STRIP, f"{STRIP}  heat: modelled\n")
    fault = refusal(modelled)
    assert "heat is modelled, and nothing says what" in str(fault)
    assert fault.line is not None
    walls = [(f"kind: {mould.kind}\n", f"kind: {mould.kind}\n    walls: steel 3 mm\n") for mould in yard().moulds]
    assert {mould.walls.material for mould in yard(modelled, *walls).moulds} == {"steel"}
