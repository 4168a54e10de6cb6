"""What thumbs say of the turns of a plan: their pace, and from when a mould may be stripped and its sides come off.

Tests are kept apart from the plan (`thumb_table`). Those of one turn move that turn's strip, by the rule of
`blockrun.cure.thumb`; the plan stays as it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta
from functools import cached_property
from typing import TYPE_CHECKING

from blockrun.cure.aged import warm_age_h
from blockrun.cure.thumb import Pace, Pressed, Thumb, counting, firm_counts_from_h, old_enough, pace
from blockrun.cure.warm import NEVER
from blockrun.errors import BadInput
from blockrun.order import takeoff
from blockrun.planner.ages import ages_of
from blockrun.planner.clocks import Clocks
from blockrun.planner.in_moulds import Turn, named, standing, turns_of
from blockrun.planner.thumb_table import DECIMALS, ThumbTest, in_order
from blockrun.site import Strength

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan


@dataclass(frozen=True)
class Span:
    """A job as it can be now: from when it is old enough, as reckoned and by its thumbs; its begin and end."""

    reckoned: datetime
    ripe: datetime
    begins: datetime
    ends: datetime


@dataclass(frozen=True)
class Thumbed:
    """A turn into which thumbs were pressed.

    Attributes
    ----------
    tests : of this turn, by time.
    counted : those of them that no softer one gainsays; see `blockrun.cure.thumb`.
    told : the pace that these tell together.
    firm_counts : the moment from which a thumb that leaves no mark counts, whatever was softer before.
    strip : its strip, not before the plan has it.
    may_strip : the first working minute from which it can be stripped, be it before the plan has it.
    sides : likewise, where the sides were on at the first test; else None.
    """

    turn: Turn
    tests: tuple[ThumbTest, ...]
    counted: tuple[ThumbTest, ...]
    told: Pace
    firm_counts: datetime
    strip: Span
    may_strip: datetime
    sides: Span | None = None

    @property
    def set_aside(self) -> tuple[ThumbTest, ...]:
        """Tests that a softer one leaves no room for."""
        return tuple(test for test in self.tests if test not in self.counted)

    @property
    def press_again(self) -> bool:
        """Whether it is to be stripped only once another thumb leaves no mark."""
        return self.told.factor < 1 and self.counted[-1].thumb != "firm"

    @property
    def is_later(self) -> bool:
        """Whether the strip is to wait longer than planned."""
        return self.strip.begins > self.turn.strip

    @property
    def is_sooner(self) -> bool:
        """Whether it may be stripped before the plan strips it, and before it was reckoned to be old enough."""
        return self.strip.ripe < self.strip.reckoned and self.may_strip < self.turn.strip

    @property
    def sides_later(self) -> bool:
        """Whether the sides are to stay on longer than planned."""
        return self.sides is not None and self.turn.sides is not None and self.sides.begins > self.turn.sides

    def moved(self, task: str) -> datetime | None:
        """From when ``strip`` or ``sides`` may be done, where thumbs move that; else None."""
        if task == "sides":
            return self.sides.begins if self.sides and self.sides_later else None
        if self.is_later:
            return self.strip.begins
        return self.strip.ripe if self.is_sooner else None


class Thumbs:
    """The turns of a plan, with what is known of them by thumbs.

    Parameters
    ----------
    plan : as the audit passes it.
    tests : all that were kept. Those of other plans, which the folder held before, move nothing here.
    """

    def __init__(self, plan: Plan, tests: Iterable[ThumbTest] = ()) -> None:
        self.plan = plan
        self.tests = tuple(in_order(tests))
        self.turns = turns_of(plan)
        self._site = plan.site
        self._midnight = datetime.combine(plan.site.calendar.start, time())
        self._clocks = Clocks(plan.site, plan.order, takeoff(plan.order, moulds=plan.site.moulds))
        self._ages = ages_of(plan.site, plan.order, {mix for mix in plan.tables.casts["mix"]})

    @property
    def strip_h(self) -> float:
        """Hours at 20 degC at which moulds are stripped by the site."""
        return self._ages.strip_h

    @property
    def waits_for_strength(self) -> bool:
        """Whether moulds are stripped by a strength, which no thumb feels."""
        curing = self._site.curing
        return isinstance(curing.strip_at_h, Strength) or isinstance(curing.move_at_h, Strength)

    @cached_property
    def thumbed(self) -> dict[tuple[str, int], Thumbed]:
        """Turns of this plan with tests, by mould and number."""
        found = {}
        for turn in self.turns:
            if tests := self._of(turn):
                found[turn.mould, turn.number] = self._thumbed(turn, tests)
        return found

    def of(self, turn: Turn) -> Thumbed | None:
        """What thumbs say of a turn; None without any."""
        return self.thumbed.get((turn.mould, turn.number))

    def press(self, written: str, at: datetime, thumb: Thumb, note: str = "") -> tuple[Thumbs, ThumbTest]:
        """Press a thumb into what stands in a mould.

        Parameters
        ----------
        written : a mould or a base.
        at : when.

        Returns
        -------
        All that is known then, and the test. One that is known already changes nothing.

        Raises
        ------
        BadInput : there is no such mould, or nothing stands there then.
        """
        turn = standing(self.turns, named(written, self.turns), at, self._stripped)
        age_h = round(self._age_h(turn, at), DECIMALS)
        if age_h <= 0:
            raise BadInput(f"{turn.place} was poured just before", "Press it some hours after the pour.", value=at)
        test = ThumbTest(
            at,
            turn.mould,
            turn.base,
            turn.number,
            turn.batches,
            turn.mix,
            turn.poured,
            age_h,
            thumb,
            turn.strip,
            turn.strip,
            note,
        )
        if known := next((one for one in self.tests if one.key == test.key), None):
            return self, known
        told = self._thumbed(turn, in_order([*self._of(turn), test]))
        test = replace(test, strip_now=told.may_strip)
        return Thumbs(self.plan, [*self.tests, test]), test

    def _of(self, turn: Turn) -> list[ThumbTest]:
        same = (turn.mould, turn.base, turn.number, turn.poured)
        return [test for test in self.tests if (test.mould, test.base, test.turn, test.poured) == same]

    def _stripped(self, turn: Turn) -> datetime:
        thumbed = self.of(turn)
        return max(turn.stripped, thumbed.strip.ends) if thumbed else turn.stripped

    def _age_h(self, turn: Turn, at: datetime) -> float:
        poured, minute = self._minute(turn.poured), self._minute(at)
        if self._clocks.modelled:
            return warm_age_h(self._site, self._clocks.casts(turn.kind).values(), poured, minute)
        return self._clocks.air.age_h(poured, minute)

    def _thumbed(self, turn: Turn, tests: Sequence[ThumbTest]) -> Thumbed:
        pressed = [Pressed(test.age_h, test.thumb) for test in tests]
        counts = counting(pressed, self.strip_h)
        counted = tuple(test for test, one in zip(tests, pressed, strict=True) if one in counts)
        told = pace(counts, self.strip_h)
        sides = self._sides(turn, counted, told)
        ripe = self._ripe(turn, self.strip_h, told, counted, sooner=not self.waits_for_strength)
        reckoned = self._ripe(turn, self.strip_h, told, ())
        free = max(ripe, sides.ends) if sides else ripe
        kind, calendar = turn.kind, self._site.calendar
        begins = turn.strip if free <= turn.strip else calendar.next_stretch(free, kind.strip_and_saw_min)
        strip = Span(reckoned, ripe, begins, begins + timedelta(minutes=kind.strip_and_saw_min))
        may_strip = calendar.next_stretch(free, kind.strip_and_saw_min)
        firm_counts = self._aged(turn, firm_counts_from_h(counts))
        return Thumbed(turn, tuple(tests), counted, told, firm_counts, strip, may_strip, sides)

    def _sides(self, turn: Turn, tests: Sequence[ThumbTest], told: Pace) -> Span | None:
        """The sides, by the tests made while they were on; None where there are none, or no such test."""
        span: Span | None = None
        for n, test in enumerate(tests):
            on_until = span.begins if span else turn.sides
            if on_until is None or test.pressed >= on_until:
                break
            span = self._sides_by(turn, tests[: n + 1], told)
        return span

    def _sides_by(self, turn: Turn, tests: Sequence[ThumbTest], told: Pace) -> Span:
        sides_h, takes_min = self._ages.sides_h(turn.kind), turn.kind.sides_time_min
        assert sides_h is not None
        assert takes_min is not None
        assert turn.sides is not None
        ripe = self._ripe(turn, sides_h, told, tests, sooner=not isinstance(turn.kind.sides_off_at_h, Strength))
        begins = turn.sides if ripe <= turn.sides else self._site.calendar.next_stretch(ripe, takes_min)
        return Span(self._ripe(turn, sides_h, told, ()), ripe, begins, begins + timedelta(minutes=takes_min))

    def _ripe(
        self, turn: Turn, due_h: float, told: Pace, tests: Sequence[ThumbTest], *, sooner: bool = True
    ) -> datetime:
        pressed = [(self._minute(test.pressed), test.thumb) for test in tests]
        clock, poured = self._clocks.of(turn.kind), self._minute(turn.poured)
        return self._moment(turn, old_enough(clock, poured, due_h, told, pressed, sooner=sooner))

    def _aged(self, turn: Turn, age_h: float) -> datetime:
        return self._moment(turn, self._clocks.of(turn.kind).when(self._minute(turn.poured), age_h))

    def _moment(self, turn: Turn, minute: int) -> datetime:
        if minute >= NEVER:
            todo = "Cover it and keep it warm, and press again; or throw the batch away."
            raise BadInput(f"what stands in {turn.place} is never old enough at that pace in this weather", todo)
        return self._midnight + timedelta(minutes=minute)

    def _minute(self, moment: datetime) -> int:
        return (moment - self._midnight) // timedelta(minutes=1)
