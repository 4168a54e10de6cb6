"""All thumbs pressed into one mould, in the air it stood in, and since when it may be stripped by them.

The one place where the rule of `blockrun.cure.thumb` meets frost: a thumb that leaves no mark while the air freezes is
ice, perhaps, and tells nothing; after any frost since the pour no thumb brings anything forward.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final, NamedTuple

from blockrun.cure.thumb import (
    THUMBS,
    Clock,
    Pace,
    Pressed,
    ahead_of,
    counting,
    firm_counts_from_h,
    old_enough,
    pace,
)

DECIMALS: Final = 2
"""Of an age: a test says the same when it is made and when it is read again."""

Freezes = Callable[[int, int], bool]
"""Whether the air is under freezing at any minute from one to another, that one left out."""


class Press(NamedTuple):
    """A thumb, and the minute at which it was pressed."""

    at: int
    test: Pressed


@dataclass(frozen=True)
class Felt:
    """What thumbs tell of what was poured into one mould.

    Parameters
    ----------
    poured : minute its last pour ended.
    due_h : hours at 20 degC at which it is stripped, > 0.
    presses : after the pour; in any order, and there may be none.
    freezes : tells of frost.
    """

    poured: int
    due_h: float
    presses: Sequence[Press]
    freezes: Freezes

    @cached_property
    def in_order(self) -> tuple[Press, ...]:
        """By time; the softest last of those at one minute, for it is the one to go by."""
        return tuple(sorted(self.presses, key=lambda press: (press.at, -THUMBS.index(press.test.thumb))))

    @cached_property
    def iced(self) -> tuple[Press, ...]:
        """Those that leave no mark in air that freezes: they tell nothing."""
        return tuple(
            press for press in self.in_order if press.test.thumb == "firm" and self.freezes(press.at, press.at + 1)
        )

    @cached_property
    def counted(self) -> tuple[Press, ...]:
        """Those others that no softer one gainsays."""
        felt = [press for press in self.in_order if press not in self.iced]
        counts = counting([press.test for press in felt], self.due_h)
        return tuple(press for press in felt if press.test in counts)

    @cached_property
    def froze(self) -> bool:
        """Whether the air froze at any minute from the pour to the last of them."""
        return self._froze_until(self.in_order)

    @cached_property
    def told(self) -> Pace:
        """The pace that those that count tell together."""
        return pace([press.test for press in self.counted], self.due_h)

    @cached_property
    def firm_counts_h(self) -> float:
        """The age from which a thumb that leaves no mark counts, whatever was softer before."""
        return firm_counts_from_h([press.test for press in self.counted])

    @property
    def is_firm(self) -> bool:
        """Whether the last thumb counts and leaves no mark."""
        return bool(self.counted) and self.in_order[-1] not in self.iced and self.counted[-1].test.thumb == "firm"

    @property
    def press_again(self) -> bool:
        """Whether it is to be stripped only once another thumb leaves no mark: soft, behind, or the last on ice."""
        if not self.counted or self.in_order[-1] in self.iced or self.counted[-1].test.thumb == "soft":
            return bool(self.presses)
        return self.told.factor < 1 and not self.is_firm

    def strip(self, clock: Clock, *, held: bool = False) -> int:
        """Minute since which it may be stripped; never before the last press, were that ice.

        Parameters
        ----------
        clock : of the blocks.
        held : it waits for a strength, which no thumb feels: no sooner than reckoned.
        """
        ahead = self._ahead(self.counted, held=held or self.froze)
        pressed = [(press.at, press.test.thumb) for press in self.counted]
        ripe = old_enough(clock, self.poured, self.due_h, self.told, pressed, ahead=ahead, firm_h=self.firm_counts_h)
        return max([ripe, *(press.at for press in self.presses)])

    def sides(self, clock: Clock, sides_h: float, tests: Sequence[Press], *, held: bool = False) -> int:
        """Minute since which its sides may come off.

        Parameters
        ----------
        clock, held : as for a strip.
        sides_h : hours at 20 degC at which they come off, > 0.
        tests : those that count and were made while the sides were on.
        """
        ahead = self._ahead(tests, held=held or self._froze_until(tests))
        pressed = [(press.at, press.test.thumb) for press in tests]
        return old_enough(clock, self.poured, sides_h, self.told, pressed, ahead=ahead)

    def _ahead(self, tests: Sequence[Press], *, held: bool) -> float:
        return 1.0 if held else ahead_of([press.test for press in tests], self.due_h)

    def _froze_until(self, tests: Sequence[Press]) -> bool:
        return bool(tests) and self.freezes(self.poured, tests[-1].at + 1)
