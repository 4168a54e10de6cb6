"""Rules on the turns of one mould: what holds a turn together, and its order."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise

from blockrun.planner.audit.case import Case
from blockrun.planner.audit.finding import Rule, Said
from blockrun.planner.audit.sweep import overlaps
from blockrun.planner.audit.turns import Turn


def one_day_a_turn(case: Case) -> Iterator[Said]:
    """Pour all batches of one turn on one day."""
    for turn in case.turns:
        days = sorted({case.day_of(batch.start) for batch in turn.batches})
        if len(days) > 1 and not case.past.has_begun(turn):
            yield turn.name, f"{turn.name} is poured on {' and '.join(map(case.on, days))}; a turn is poured on one day"


def one_base_a_turn(case: Case) -> Iterator[Said]:
    """Stand all blocks of one turn on one base."""
    for turn in case.turns:
        bases = sorted({cast.base for cast in turn.casts})
        if len(bases) > 1:
            yield turn.name, f"{turn.name} stands on {' and '.join(bases)}; a turn stands on one base"


def turns_count_up(case: Case) -> Iterator[Said]:
    """Count turns up in each mould as time goes by, from 1 or later."""
    for turns in _by_mould(case).values():
        if turns[0].number < 1:
            yield turns[0].name, f"{turns[0].name} has a number under 1"
        for first, second in pairwise(turns):
            if second.number <= first.number and not case.past.has_begun(second):
                yield (
                    second.name,
                    f"{second.name} starts {case.at(second.start)}, but turn {first.number} of that mould started "
                    f"before it, {case.at(first.start)}",
                )


def one_turn_a_mould(case: Case) -> Iterator[Said]:
    """Keep a mould in one turn at a time: until cleaned, or with bases until its sides are off."""
    for mould, turns in _by_mould(case).items():
        for first, second in overlaps((turn.start, turn.mould_free, turn) for turn in turns):
            if not case.past.has_begun(second):
                yield (
                    second.name,
                    f"{second.name} is filled {case.at(second.start)}, but {mould} is free of turn {first.number} "
                    f"only {case.at(first.mould_free)}",
                )


def one_turn_a_base(case: Case) -> Iterator[Said]:
    """Keep a base in one turn at a time, from the pour until it is cleaned."""
    by_base: defaultdict[str, list[Turn]] = defaultdict(list)
    for turn in case.turns:
        if turn.base:
            by_base[turn.base].append(turn)
    for base, turns in sorted(by_base.items()):
        for first, second in overlaps((turn.start, turn.cleaned, turn) for turn in turns):
            if not case.past.has_begun(second):
                yield (
                    second.name,
                    f"{second.name} is filled {case.at(second.start)} on {base}, which is free of {first.name} "
                    f"only {case.at(first.cleaned)}",
                )


def clean_after_thrown_out(case: Case) -> Iterator[Said]:
    """Fill a mould, or a base, out of which all was thrown no sooner than it is clean again."""
    for gone in case.thrown_out:
        if gone.row is None:
            continue
        clean = gone.row.start + gone.length
        for turn in case.turns:
            if (turn.base or turn.mould) == gone.place and not case.past.has_begun(turn) and turn.start < clean:
                yield (
                    turn.name,
                    f"{turn.name} is filled {case.at(turn.start)}, but {gone.place}, out of which all was thrown, is "
                    f"clean only {case.at(clean)}",
                )


def filled_in_use(case: Case) -> Iterator[Said]:
    """Fill no mould and no base that is out of use; what stands in one is still stripped."""
    out = set(case.begun.out_of_use) if case.begun else set()
    for turn in case.turns:
        for name in (turn.mould, turn.base):
            if name in out and not case.past.has_begun(turn):
                yield turn.name, f"{turn.name} is filled {case.at(turn.start)}, but {name} is out of use"


def _by_mould(case: Case) -> dict[str, list[Turn]]:
    by_mould: defaultdict[str, list[Turn]] = defaultdict(list)
    for turn in case.turns:
        by_mould[turn.mould].append(turn)
    return by_mould


TURNS: tuple[Rule, ...] = (
    one_day_a_turn,
    one_base_a_turn,
    turns_count_up,
    one_turn_a_mould,
    one_turn_a_base,
    clean_after_thrown_out,
    filled_in_use,
)
