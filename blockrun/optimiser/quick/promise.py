"""Strips set down the moment a mould is poured, for a frost comes: what cannot be stripped before is not poured."""

from __future__ import annotations

from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.optimiser.quick.yard import Yard
from blockrun.optimiser.state import Span, Turn


def promise(yard: Yard, turn: Turn, last_day: int, not_before: tuple[int, int] = (0, 0)) -> bool:
    """Set down the sides and the strip of a turn, as soon as can be up to a day; whether they could be.

    ``not_before`` are minutes before which neither of them is to begin.
    """
    problem = yard.problem
    mould = problem.moulds[turn.mould]
    sides = turn.sides
    if mould.bases and sides is None:
        ripe = turn.sides_ripe(problem)
        sides = _soonest(yard, max(ripe, not_before[0]) if ripe >= 0 else ripe, mould.sides, last_day)
        if sides is None:
            return False
    ripe = turn.strip_ripe(problem)
    if ripe < 0:
        return False
    length = mould.strip + problem.move[turn.blocks]
    at = max(ripe, sides.end if sides is not None else 0, not_before[1])
    strip = _soonest(yard, at, length, last_day, mould.strip, turn)
    if strip is None:
        return False
    yard.rack.take(turn, strip.end)
    yard.promised[id(turn)] = (sides if turn.sides is None else None, strip)
    return True


def take_back(yard: Yard, turn: Turn) -> None:
    """Free what was promised to a turn that is to be filled further."""
    sides, strip = yard.promised.pop(id(turn), (None, None))
    mould, days = yard.problem.moulds[turn.mould], yard.problem.day_index
    if sides is not None:
        yard.shift(days[sides.start // MINUTES_A_DAY]).release(sides.start, sides.end)
    if strip is not None:
        until = strip.start + mould.strip + yard.problem.move[turn.blocks]
        yard.shift(days[strip.start // MINUTES_A_DAY]).release(strip.start, until)
        yard.rack.release(turn, strip.end)


def _soonest(yard: Yard, at: int, length: int, last_day: int, strip: int = 0, turn: Turn | None = None) -> Span | None:
    """Take a person for a task; one that strips needs its places on the rack, and is over when it has stripped."""
    days = yard.problem.days
    for position in range(yard.position, len(days)):
        if days[position].number > last_day or at < 0:
            return None
        shift = yard.shift(position)
        start = shift.first(at, length)
        while start is not None:
            room = yard.rack.room_from(turn, start + strip) if turn is not None else start
            if room == start + strip:
                shift.take(start, start + length)
                return Span(start, start + (strip if turn is not None else length))
            start = shift.first(room - strip, length)
    return None


def promise_all(yard: Yard, wary: int) -> bool:
    """Promises for all that stands without one, the soonest frost first; whether all could be given."""
    if not yard.ground.frosty:
        return True
    today = yard.problem.days[yard.position].number
    waiting = (turn for turn in yard.standing if id(turn) not in yard.promised)
    found = [(by, turn.poured, turn) for turn in waiting if (by := deadline(yard, turn, today, wary)) is not None]
    return all(promise(yard, turn, by) for by, _, turn in sorted(found, key=lambda item: item[:2]))


def deadline(yard: Yard, turn: Turn, today: int, wary: int) -> int | None:
    """The last day to strip a turn, where it is near."""
    if turn.strip is not None or turn.caught:
        return None
    by = yard.ground.must_strip_by(turn.start // MINUTES_A_DAY)
    return by if by is not None and by <= today + wary else None
