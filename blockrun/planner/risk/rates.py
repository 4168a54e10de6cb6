"""How often things go wrong in a yard: defaults of our own, a small file, or options."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from os import PathLike
from pathlib import Path
from typing import Annotated, Final, Self

from pydantic import Field

from blockrun import units
from blockrun.errors import BadInput
from blockrun.files.models import read_model
from blockrun.files.text import References
from blockrun.files.yaml import read_yaml
from blockrun.site.fields import Percent, quantity, whole_minutes
from blockrun.site.file_model import FileModel
from blockrun.units import MINUTES_A_DAY

_DAYS: Final = 366 * MINUTES_A_DAY


class Cause(StrEnum):
    """What may go wrong, each with random numbers of its own."""

    BROKEN = "broken blocks"
    FLAT = "flat batches"
    COLD = "cold snaps"
    AWAY = "people missing"
    LOST = "days lost"


class Broken(FileModel):
    """Blocks that break; both shares are of the blocks handled."""

    at_strip: Percent = Field(default=0.01, description="Of the blocks that are stripped; a percentage")
    when_moved: Percent = Field(default=0.005, description="Of the blocks that are moved to the rack; a percentage")

    @property
    def share(self) -> float:
        """Of the blocks, until they lie on the rack."""
        return 1 - (1 - self.at_strip) * (1 - self.when_moved)


class ColdSnaps(FileModel):
    """Days in a row that are colder than forecast."""

    chance: Percent = Field(default=0.03, description="That one begins on a day; a percentage")
    lasts_min: Annotated[int, whole_minutes("3 d", above=0, most=_DAYS)] = Field(
        default=3 * MINUTES_A_DAY, description="How long it lasts; whole days, begun ones counted"
    )
    colder_c: Annotated[float, quantity("temperature_difference", "4 degC", least=0, most=30)] = Field(
        default=4.0, description="How much colder than forecast, day and night; a difference in temperature"
    )

    @property
    def days(self) -> int:
        """Days that one lasts."""
        return -(-self.lasts_min // MINUTES_A_DAY)


class Rates(FileModel):
    """How often each thing goes wrong.

    Source
    ------
    Defaults are our choice, of a small yard that takes care; nothing is measured. Write your own.
    """

    broken: Broken = Field(default=Broken(), description="Blocks that break at the strip and on the way to the rack")
    flat_batches: Percent = Field(default=0.02, description="Of the batches poured; a percentage")
    cold_snaps: ColdSnaps = Field(default=ColdSnaps(), description="Days colder than forecast")
    people_away: Percent = Field(default=0.02, description="That a person is missing on a working day; a percentage")
    days_lost: Percent = Field(default=0.025, description="Of the working days: rain, breakdown; a percentage")
    more_after_min: Annotated[int, whole_minutes("5 d", above=0, most=_DAYS)] = Field(
        default=5 * MINUTES_A_DAY,
        description="When cement or foaming agent runs out, more is there after this time, where the site tells no "
        "lead_time; whole days, begun ones counted",
    )

    def without(self, *causes: Cause) -> Self:
        """The same, with some causes switched off."""
        off: dict[Cause, dict[str, object]] = {
            Cause.BROKEN: {"broken": Broken(at_strip=0.0, when_moved=0.0)},
            Cause.FLAT: {"flat_batches": 0.0},
            Cause.COLD: {"cold_snaps": self.cold_snaps.model_copy(update={"chance": 0.0})},
            Cause.AWAY: {"people_away": 0.0},
            Cause.LOST: {"days_lost": 0.0},
        }
        return self.model_copy(update={key: value for cause in causes for key, value in off[cause].items()})

    def only(self, cause: Cause) -> Self:
        """The same, with every other cause switched off."""
        return self.without(*(other for other in Cause if other is not cause))

    @property
    def any_cause(self) -> bool:
        """Whether anything goes wrong by chance at all."""
        return self != self.without(*Cause)


def with_shares(rates: Rates, told: Mapping[str, str | None]) -> Rates:
    """Rates with some shares of them as told, such as ``2 %``.

    Parameters
    ----------
    told : by option, --broken (all at the strip, none when moved), --flat, --cold, --away and --lost; None for one
        that is not told.

    Raises
    ------
    BadInput : one is no percentage from 0 % to 100 %.
    """
    shares = {option: _share(option, text) for option, text in told.items() if text is not None}
    changed: dict[str, object] = {
        key: shares[option]
        for option, key in {"--flat": "flat_batches", "--away": "people_away", "--lost": "days_lost"}.items()
        if option in shares
    }
    if "--broken" in shares:
        changed["broken"] = Broken(at_strip=shares["--broken"], when_moved=0.0)
    if "--cold" in shares:
        changed["cold_snaps"] = rates.cold_snaps.model_copy(update={"chance": shares["--cold"]})
    return rates.model_copy(update=changed)


def _share(option: str, text: str) -> float:
    try:
        share = float(units.percent(text))
    except BadInput as fault:
        raise BadInput(f"{option}: {fault.what}", fault.todo, name=option, value=text) from None
    if not 0 <= share <= 1:
        what = f"{option} {text} is out of range; it must be from 0 % to 100 %"
        raise BadInput(what, f"Write for example {option} 2%.", name=option, value=text, limit=1)
    return share


def load_rates(path: str | PathLike[str]) -> Rates:
    """Read a file of rates, such as ``configs/risk.yaml``; what it leaves out is as by default.

    Raises
    ------
    BadInput : with every fault found, each at its place.
    """
    document = read_yaml(Path(path))
    return read_model(Rates, document, References(document.path.parent, {}))
