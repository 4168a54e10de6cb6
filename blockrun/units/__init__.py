"""Text with a unit to a number and back.

Each dimension has one base unit, the one that names in the code end in: litres, millimetres, kilograms, minutes,
degrees Celsius, kg/m3, litres a minute, kilonewtons, megapascals, degrees of angle. `known` lists what may be written
and how large each unit is, `spelling` what else people write for the same; `reading` and `showing` go from text to
numbers and back, `alike` as somebody wrote before, `alone` what a number without a unit may mean, `convert` from unit
to unit, `thousands` takes a comma for the point where that is plain, `listed` says several one after the other, and
`counted` a number of things.
"""

from blockrun.units.alike import alike
from blockrun.units.alone import offered
from blockrun.units.convert import in_unit
from blockrun.units.counted import counted
from blockrun.units.known import MINUTES_A_DAY, SIXTEENTH_MM, UNITS, named, usual
from blockrun.units.listed import listed, runs_listed
from blockrun.units.reading import Quantity, Unitless, check_comma, factor, pattern, percent, ratio, read, size
from blockrun.units.showing import (
    digits,
    show,
    show_angle,
    show_degrees,
    show_in,
    show_percent,
    show_share,
    show_size,
    show_time,
    show_to_three,
)
from blockrun.units.spelling import plain, spellings
from blockrun.units.thousands import check_thousands, with_point

__all__ = [
    "MINUTES_A_DAY",
    "SIXTEENTH_MM",
    "UNITS",
    "Quantity",
    "Unitless",
    "alike",
    "check_comma",
    "check_thousands",
    "counted",
    "digits",
    "factor",
    "in_unit",
    "listed",
    "named",
    "offered",
    "pattern",
    "percent",
    "plain",
    "ratio",
    "read",
    "runs_listed",
    "show",
    "show_angle",
    "show_degrees",
    "show_in",
    "show_percent",
    "show_share",
    "show_size",
    "show_time",
    "show_to_three",
    "size",
    "spellings",
    "usual",
    "with_point",
]
