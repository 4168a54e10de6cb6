"""Many runs of a plan: the same with any number of workers, in any order, in this process or in others.

Each run draws its numbers from the seed and its own number. It is played as it comes, then with each cause switched
off, then with broken blocks alone, with the spares of the plan and without: all with the same numbers.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import FIRST_COMPLETED, Executor, Future, wait
from itertools import takewhile
from typing import TYPE_CHECKING, Final, NamedTuple

from blockrun.planner.risk.rates import Cause, Rates
from blockrun.yard.luck import Draws, Luck
from blockrun.yard.run import Outcome, Run

if TYPE_CHECKING:
    from blockrun.planner.plan import Stop
    from blockrun.yard.setting import Setting

AT_ONCE: Final = 10
"""Runs that one worker plays at a time: what goes to it then takes a fiftieth of that time."""

_GLANCE_S: Final = 0.1


class Played(NamedTuple):
    """One run.

    Attributes
    ----------
    all : as it comes.
    without : by cause, with that one switched off.
    broken : with broken blocks alone.
    no_spares : with broken blocks alone, and none of the spares there.
    """

    all: Outcome
    without: tuple[Outcome, ...]
    broken: Outcome
    no_spares: Outcome


def play(setting: Setting, rates: Rates, seed: int, runs: range) -> list[Played]:
    """Play some runs here."""
    return [_played(setting, rates, seed, run) for run in runs]


def calm(setting: Setting, rates: Rates) -> Outcome:
    """What comes of the plan if nothing goes wrong: what it says itself."""
    return Run(setting, Luck(Draws(setting, 0, 0), rates.without(*Cause))).play()


def sweep(
    setting: Setting,
    rates: Rates,
    seed: int,
    runs: int,
    executor: Executor | None,
    stop: Stop,
    tell: Callable[[int], None],
) -> list[Played]:
    """Play many runs.

    Parameters
    ----------
    executor : plays them; None for here.
    stop : asked all the time; then those begun are played to their end, and all up to the first that is not played are
        handed over.
    tell : hears how many are played.
    """
    parts = [range(start, min(start + AT_ONCE, runs)) for start in range(0, runs, AT_ONCE)]
    if executor is None:
        return _here(setting, rates, seed, parts, stop, tell)
    doing = [executor.submit(play, setting, rates, seed, part) for part in parts]
    left: set[Future[list[Played]]] = set(doing)
    while left and not stop():
        done, left = wait(left, timeout=_GLANCE_S, return_when=FIRST_COMPLETED)
        if done:
            tell(min(runs, AT_ONCE * (len(doing) - len(left))))
    given_up = {each for each in left if each.cancel()}  # those that have begun are not
    return [run for each in takewhile(lambda one: one not in given_up, doing) for run in each.result()]


def _here(
    setting: Setting, rates: Rates, seed: int, parts: Sequence[range], stop: Stop, tell: Callable[[int], None]
) -> list[Played]:
    played: list[Played] = []
    for part in parts:
        if stop():
            break
        played += play(setting, rates, seed, part)
        tell(len(played))
    return played


def _played(setting: Setting, rates: Rates, seed: int, run: int) -> Played:
    draws = Draws(setting, seed, run)

    def outcome(these: Rates, *, with_spares: bool = True) -> Outcome:
        return Run(setting, Luck(draws, these), with_spares=with_spares).play()

    whole, broken = outcome(rates), rates.only(Cause.BROKEN)
    # what did nothing may as well be switched off
    without = tuple(outcome(rates.without(cause)) if cause in whole.struck else whole for cause in Cause)
    return Played(whole, without, outcome(broken), outcome(broken, with_spares=False))
