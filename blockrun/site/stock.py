"""What is used up: what of it is there, what comes and when, what it costs and how long it takes to come.

Pours wait for cement and foaming agent alone. The rest, when it is told, is counted, and said to be short.
"""

from __future__ import annotations

from typing import Annotated, Final

from pydantic import Field

from blockrun import units
from blockrun.site.fields import PERCENT, Day, Name, Price, quantity, whole_minutes
from blockrun.site.file_model import FileModel
from blockrun.site.times import A_YEAR_MIN
from blockrun.site.values import read_number
from blockrun.site.written import Written

MOST_BAGS: Final = 1_000_000


def read_bags(text: str) -> float:
    """A number of bags, of which there may be parts.

    Raises
    ------
    BadInput : anything else, or a number such as ``1.200``, which may be a thousand or a part of one.
    """
    bags = read_number(text)
    units.check_thousands(text)
    return float(bags)


Bags = Annotated[float, Written("a number of bags", "80", read_bags, {"type": "number"}, least=0, most=MOST_BAGS)]
Litres = Annotated[float, quantity("volume", "10 L", least=0, most=1_000_000)]
Kilograms = Annotated[float, quantity("mass", "500 kg", least=0, most=10_000_000)]
Moisture: Final = Written(
    "a percentage", "4 %", lambda text: float(units.percent(text)), PERCENT, least=0, most=0.3, dimension="fraction"
)
OF_LOT: Final = Field(
    default=None,
    examples=["B7"],
    description="Maker's number of the lot: a trial is asked for before the first batch of another",
)
LeadTime = Annotated[int, whole_minutes("5 d", least=0, most=A_YEAR_MIN)]


class Delivery(FileModel):
    """Something that arrives before opening time of a day."""

    day: Day = Field(description="It counts from opening time of this day")
    amount: float


class CementDelivery(Delivery):
    """Bags of cement that arrive."""

    lot: Name | None = OF_LOT

    amount: Annotated[
        float, Written("a number of bags", "80", read_bags, {"type": "number"}, above=0, most=MOST_BAGS)
    ] = Field(alias="bags", description="How many bags")


class VolumeDelivery(Delivery):
    """Litres of something that arrive."""

    amount: Annotated[float, quantity("volume", "10 L", above=0, most=1_000_000)] = Field(
        alias="volume", description="How much; a volume"
    )


class AgentDelivery(VolumeDelivery):
    """Foaming agent that arrives."""

    lot: Name | None = OF_LOT


class MassDelivery(Delivery):
    """Kilograms of something that arrive."""

    amount: Annotated[float, quantity("mass", "500 kg", above=0, most=10_000_000)] = Field(
        alias="mass", description="How much; a mass"
    )


class Kept(FileModel):
    """Something that is bought now and then and kept in the yard."""

    price: Price | None = None
    lead_time_min: LeadTime | None = Field(
        default=None, description="From the order to the day it is there; whole days, begun ones counted"
    )


class Cement(Kept):
    """The cement of the yard."""

    bag_kg: Annotated[float, quantity("mass", "25 kg", above=0, most=2000)] = Field(description="Mass of one bag")
    on_hand_bags: Bags = Field(description="Bags there at the start")
    lot: Name | None = OF_LOT
    deliveries: tuple[CementDelivery, ...] = Field(default=(), description="Bags that arrive, by day")
    price: Price | None = Field(default=None, description="Of one bag, in any currency")


class FoamingAgent(Kept):
    """The foaming agent of the yard."""

    on_hand_l: Litres = Field(description="What is there at the start; a volume")
    lot: Name | None = OF_LOT
    deliveries: tuple[AgentDelivery, ...] = Field(default=(), description="What arrives, by day")
    price: Price | None = Field(default=None, description="Of one litre, in any currency")


class ReleaseOil(Kept):
    """What moulds are oiled with; no pour waits for it."""

    per_turn_l: Annotated[float, quantity("volume", "50 mL", above=0, most=1000)] = Field(
        description="What one mould takes each time it is filled; a volume"
    )
    on_hand_l: Litres = Field(default=0.0, description="What is there at the start; a volume")
    deliveries: tuple[VolumeDelivery, ...] = Field(default=(), description="What arrives, by day")
    price: Price | None = Field(default=None, description="Of one litre, in any currency")


class Solid(Kept):
    """Something dry that goes into a mix beside the cement; no pour waits for it."""

    on_hand_kg: Kilograms = Field(default=0.0, description="What is there at the start; a mass")
    deliveries: tuple[MassDelivery, ...] = Field(default=(), description="What arrives, by day")
    price: Price | None = Field(default=None, description="Of one kilogram, in any currency")


class Sand(Solid):
    """The sand of the yard, as damp as it lies: so it is bought, stored and weighed."""

    moisture: Annotated[float, Moisture] | None = Field(
        default=None,
        description="Water in it, of its dry mass: cards weigh damp sand and pour so much less water. Counted as "
        "slurry water, what the grains soak up too",
    )


class Stock(FileModel):
    """What is used up."""

    cement: Cement = Field(description="Cement by the bag")
    foaming_agent: FoamingAgent = Field(description="Foaming agent by volume")
    release_oil: ReleaseOil | None = Field(default=None, description="Oil for the moulds, by the turn")
    sand: Sand | None = Field(default=None, description="Sand by mass, as it lies: damp, where moisture is told")
    fly_ash: Solid | None = Field(default=None, description="Fly ash by mass")
    lime: Solid | None = Field(default=None, description="Hydrated lime by mass")
    fibre: Solid | None = Field(default=None, description="Fibre by mass")

    @property
    def sand_moisture(self) -> float:
        """Water in the sand, a share of its dry mass; 0 where nothing is told."""
        return (self.sand and self.sand.moisture) or 0.0
