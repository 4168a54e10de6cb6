"""What stands in the moulds already: sides off, stripped, moved and cleaned, as much of it as is ripe."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from blockrun.optimiser.asked import Asked
from blockrun.optimiser.board import Board, Tasks
from blockrun.optimiser.engine import Value
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.optimiser.state import Turn

_TURN_NOT_STRIPPED = 5_000
_MOULD_NOT_FREED = 10_000


class Emptying:
    """Turns begun before the day, on its board."""

    def __init__(self, board: Board, limits: Limits, asked: Asked) -> None:
        self.board, self.limits, self.asked = board, limits, asked
        self.model, self.problem = board.model, board.problem
        self._open_turns()
        self._equal_turns_in_order()
        self._strips_asked()

    def _open_turns(self) -> None:
        """Ripe turns lose their sides, are stripped, moved and cleaned, in this order, if there is time."""
        self.old: list[tuple[Turn, Tasks]] = []
        frost = self.limits.frost
        for index, turn in enumerate(sorted(self.board.state.open_turns, key=self._ripe_first)):
            mould, name = self.problem.moulds[turn.mould], f"old {index}"
            sides = strip = clean = None
            on_sides = bool(mould.bases) and turn.sides is None and turn.strip is None
            if on_sides:
                sides = self.board.task(f"{name} sides", mould.sides, self._ripe(turn.sides_ripe(self.problem)))
                self.board.holds_sides(turn.mould, self.board.opening, sides, name)
            if turn.strip is None and (not on_sides or sides is not None):
                ripe = self._ripe(turn.strip_ripe(self.problem))
                strip = self.board.task(f"{name} strip", mould.strip + self.problem.move[turn.blocks], ripe)
            if turn.strip is not None or strip is not None:
                clean = self.board.task(f"{name} clean", mould.clean)
            must = (
                turn.strip is None
                and not turn.caught
                and frost.comes_overnight(self.board.state.day, turn.start // MINUTES_A_DAY)
            )
            if strip is not None:
                self.board.after_strip(sides, strip, clean, mould.strip, turn.blocks, name)
                self.board.to_stack(turn, strip)
                if must:
                    self.model.add(strip.done == 1)
                elif frost.is_near(self.board.state.day, turn.start // MINUTES_A_DAY):
                    self.board.price += 20 * _TURN_NOT_STRIPPED * (1 - strip.done)
            elif must:
                self.model.add_bool_or([])
            self.board.stands(turn.mould, self.board.opening, clean, name)
            self.old.append((turn, Tasks(sides, strip, clean)))
            self.board.price += sum(_MOULD_NOT_FREED * (1 - task.done) for task in (sides, clean) if task is not None)
            self.board.price += sum(task.start for task in (sides, strip, clean) if task is not None)

    @staticmethod
    def _ripe_first(turn: Turn) -> tuple[int, tuple[int, int], int]:
        return turn.mould, turn.waits, turn.poured

    def _ripe(self, minute: int) -> int:
        return MINUTES_A_DAY * 2 if minute < 0 else max(0, minute - self.board.midnight)

    def _equal_turns_in_order(self) -> None:
        """Of turns of one mould that take as much room and wait alike, the one poured first is stripped first."""
        for (turn, tasks), (later, later_tasks) in pairwise(self.old):
            strip, later_strip = tasks.strip, later_tasks.strip
            alike = turn.mould == later.mould and turn.waits == later.waits
            alike = alike and self._room_of(turn) == self._room_of(later)
            if alike and strip is not None and later_strip is not None:
                self.model.add_implication(later_strip.done, strip.done)
                self.model.add(strip.start <= later_strip.start).only_enforce_if(later_strip.done)

    def _room_of(self, turn: Turn) -> object:
        """Its blocks on the rack; on a small stack it matters which they are."""
        stacked = self.problem.stack is not None
        return (turn.blocks, sorted(number for number, _ in turn.fills)) if stacked else turn.blocks

    def _strips_asked(self) -> None:
        """Falling short of the turns to strip has its price."""
        for kind in range(len(self.problem.moulds)):
            strips = [tasks.strip.done for turn, tasks in self.old if turn.mould == kind and tasks.strip is not None]
            asked = len(strips) if self.asked.strips is None else min(len(strips), self.asked.strips.get(kind, 0))
            if asked:
                short = self.model.new_int_var(0, asked, f"strips short {kind}")
                self.model.add(short >= asked - sum(strips))
                self.board.price += _TURN_NOT_STRIPPED * self._worth_of(kind) * short

    def _worth_of(self, kind: int) -> int:
        """Weight of the most wanted thing a kind of mould casts."""
        useful = self.problem.useful(self.board.state.left_to_pour(self.problem))
        return max((self.asked.worth.get(c, 1) for c in self.problem.moulds[kind].casts if useful[c]), default=1)

    def read(self, value: Value) -> list[tuple[Turn, Turn]]:
        """Each of these turns as it was, and as it is after the day of an answer."""
        after = []
        for turn, tasks in self.old:
            moved = replace(turn)
            self.board.finish(moved, tasks, value)
            after.append((turn, moved))
        return after
