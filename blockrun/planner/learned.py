"""The words of what a yard has learnt of itself: what the site says, what was seen, what is proposed.

`yard` fills them, `show` prints them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from blockrun.files.rewriting import NewLine
from blockrun.files.yaml import Where
from blockrun.site import Cube
from blockrun.site.cubes import KEPT_C


@dataclass(frozen=True)
class Change:
    """A value of the site that is proposed.

    Attributes
    ----------
    key : as the file has it, such as ``strip_time``.
    where : from the top of the file down to it.
    dimension : of its unit, as in `blockrun.units`.
    now, new : in the base unit of that.
    words : the old value and the new one, as the file writes them.
    by_name : whether it is written only when it is asked for by its key: it loosens what keeps people safe.
    """

    key: str
    where: Where
    dimension: str
    now: float
    new: float
    words: tuple[str, str] = ("", "")
    by_name: bool = False


@dataclass(frozen=True)
class Finding:
    """One thing that was looked at.

    Attributes
    ----------
    about : such as ``Batches of drum``.
    says : what the site says of it; empty where it says nothing.
    seen : what was recorded, how often, and how sure that is.
    verdict : what follows.
    change : that follows; None without.
    notes : what was assumed, and what to take care of.
    """

    about: str
    says: str
    seen: str
    verdict: str
    change: Change | None = None
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class CubeRow:
    """A cube that was crushed and is not yet among those of the site.

    Attributes
    ----------
    mix, batch : of which it is.
    dry_density_kg_m3, age_d, strength_mpa : as measured.
    equivalent_age_h : hours at 20 degC that are reckoned with.
    tested : the day it was crushed.
    marked : what was written on it.
    """

    mix: str
    batch: int | None
    dry_density_kg_m3: float
    age_d: float
    equivalent_age_h: float
    strength_mpa: float
    tested: date
    marked: str = ""

    @property
    def cube(self) -> Cube:
        """As the table of the site has it."""
        return Cube(
            self.dry_density_kg_m3, self.strength_mpa, self.age_d * 24, KEPT_C, self.equivalent_age_h, mix=self.mix
        )


@dataclass(frozen=True)
class Lessons:
    """All that was looked at.

    Attributes
    ----------
    entries : of the journal that count.
    findings : one after the other.
    cubes : rows to add to the cubes of the site.
    """

    entries: int
    findings: tuple[Finding, ...]
    cubes: tuple[CubeRow, ...] = ()

    @property
    def changes(self) -> tuple[Change, ...]:
        """All values that are proposed."""
        return tuple(finding.change for finding in self.findings if finding.change is not None)


@dataclass(frozen=True)
class FileNow:
    """A file with what is proposed in it.

    Attributes
    ----------
    lines : that differ, or are new.
    kept : where the old one lies; None where nothing was written, or there was none.
    """

    path: Path
    lines: tuple[NewLine, ...]
    kept: Path | None = None
