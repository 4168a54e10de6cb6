"""The yard as its file describes it: one frozen model for each mapping of the file.

An attribute's name ends in the unit its value is kept in; the key in the file is the name without that unit.
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Annotated, Any, Final, Literal, Self

from pydantic import AfterValidator, Field, ModelWrapValidatorHandler, PrivateAttr, model_validator

from blockrun import units
from blockrun.errors import BadInput
from blockrun.site.calendar import Calendar
from blockrun.site.cubes import CubesFile
from blockrun.site.fields import (
    Clock,
    Day,
    FileModel,
    Flag,
    Kind,
    Name,
    People,
    Percent,
    Ratio,
    Size,
    Written,
    fraction,
    one_of,
    quantity,
    whole,
    whole_minutes,
)
from blockrun.site.insulation import Layer, LayerOf
from blockrun.site.lifting import Lifting
from blockrun.site.ripeness import AgeOrStrength, Sure, WaitOrStrength
from blockrun.site.stock import Litres, Stock
from blockrun.site.weather import WeatherFile

_YEARS_10: Final = 5_256_000

Task = Annotated[int, whole_minutes("10 min", above=0)]
Pause = Annotated[int, whole_minutes("4 min", least=0)]
Wait = Annotated[int, whole_minutes("7 d", least=0, most=_YEARS_10)]


Angles = Annotated[
    tuple[Annotated[float, quantity("angle", "0 deg", least=-80, most=80)], ...],
    AfterValidator(lambda angles: tuple(sorted(set(angles)))),
]


class Mixer(FileModel):
    """A drum mixer and the times its batches take."""

    name: Name = Field(description="What it is called")
    usable_volume_l: Annotated[float, quantity("volume", "220 L", above=0, most=100_000)] = Field(
        description="What it can hold when the foam is in; a volume"
    )
    least_volume_l: Litres = Field(description="What the paddle needs to mix well; a volume")
    bag_step: Annotated[Fraction, fraction("a number of bags", "1/2", most=1000)] = Field(
        description="Batches are made up in steps of this many bags"
    )
    slurry_time_min: Task = Field(description="To charge and mix cement and water; a time")
    foam_time_min: Pause = Field(description="To blend the foam in; a time")
    pour_time_min: Task = Field(description="To empty the mixer into the moulds; a time")
    wash_time_min: Pause = Field(description="To wash before the next batch; a time")
    left_behind_l: Litres = Field(description="What stays in the drum, per batch; a volume")
    crew: People = Field(description="People busy while a batch runs")

    @model_validator(mode="wrap")
    @classmethod
    def _volumes(cls, given: Any, read: ModelWrapValidatorHandler[Self]) -> Self:
        mixer = read(given)
        if mixer.least_volume_l > mixer.usable_volume_l:
            written = given.get("usable_volume") if isinstance(given, dict) else None
            most = units.show(mixer.usable_volume_l, "volume")
            raise BadInput(
                "least_volume is more than usable_volume",
                f"Write a volume up to {written or most}.",
                name="least_volume",
                value=mixer.least_volume_l,
                limit=mixer.usable_volume_l,
                unit="L",
            )
        return mixer


class FoamGenerator(FileModel):
    """The one foam generator of the yard."""

    rate_l_min: Annotated[float, quantity("rate", "60 L/min", above=0, most=100_000)] = Field(
        description="Foam it makes; a flow"
    )
    foam_density_kg_m3: Annotated[float, quantity("density", "95 g/L", above=0, most=500)] = Field(
        description="What the foam weighs; a density"
    )
    agent_dilution: Ratio = Field(description="Parts of foaming agent : parts of water, by volume")
    weighed_kg_m3: Annotated[float, quantity("density", "98 g/L", above=0, most=500)] | None = Field(
        default=None, description="What it weighed last, taken in place of foam_density; a density"
    )
    tank_l: Annotated[float, quantity("volume", "20 L", above=0, most=100_000)] | None = Field(
        default=None, description="Dilution is made up by the full tank of this volume"
    )

    @property
    def density_kg_m3(self) -> float:
        """What the foam weighs as far as is known: as last weighed, else as named."""
        return self.weighed_kg_m3 or self.foam_density_kg_m3

    @property
    def agent_parts(self) -> float:
        """Parts of foaming agent in the dilution, by volume."""
        return self.agent_dilution[0]

    @property
    def water_parts(self) -> float:
        """Parts of water in the dilution, by volume."""
        return self.agent_dilution[1]

    @property
    def agent_share(self) -> float:
        """Agent in the dilution, by volume, 0 to 1."""
        return self.agent_parts / (self.agent_parts + self.water_parts)


_Bucket = Annotated[float, quantity("volume", "10 L", above=0, most=1000)]


class Buckets(FileModel):
    """What things are counted and weighed in."""

    water_l: _Bucket | None = Field(default=None, description="Slurry water is counted in these; a volume")
    foam_l: _Bucket | None = Field(default=None, description="Foam is weighed and counted in these; a volume")
    mix_l: _Bucket | None = Field(default=None, description="Slurry and wet mix are weighed in these; a volume")
    empty_kg: Annotated[float, quantity("mass", "0.6 kg", least=0, most=100)] = Field(
        default=0.0, description="What an empty bucket weighs; weights are told with the bucket then"
    )
    tolerance: Percent = Field(
        default=0.05, description="A full bucket may weigh so much less or more; 5 % unless told, our choice"
    )


class Saw(FileModel):
    """How a slab is sawn into blocks once it is stripped."""

    kerf_mm: Annotated[float, quantity("length", "4 mm", least=0, most=50)] = Field(
        description="Width of the saw cut; a length"
    )
    time_min: Task = Field(description="To saw what one mould casts, right after the strip, one person; a time")


class MouldKind(FileModel):
    """Moulds that are all alike."""

    kind: Kind = Field(description="What they are called")
    count: Annotated[int, whole("a number of moulds", "6", most=1000)] = Field(description="Moulds of this kind")
    cavities: Annotated[int, whole("a number of cavities", "4", most=1000)] = Field(description="Cavities of one mould")
    cavity: Size = Field(description="length x height x thickness of one cavity")
    stop_ends: Flag = Field(default=False, description="It may cast shorter blocks of the same height and thickness")
    wedges_deg: Angles = Field(
        default=(0.0,), min_length=1, description="Bevels it can cast: each end leans in through the thickness; angles"
    )
    tapers_deg: Angles = Field(
        default=(0.0,), min_length=1, description="Tapers it can cast: each end leans in up the face; angles"
    )
    bed_wedges_deg: Angles = Field(
        default=(0.0,), min_length=1, description="Bed bevels it can cast: each bed leans in; angles"
    )
    saw: Saw | None = Field(
        default=None, description="With one cavity: what it casts is a slab, sawn into blocks of its thickness"
    )
    filler: Flag = Field(
        default=False, description="It takes what is left of a batch; nothing that is ordered is planned in it"
    )
    mass_kg: Annotated[float, quantity("mass", "18 kg", above=0, most=5000)] | None = Field(
        default=None, description="What one weighs empty; told where it is too heavy to lift when it is full"
    )
    strip_time_min: Task = Field(description="To strip the whole mould, one person; a time")
    clean_time_min: Pause = Field(description="To clean and oil it, one person; a time")
    bases: Annotated[int, whole("a number of bases", "10", most=10_000)] | None = Field(
        default=None, description="Bases, when the sides come off first and the block stays on its base"
    )
    sides_off_at_h: AgeOrStrength | None = Field(
        default=None,
        description="With bases: age at 20 degC at which the sides may come off, a time; or a strength",
        examples=["18 h"],
    )
    sides_time_min: Task | None = Field(
        default=None, description="With bases: to take the sides off and clean them, one person; a time"
    )

    walls: LayerOf = Field(default=Layer("plywood", 18.0), description="With heat: modelled, what it is made of")
    cover: LayerOf | None = Field(
        default=None, description="With heat: modelled, what lies on top until the strip; as the walls unless told"
    )

    @property
    def length_mm(self) -> float:
        """Length of a cavity in mm."""
        return self.cavity[0]

    @property
    def height_mm(self) -> float:
        """Height of a cavity in mm."""
        return self.cavity[1]

    @property
    def thickness_mm(self) -> float:
        """Thickness of a cavity in mm."""
        return self.cavity[2]

    @property
    def strip_and_saw_min(self) -> int:
        """From the start of the strip until the blocks can be moved: sawing included."""
        return self.strip_time_min + (self.saw.time_min if self.saw else 0)

    @model_validator(mode="after")
    def _slab_plain(self) -> Self:
        if self.saw and self.cavities > 1:
            raise BadInput(
                "a mould that casts a slab to be sawn has one cavity",
                "Write cavities: 1, and more moulds in count.",
                name="cavities",
            )
        inserts = {"wedges": self.wedges_deg, "tapers": self.tapers_deg, "bed_wedges": self.bed_wedges_deg}
        set_in = next((key for key, angles in inserts.items() if angles != (0.0,)), None)
        if self.saw and (set_in or self.stop_ends):
            key = set_in or "stop_ends"
            raise BadInput(f"a slab to be sawn is cast without {key}", f"Take {key} out.", name=key)
        if self.saw and self.filler:
            raise BadInput("a filler mould is small, and not sawn", "Take saw or filler out.", name="filler")
        return self

    @model_validator(mode="after")
    def _bases_whole(self) -> Self:
        given = {"bases": self.bases, "sides_off_at": self.sides_off_at_h, "sides_time": self.sides_time_min}
        missing = [key for key, value in given.items() if value is None]
        if 0 < len(missing) < 3:
            present = next(key for key, value in given.items() if value is not None)
            raise BadInput(
                f"{present} is given without {' and '.join(missing)}",
                f"Write {' and '.join(missing)} too, or take {present} out.",
                name=present,
            )
        return self


class CubeSets(FileModel):
    """Cubes cast beside the blocks, to be crushed."""

    every_l: Annotated[float, quantity("volume", "5 m3", above=0, most=1e6)] = Field(
        description="A set for each lot of a mix of this size, from the first batch on; a volume"
    )
    count: Annotated[int, whole("a number of cubes", "3", most=100)] = Field(description="Cubes of a set")
    size_mm: Annotated[float, quantity("length", "100 mm", least=40, most=300)] = Field(
        default=100.0, description="Side of a cube; a length, 100 mm unless told"
    )


class Rack(FileModel):
    """A covered rack on which blocks cure."""

    name: Name = Field(examples=["east"], description="What it is called")
    places: Annotated[int, whole("a number of places", "120", most=1_000_000)] = Field(description="One block a place")


class Curing(FileModel):
    """How long blocks wait, and how cold they may be."""

    strip_at_h: AgeOrStrength = Field(
        description="Age at 20 degC at which a mould is stripped, a time; or a strength, reckoned from cubes"
    )
    rack_for_min: Wait = Field(description="Time on the rack, damp and covered")
    lay_at_min: WaitOrStrength = Field(description="Age before laying, a time; or a strength, reckoned from cubes")
    least_air_c: Annotated[float, quantity("temperature", "5 degC", least=-50, most=50)] = Field(
        description="No pour when the air falls below this before the strip; a temperature"
    )
    most_air_c: Annotated[float, quantity("temperature", "35 degC", least=10, most=60)] | None = Field(
        default=None, description="No pour on a day on which the air rises above this; a temperature"
    )
    rain_stops_mm: Annotated[float, quantity("length", "5 mm", least=0, most=1000)] | None = Field(
        default=None, description="No pour on a day with more rain than this; a depth"
    )
    age: Annotated[Literal["EN", "arrhenius", "nurse-saul"], one_of("EN", "arrhenius", "nurse-saul")] = Field(
        default="EN", description="Rule by which a cold hour counts for less: that of EN 1992-1-1 unless told"
    )
    activation_energy_kj_mol: (
        Annotated[float, quantity("activation_energy", "40 kJ/mol", least=10, most=100)] | None
    ) = Field(default=None, description="With age: arrhenius; 40 kJ/mol unless told")
    datum_c: Annotated[float, quantity("temperature", "-10 degC", least=-20, most=10)] | None = Field(
        default=None, description="With age: nurse-saul, the temperature at which nothing sets; -10 degC unless told"
    )
    move_at_h: AgeOrStrength | None = Field(
        default=None,
        description="Age at 20 degC, or strength, before which no block is moved; being moved right from the mould, "
        "it is not stripped sooner either",
    )
    cubes: CubesFile | None = Field(
        default=None, description="A CSV file of cubes crushed: dry_density_kg_m3,age_d,strength_mpa"
    )
    strength_curve: Annotated[Literal["EN", "hyperbola"], one_of("EN", "hyperbola")] = Field(
        default="EN", description="How strength grows with age between the cubes: as in EN 1992-1-1 unless told"
    )
    hardening: Annotated[Literal["slow", "normal", "rapid"], one_of("slow", "normal", "rapid")] = Field(
        default="slow", description="How fast it grows where all cubes are of about one age, for the EN curve"
    )
    sure: Sure = Field(
        default=0.95, description="Share of cubes that are to be stronger than what is reckoned with; a percentage"
    )

    heat: Annotated[Literal["as the air", "modelled"], one_of("as the air", "modelled")] = Field(
        default="as the air", description="How warm blocks in moulds are: as the air, or modelled with their own heat"
    )
    cement_heat: Annotated[Literal["slow", "normal", "rapid"], one_of("slow", "normal", "rapid")] = Field(
        default="slow", description="With heat: modelled, how soon the cement gives off its heat"
    )
    fresh_mix_c: Annotated[float, quantity("temperature", "15 degC", least=0, most=40)] | None = Field(
        default=None, description="With heat: modelled, how warm the mix is poured; as the air unless told"
    )

    @model_validator(mode="after")
    def _settings_of_the_rule(self) -> Self:
        of = {"activation_energy": (self.activation_energy_kj_mol, "arrhenius"), "datum": (self.datum_c, "nurse-saul")}
        for key, (value, rule) in of.items():
            if value is not None and self.age != rule:
                raise BadInput(
                    f"{key} is given, and age is {self.age}", f"Write age: {rule}, or take {key} out.", name=key
                )
        return self


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


class Site(FileModel):
    """All that a yard has."""

    name: Name = Field(alias="site", examples=["Heron Field yard"])
    units: Annotated[
        Literal["SI", "US"],
        Written("SI or US", "SI", lambda text: _units(text), {"enum": ["SI", "US"]}),
    ] = Field(default="SI", description="Only how results print")
    calendar: Calendar
    mixers: tuple[Mixer, ...] = Field(min_length=1)
    foam_generator: FoamGenerator
    buckets: Buckets | None = Field(default=None, description="Buckets that things are counted and weighed in")
    pour_life_min: Annotated[float, quantity("time", "25 min", above=0, most=1440)] = Field(
        description="From the foam going in to the last cavity filled; a time"
    )
    overfill: Percent = Field(default=0.0, description="Poured above the cavity and struck off")
    moulds: tuple[MouldKind, ...] = Field(min_length=1)
    racks: tuple[Rack, ...] = Field(min_length=1)
    move_time_min: Annotated[float, quantity("time", "1 min", least=0, most=1440)] = Field(
        description="A block to the rack, one person; a time"
    )
    curing: Curing
    crew: Crew
    chores: tuple[Chore, ...] = ()
    stock: Stock
    test_cubes: CubeSets | None = Field(default=None, description="Sets of cubes that batches give, to be crushed")
    lifting: Lifting = Field(default=Lifting(), description="How blocks are lifted, where some may be too heavy")
    weather: WeatherFile = Field(
        description="One file or several, the forecast first: CSV with date,min_degC,max_degC (or _degF) or with "
        "time,air_degC, or an EPW file of a typical year"
    )
    _sources: dict[str, Path] = PrivateAttr(default_factory=dict)

    @property
    def sources(self) -> dict[str, Path]:
        """Files read: the reference written in the site file to the path read, the site file itself under ``""``."""
        return dict(self._sources)


def _units(text: str) -> str:
    if text.strip() not in ("SI", "US"):
        raise BadInput(f"{text} is not a system of units known here", "Write SI or US.", value=text)
    return text.strip()
