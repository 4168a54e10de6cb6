"""A plan written by hand, and the means to change one thing in it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any

import pandas as pd

from blockrun.order import Order
from blockrun.planner.audit import Finding, audit
from blockrun.planner.begun import Begun
from blockrun.planner.columns import COLUMNS, TIME
from blockrun.planner.tables import PlanTables, Stage
from blockrun.site import Site


def written(name: str, text: str) -> pd.DataFrame:
    return _read(name, text).copy()


@cache
def _read(name: str, text: str) -> pd.DataFrame:
    """A table of a plan from rows of words; "-" is an empty cell, ``05T07:30`` is a time in April 2027."""
    rows = [[None if word == "-" else word for word in line.split()] for line in text.strip().splitlines()]
    types = COLUMNS[name]
    frame = pd.DataFrame(rows, columns=list(types))
    for column, kind in types.items():
        frame[column] = _typed(frame[column], kind)
    return frame


def _typed(cells: pd.Series, kind: str) -> pd.Series:
    if kind == TIME:
        return pd.to_datetime(cells.map(moment_of, na_action="ignore")).astype(TIME)
    if kind == "str":
        return cells.fillna("").astype("str")
    if kind == "bool":
        return cells == "yes"
    return pd.to_numeric(cells).astype(kind)


def moment_of(word: str) -> str:
    """A moment as it is read: ``05T07:30`` is in April 2027."""
    return word if word.startswith("2027") else f"2027-04-{word}"


@dataclass
class WrittenPlan:
    """A plan with what it was made for, and what had happened before. Every change is made in place."""

    site: Site
    order: Order
    casts: pd.DataFrame
    batches: pd.DataFrame
    tasks: pd.DataFrame
    materials: pd.DataFrame
    stages: list[Stage] = field(default_factory=list)
    totals: dict[str, Any] | None = None
    sawing: pd.DataFrame = field(default_factory=lambda: written("sawing", ""))
    cubes: pd.DataFrame = field(default_factory=lambda: written("cubes", ""))
    begun: Begun | None = None

    def audit(self) -> list[Finding]:
        tables = PlanTables(self.casts, self.batches, self.tasks, self.materials, self.sawing, self.cubes)
        return audit(self.site, self.order, tables, self.stages, self.totals, self.begun)

    def broken(self) -> list[tuple[str, str]]:
        """Rule and place of each finding."""
        return [(finding.rule, finding.where) for finding in self.audit()]

    def said(self) -> list[str]:
        return [finding.said for finding in self.audit()]

    def set(self, table: str, rows: pd.Series | dict[str, Any], **cells: Any) -> None:
        """Write cells into the rows that have these values."""
        frame = getattr(self, table)
        chosen = self.rows(table, **rows) if isinstance(rows, dict) else rows
        assert chosen.any()
        for column, value in cells.items():
            if COLUMNS[table][column] == TIME:
                value = pd.NaT if value is None else pd.Timestamp(moment_of(value))
            frame.loc[chosen, column] = value

    def rows(self, table: str, **values: Any) -> pd.Series:
        frame = getattr(self, table)
        chosen = pd.Series(True, index=frame.index)
        for column, value in values.items():
            chosen &= (frame[column] == value).fillna(False)
        return chosen

    def drop(self, table: str, **values: Any) -> None:
        chosen = self.rows(table, **values)
        assert chosen.any()
        setattr(self, table, getattr(self, table)[~chosen].reset_index(drop=True))

    def add(self, table: str, text: str) -> None:
        frame = pd.concat([getattr(self, table), written(table, text)], ignore_index=True)
        setattr(self, table, frame)

    def later(self, table: str, rows: dict[str, Any], columns: str, minutes: int) -> None:
        """Shift times of the rows that have these values; earlier when negative."""
        chosen = self.rows(table, **rows)
        assert chosen.any()
        for column in columns.split():
            getattr(self, table).loc[chosen, column] += pd.Timedelta(minutes, "min")

    def strip_later(self, mould: str, turn: int, minutes: int) -> None:
        """Shift strip and move of a turn and what follows from them; its rack time must stay within working minutes."""
        stripped = self.casts.loc[self.rows("casts", mould=mould, turn=turn), "strip"].iloc[0]
        self.later("tasks", {"task": "strip", "mould": mould, "end": stripped}, "start end", minutes)
        self.later("tasks", {"task": "move", "mould": mould, "start": stripped}, "start end", minutes)
        self.later("casts", {"mould": mould, "turn": turn}, "strip rack_from rack_to", minutes)

    def batch_later(self, number: int, minutes: int) -> None:
        """Shift a batch and what follows from it; its blocks must be ready by their age."""
        self.later("batches", {"batch": number}, "start foam_at pour_from pour_to end", minutes)
        self.later("tasks", {"batch": number}, "start end", minutes)
        self.later("casts", {"batch": number}, "poured ready", minutes)

    def say(self, stage: str, **fields: Any) -> None:
        """Change what the plan says of a stage."""
        self.stages = [replace(one, **fields) if one.stage == stage else one for one in self.stages]

    def change_site(self, **fields: Any) -> None:
        self.site = self.site.model_copy(update=fields)

    def change_part_of_site(self, part: str, **fields: Any) -> None:
        self.change_site(**{part: getattr(self.site, part).model_copy(update=fields)})

    def change_part_of_order(self, nth: int, **fields: Any) -> None:
        parts = list(self.order.parts)
        parts[nth] = parts[nth].model_copy(update=fields)
        self.order = self.order.model_copy(update={"parts": tuple(parts)})
