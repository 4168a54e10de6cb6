"""What a play may do one way or another: numbers, so that they can be drawn and changed."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, fields, replace
from random import Random
from typing import Any

from blockrun.optimiser.sent import Sent

ENDLESS = 1 << 30


@dataclass(frozen=True)
class Policy(Sent):
    """How a play goes about things.

    ``slack`` days before a block must be poured it is in a hurry: those come first, the soonest due first; then
    ``first`` those with the most mould "work", the "big" or the "small" ones, of which a batch gives more. ``fog`` is
    how much ranks are perturbed by the dice.
    ``wait`` minutes a batch waits for moulds that come free; ``strips`` says how many strips come before the
    next batch: "all" that can be today, as many as a "batch" takes, or "one"; ``strip_by`` in which order: as
    "poured", "due", of the most "blocks" or by "dice".
    ``in_line``: where the rack has no room for a turn, those behind it wait too. ``full`` is the share of a whole
    batch under which one that nobody is in a hurry for is held back, ``hold`` how often, for ``patience`` days on end
    at the most; batches are filled to a ``share`` of their room. Of slabs those come first that waste least, or with
    ``most_wanted`` that give most of what is wanted first. ``share_rack``
    fills a mould only as far as the rack will have places for it, ``portion`` to a share of its cavities,
    and with ``ragged`` odds to any number of them.
    ``fullest`` chooses the mixer by how full it is, else by how soon it pours; mixers smaller than the biggest are used
    on a day with odds of ``small``. ``wary`` is how many days ahead a
    frost makes strips promises. ``skip`` is how often a mould is passed over for a day.
    """

    slack: int = ENDLESS
    first: str = "work"
    fog: float = 0.0
    wait: int = ENDLESS
    strips: str = "batch"
    strip_by: str = "poured"
    in_line: bool = False
    full: float = 0.0
    hold: float = 1.0
    patience: int = 1
    share: float = 1.0
    most_wanted: bool = False
    share_rack: bool = False
    portion: float = 1.0
    ragged: float = 0.0
    fullest: bool = True
    small: float = 1.0
    wary: int = 14
    skip: float = 0.0


@dataclass(frozen=True)
class Manner(Sent):
    """A policy, and what its dice are seeded with: the same manner does the same on the same day in the same yard."""

    policy: Policy
    seed: str = ""

    def dice(self, day: object = "") -> Random:
        """Those of a day, or of all days together."""
        return Random(f"{self.seed} {day}")


def up_to(manners: Sequence[Manner], position: int) -> tuple[Manner, ...]:
    """Those of the days before a position; the last one goes on."""
    return tuple(manners[min(day, len(manners) - 1)] for day in range(position))


OPENINGS = (
    Policy(slack=3, full=0.9, patience=0),
    Policy(strips="all", strip_by="due", full=0.985, wary=2),
    Policy(wait=0, strip_by="due", full=0.985, patience=ENDLESS, wary=ENDLESS),
    Policy(slack=3, wait=0, in_line=True, full=0.8),
    Policy(wait=30, strip_by="due", full=0.985, patience=ENDLESS, share_rack=True, wary=2),
    Policy(wait=120, strip_by="due", full=0.93, patience=0, wary=ENDLESS),
    Policy(slack=2, full=0.9, patience=ENDLESS),
    Policy(slack=3, wait=60, strip_by="due", in_line=True, full=0.9, patience=ENDLESS, wary=2),
    Policy(slack=0, wait=60, strips="all", in_line=True, full=0.8, patience=ENDLESS),
    Policy(slack=0, strip_by="due", full=0.93, patience=ENDLESS, share_rack=True),
    Policy(first="big", wait=30, strips="all", full=0.85, strip_by="due", share_rack=True, fullest=False),
    Policy(),
    Policy(wait=60, strip_by="due", share_rack=True, wary=ENDLESS),
)
"""Plays without dice: those that together came out best on many yards, then a plain and a careful one."""

WITH_SLABS = (*(replace(policy, most_wanted=True) for policy in OPENINGS), *OPENINGS[:4])
"""The same where slabs are sawn."""

WITHOUT_SMALL = tuple(replace(policy, small=0.0) for policy in OPENINGS[:4])
"""Further ones where a mixer is smaller than another."""

_CHOICES: dict[str, tuple[Any, ...]] = {
    "slack": (ENDLESS, ENDLESS, 7, 3, 2, 0),
    "first": ("work", "work", "big", "small"),
    "fog": (0.0, 0.1, 0.3, 0.6, 1.5),
    "wait": (0, 15, 30, 60, 120, 240, ENDLESS),
    "strips": ("batch", "all", "one"),
    "strip_by": ("poured", "due", "blocks", "dice"),
    "in_line": (False, True),
    "full": (0.0, 0.8, 0.85, 0.9, 0.93, 0.95, 0.97, 0.985),
    "hold": (0.3, 0.7, 1.0),
    "patience": (0, 1, ENDLESS, ENDLESS),
    "share": (1.0, 1.0, 1.0, 1.0, 0.7, 0.4),
    "most_wanted": (False, True),
    "share_rack": (False, False, True),
    "portion": (1.0, 1.0, 1.0, 0.5, 0.7),
    "ragged": (0.0, 0.0, 0.0, 0.2, 0.5),
    "fullest": (True, False),
    "small": (1.0, 1.0, 0.0, 0.0, 0.3),
    "wary": (0, 2, 7, 14, ENDLESS),
    "skip": (0.0, 0.0, 0.0, 0.1, 0.3),
}


_SELDOM = frozenset({"share", "portion", "ragged", "skip", "small", "fullest"})
"""What hardly ever makes a plan better that is good already; half of all changes would be of one of these."""
_HOW_SELDOM = 0.2
"""How often one of them may be changed all the same."""


def drawn(dice: Random) -> Policy:
    """Any policy."""
    return Policy(**{name: dice.choice(values) for name, values in _CHOICES.items()})


def near(policy: Policy, dice: Random, but: Collection[str] = ()) -> Policy:
    """A policy that does one to three things differently, but for some that make no difference."""
    names = [field.name for field in fields(Policy) if field.name not in but and _is_tried(field.name, dice)]
    changed = dice.sample(names, dice.choice((1, 1, 2, 3)))
    return replace(policy, **{name: _other(policy, name, dice) for name in changed})


def _is_tried(name: str, dice: Random) -> bool:
    return name not in _SELDOM or dice.random() < _HOW_SELDOM


def fuller(dice: Random) -> dict[str, Any]:
    """Some of what makes batches fuller, and so fewer."""
    values: dict[str, Any] = {
        "full": dice.choice((0.9, 0.93, 0.97, 0.985)),
        "hold": dice.choice((0.3, 0.7, 1.0)),
        "patience": dice.choice((0, 1, ENDLESS)),
        "share": 1.0,
        "small": 0.0,
    }
    return {name: values[name] for name in dice.sample(list(values), dice.choice((2, 3, 5)))}


def _other(policy: Policy, name: str, dice: Random) -> Any:
    return dice.choice([value for value in _CHOICES[name] if value != getattr(policy, name)])
