"""Thumb tests that were made, each whole without the plan."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime

from blockrun.cure.thumb import THUMBS, Thumb
from blockrun.errors import BadInput
from blockrun.files.text import did_you_mean


@dataclass(frozen=True)
class ThumbTest:
    """One thumb pressed into one mould.

    Parameters
    ----------
    pressed : when, after ``poured``.
    mould, base : where; base is empty without one.
    turn, batches, mix : what stood there; names of several mixes are joined by ``+``. The turn is 0 where the plan has
        none.
    poured : when its last pour ended.
    age_h : hours at 20 degC reckoned from then to the test, > 0.
    thumb : what it showed.
    strip_planned : when the plan strips it.
    strip_now : the first working minute from which it might be stripped, with all that was known at the test.
    note : whatever somebody wrote.
    plan : digits of the plan by which batches and turn have their numbers; empty where nobody knows.
    entry : its number in the journal; 0 before it is there.
    """

    pressed: datetime
    mould: str
    base: str
    turn: int
    batches: tuple[int, ...]
    mix: str
    poured: datetime
    age_h: float
    thumb: Thumb
    strip_planned: datetime
    strip_now: datetime
    note: str = ""
    plan: str = ""
    entry: int = field(default=0, compare=False)

    @property
    def key(self) -> tuple[object, ...]:
        """What makes it another test than others."""
        return self.pressed, self.mould, self.base, self.turn, self.poured, self.thumb


def in_order(tests: Iterable[ThumbTest]) -> list[ThumbTest]:
    """Tests by time, then by place; the softest last of those at one minute, for it is the one to go by."""
    return sorted(tests, key=lambda test: (test.pressed, test.mould, test.base, -THUMBS.index(test.thumb)))


def read_thumb(text: str) -> Thumb:
    """What a thumb showed.

    Raises
    ------
    BadInput : it is not soft, dents or firm.
    """
    word = text.strip().lower()
    if word not in THUMBS:
        todo = f"{did_you_mean(word, THUMBS)} Soft sinks in, dents leaves a mark, firm leaves none."
        raise BadInput(f"{text} is not what a thumb shows", todo, value=text)
    return word
