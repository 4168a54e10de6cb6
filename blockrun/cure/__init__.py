"""How blocks harden: the air by the hour, equivalent age at 20 degC, and strength."""

from blockrun.cure.age import AgeClock
from blockrun.cure.air import air_temperature
from blockrun.cure.rates import AgeRule, age_rate, arrhenius_rate, nurse_saul_rate, rule_of
from blockrun.cure.reckoner import Reckoner

__all__ = [
    "AgeClock",
    "AgeRule",
    "Reckoner",
    "age_rate",
    "air_temperature",
    "arrhenius_rate",
    "nurse_saul_rate",
    "rule_of",
]
