"""When the courses of a part are needed."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated

from pydantic import Field

from blockrun.site.fields import Day, fraction
from blockrun.site.file_model import FileModel


class Need(FileModel):
    """When the courses of a part are needed."""

    from_day: Day = Field(alias="from", description="Day on which the first course is laid")
    courses_a_day: Annotated[Fraction, fraction("a number of courses", "2", most=1000)] = Field(
        description="Courses laid on each working day; 1/2 is one every second day"
    )
