"""Numbers of batches that were poured: what stands on a card, a label and the blocks themselves stays."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Container, Iterable, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.planner.begun.facts import BatchPoured
    from blockrun.yard.now import BatchNo, Pour


def numbers_of(
    pours: Sequence[Pour], before: Iterable[BatchPoured], plan: str, thrown: Container[int] = ()
) -> list[int]:
    """A number for each pour, none of them twice.

    A pour that the plan in hand was told of keeps the number that it has there. One of a batch of that plan has its
    number; of several the last that filled a mould, for what was poured before is thrown away as a rule. Any other
    gets the next above all these, by the clock: what no plan has, and what was poured of a batch besides.

    Parameters
    ----------
    pours : by the clock.
    before : what the plan in hand was told of.
    plan : its digits.
    thrown : which of the pours, from 0, filled no mould.
    """
    told: defaultdict[Pour, deque[int]] = defaultdict(deque)
    for one in before:
        told[(one.plan, one.was), one.poured].append(one.number)
    taken = {number for numbers in told.values() for number in numbers}
    found = {nth: told[pour].popleft() for nth, pour in enumerate(pours) if told[pour]}
    own = _left(told)
    for (digits, number), _ in pours:
        if digits == plan and number not in taken:
            own[digits, number] = {number}
    for nth in sorted(range(len(pours)), key=lambda nth: (nth in thrown, -nth)):
        batch, _ = pours[nth]
        if nth not in found and own[batch]:
            found[nth] = min(own[batch])
            own[batch].remove(found[nth])
    highest = max(found.values(), default=0)
    more = (nth for nth in range(len(pours)) if nth not in found)
    found |= {nth: number for number, nth in enumerate(more, highest + 1)}
    return [found[nth] for nth in range(len(pours))]


def _left(told: dict[Pour, deque[int]]) -> defaultdict[BatchNo, set[int]]:
    """Numbers of batches whose pours are told otherwise by now, such as at another minute."""
    left: defaultdict[BatchNo, set[int]] = defaultdict(set)
    for (batch, _), numbers in told.items():
        left[batch] |= {*numbers}
    return left
