"""The people of the yard and what they do at fixed times."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from pydantic import AfterValidator, Field

from blockrun.site.fields import Clock, Day, Name, People
from blockrun.site.file_model import FileModel
from blockrun.site.times import Task


class Absence(FileModel):
    """People away on one day."""

    day: Day = Field(description="The day")
    people: People = Field(description="How many are away")


class Crew(FileModel):
    """The people of the yard."""

    people: People = Field(description="All who work in the yard")
    absences: tuple[Absence, ...] = Field(default=(), alias="away", description="Who is away, by day")

    @property
    def away(self) -> dict[date, int]:
        """People away, by day."""
        total: dict[date, int] = {}
        for absence in self.absences:
            total[absence.day] = total.get(absence.day, 0) + absence.people
        return total

    def on(self, day: date) -> int:
        """People present on a day, never below nought."""
        return max(0, self.people - self.away.get(day, 0))


class Chore(FileModel):
    """Something done at fixed times of each working day from the first batch to the last."""

    name: Name = Field(alias="chore", examples=["wet the rack"], description="What is done")
    at: Annotated[tuple[Clock, ...], AfterValidator(lambda times: tuple(sorted(times)))] = Field(
        min_length=1, description="Times of day at which it starts"
    )
    time_min: Task = Field(description="How long it takes; a time")
    people: People = Field(description="How many do it")
