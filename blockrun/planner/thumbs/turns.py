"""What thumbs say of the turns of a plan: their pace, and from when a mould may be stripped and its sides come off.

Tests are kept apart from the plan (`thumb_tests`). Those of one turn move that turn's strip, by the rule of
`blockrun.cure.felt`; the plan stays as it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from blockrun.cure.age import NEVER
from blockrun.cure.aged import warm_age_h
from blockrun.cure.felt import DECIMALS, Felt, Press
from blockrun.cure.frozen import FrozenHours
from blockrun.cure.thumb import Pressed, Thumb
from blockrun.errors import BadInput
from blockrun.planner.ages import ages_of
from blockrun.planner.begun.numbers import numbers_before
from blockrun.planner.clocks import Clocks
from blockrun.planner.in_moulds import Turn, named, standing, turns_of
from blockrun.planner.label_code import plan_id
from blockrun.planner.thumbs.pressed import ThumbTest, in_order
from blockrun.planner.thumbs.thumbed import Span, Thumbed, check_pressed
from blockrun.planner.went import Went
from blockrun.site import Strength

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan


class Heeded(NamedTuple):
    """From when sides may come off and a strip may be, as a plan made anew has it of thumbs pressed before."""

    sides_from: datetime | None = None
    strip_from: datetime | None = None


class Thumbs:
    """The turns of a plan, with what is known of them by thumbs.

    Parameters
    ----------
    tests : all that were kept. Those of other plans, which the folder held before, move nothing here: they are of other
        batches, another mix or another pour.
    """

    def __init__(self, plan: Plan, tests: Iterable[ThumbTest] = ()) -> None:
        self.plan = plan
        self.tests = tuple(in_order(tests))
        self.turns = turns_of(plan)
        self._site = plan.site
        self._clocks = Clocks(plan.site, plan.order, plan.ordered)
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

    def press(
        self, written: str, at: datetime, thumb: Thumb, note: str = "", went: Went | None = None
    ) -> tuple[Thumbs, ThumbTest]:
        """Press a thumb into what stands in a mould.

        Parameters
        ----------
        written : a mould or a base.
        at : when.
        went : what is recorded until then; where that tells of a mould, it counts before the plan.

        Returns
        -------
        All that is known then, and the test. One that is known already changes nothing.

        Raises
        ------
        BadInput : there is no such mould, or nothing stands there then.
        """
        turn = self._standing(named(written, self.turns), at, went or Went())
        age_h = round(self._age_h(turn, at), DECIMALS)
        check_pressed(turn.place, at, age_h, self._site.calendar)
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
            self._plan_id,
        )
        if known := next((one for one in self.tests if one.key == test.key), None):
            return self, known
        told = self._thumbed(turn, in_order([*self._of(turn), test]))
        test = replace(test, strip_now=told.may_strip)
        return Thumbs(self.plan, [*self.tests, test]), test

    def _standing(self, name: str, at: datetime, went: Went) -> Turn:
        """The turn that stands there: as recorded, else by the plan."""
        stands = went.stands.get(name)
        if stands is not None:
            of = (turn for turn in self.turns if name in {turn.mould, turn.base} and stands.batches & {*turn.batches})
            turn = next(of, None)
            if turn is None:
                todo = "Keep it with: blockrun record DIR thumb MOULD firm (or dents, or soft); ready then heeds it."
                raise BadInput(f"the plan never has in {name} what stands there as recorded", todo, name="thumb")
            return replace(turn.only(stands.batches), poured=stands.poured)
        turn = standing(self.turns, name, at, self._stripped)
        if went.poured & {*turn.batches}:
            what = f"nothing stands in {name} at {at:%Y-%m-%d %H:%M}, by what is recorded"
            raise BadInput(
                what, "Say when you pressed, or undo the strip: blockrun record DIR undo NUMBER", name="--at"
            )
        return turn

    def _of(self, turn: Turn) -> list[ThumbTest]:
        return [
            test
            for test in self.tests
            if (test.mould, test.base) == (turn.mould, turn.base)
            and self._fills(test, turn)
            and (test.plan or (test.turn, test.poured) == (turn.number, turn.poured))
        ]

    def _fills(self, test: ThumbTest, turn: Turn) -> bool:
        """Whether the batches of a test are of a turn; a further one may not have been poured yet."""
        batches = self._batches(test)
        return bool(batches) and {*batches} <= {*turn.batches} and turn.only(batches).mix == test.mix

    def _batches(self, test: ThumbTest) -> tuple[int, ...]:
        """Numbers that batches of a test have in this plan; as they are where nobody knows of which plan they are."""
        if not test.plan:
            return test.batches
        found = (self.number_of(test.plan, number) for number in test.batches)
        return tuple(sorted(number for number in found if number is not None))

    def number_of(self, plan: str, number: int) -> int | None:
        """The number here of a batch recorded by some plan, this one or one it was made anew from; else None."""
        return self._before.get((plan, number)) or (number if plan == self._plan_id else None)

    @cached_property
    def _before(self) -> dict[tuple[str, int], int]:
        begun = self.plan.begun
        return numbers_before(begun.batches, {*self.plan.tables.casts["batch"]}) if begun else {}

    @cached_property
    def _plan_id(self) -> str:
        return plan_id(self.plan)

    def _stripped(self, turn: Turn) -> datetime:
        thumbed = self.of(turn)
        return max(turn.stripped, thumbed.strip.ends) if thumbed else turn.stripped

    def _age_h(self, turn: Turn, at: datetime) -> float:
        poured, minute = self._site.calendar.minute_of(turn.poured), self._site.calendar.minute_of(at)
        if self._clocks.modelled:
            return warm_age_h(self._site, self._clocks.casts(turn.kind).values(), poured, minute)
        return self._clocks.air.age_h(poured, minute)

    def _thumbed(self, turn: Turn, tests: Sequence[ThumbTest]) -> Thumbed:
        planned = turn.poured
        turn = replace(turn.only(self._batches(tests[-1])), poured=tests[-1].poured)
        is_early = turn.poured.date() < planned.date()
        clock, kind, calendar = self._clocks.of(turn.kind), turn.kind, self._site.calendar
        presses = [Press(calendar.minute_of(test.pressed), Pressed(test.age_h, test.thumb)) for test in tests]
        felt = Felt(calendar.minute_of(turn.poured), self.strip_h, presses, self._freezes)
        pressed = [*zip(tests, presses, strict=True)]
        reckoned = self._moment(turn, clock.when(felt.poured, felt.due_h))
        heeded = self._heeded(turn, tests)
        ripe = heeded.strip_from or self._moment(turn, felt.strip(clock, held=self.waits_for_strength))
        sides = self._sides(turn, felt, heeded)
        free = max(ripe, sides.ends) if sides else ripe
        may_strip = calendar.next_stretch(free, kind.strip_and_saw_min)
        begins = turn.strip if free <= turn.strip and not is_early else may_strip
        firm_counts = self._moment(turn, clock.when(felt.poured, felt.firm_counts_h))
        firm_from = max(firm_counts, tests[-1].pressed)
        return Thumbed(
            turn,
            tuple(tests),
            tuple(test for test, press in pressed if press in felt.iced),
            tuple(test for test, press in pressed if press in felt.counted),
            felt.froze,
            felt.told,
            firm_counts,
            calendar.next_stretch(firm_from, kind.strip_and_saw_min),
            Span(reckoned, ripe, begins, begins + timedelta(minutes=kind.strip_and_saw_min)),
            may_strip,
            sides,
            is_early,
        )

    def _heeded(self, turn: Turn, tests: Sequence[ThumbTest]) -> Heeded:
        """What the plan was made with of these tests; of them and later ones it knows nothing."""
        begun = self.plan.begun
        if begun is None or tests[-1].pressed > begun.since:
            return Heeded()
        told = next((one for one in begun.turns if (one.mould, one.turn) == turn.key), None)
        return Heeded(told.sides_from, told.strip_from) if told else Heeded()

    def _freezes(self, begin: int, end: int) -> bool:
        return self._frozen.any(begin, end)

    @cached_property
    def _frozen(self) -> FrozenHours:
        return FrozenHours(self._site)

    def _sides(self, turn: Turn, felt: Felt, heeded: Heeded) -> Span | None:
        """The sides, by the tests made while they were on; None where there are none, or no such test."""
        span: Span | None = None
        for n, press in enumerate(felt.counted, 1):
            on_until = span.begins if span else turn.sides
            if on_until is None or press.at >= self._site.calendar.minute_of(on_until):
                break
            span = self._sides_by(turn, felt, felt.counted[:n], heeded)
        return span

    def _sides_by(self, turn: Turn, felt: Felt, tests: Sequence[Press], heeded: Heeded) -> Span:
        sides_h, takes_min = self._ages.sides_h(turn.kind), turn.kind.sides_time_min
        assert sides_h is not None
        assert takes_min is not None
        assert turn.sides is not None
        clock, held = self._clocks.of(turn.kind), isinstance(turn.kind.sides_off_at_h, Strength)
        reckoned = self._moment(turn, clock.when(felt.poured, sides_h))
        ripe = heeded.sides_from or self._moment(turn, felt.sides(clock, sides_h, tests, held=held))
        begins = turn.sides if ripe <= turn.sides else self._site.calendar.next_stretch(ripe, takes_min)
        return Span(reckoned, ripe, begins, begins + timedelta(minutes=takes_min))

    def _moment(self, turn: Turn, minute: int) -> datetime:
        if minute >= NEVER:
            todo = "Cover it and keep it warm, and press again; or throw the batch away."
            raise BadInput(f"what stands in {turn.place} is never old enough at that pace in this weather", todo)
        return self._site.calendar.moment_of(minute)
