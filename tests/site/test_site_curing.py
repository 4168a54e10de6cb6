"""How a site says by which rule its blocks age."""

import pytest

from blockrun.site import digest_site

RULE = ("  strip_at: 24 h\n", "  strip_at: 24 h\n  age: {}\n")


def rule(text):
    return (RULE[0], RULE[1].format(text))


def test_blocks_age_by_the_european_codes_unless_told(yard):
    assert yard().curing.age == "EN"
    assert digest_site(yard()) == digest_site(yard(rule("EN")))


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
