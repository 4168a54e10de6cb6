"""How blocks cure: racks and the stack, ages, limits of the air, and the cubes that tell their strength."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, Final, Literal, Self

from pydantic import Field, model_validator

from blockrun import units
from blockrun.errors import BadInput
from blockrun.site.cubes import CubesFile
from blockrun.site.fields import Name, one_of, quantity, whole, whole_minutes
from blockrun.site.file_model import FileModel
from blockrun.site.ripeness import AgeOrStrength, Sure, WaitOrStrength
from blockrun.site.times import A_YEAR_MIN, Wait
from blockrun.site.written import Written
from blockrun.units import MINUTES_A_DAY


class Rack(FileModel):
    """A covered rack on which blocks cure."""

    name: Name = Field(examples=["east"], description="What it is called")
    places: Annotated[int, whole("a number of places", "120", most=1_000_000)] = Field(description="One block a place")


class Stack(FileModel):
    """Ground on which blocks stand from the rack until they are laid; a place holds blocks of one size and mix."""

    places: Annotated[int, whole("a number of places", "12", most=1_000_000)] = Field(
        description="Columns of blocks that stand beside one another"
    )
    layers: Annotated[int, whole("a number of layers", "4", most=100)] = Field(
        description="Blocks on top of one another in a column, at the most"
    )

    def columns(self, blocks: Iterable[int]) -> int:
        """Places that so many blocks of each size and mix take."""
        return sum(-(-count // self.layers) for count in blocks)


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
    def _settings_of_heat(self) -> Self:
        given = self.model_fields_set & {"cement_heat", "fresh_mix_c"}
        if given and self.heat != "modelled":
            key = min(given).removesuffix("_c")
            raise BadInput(
                f"{key} is given, and heat is not modelled", f"Write heat: modelled, or take {key} out.", name=key
            )
        return self

    @model_validator(mode="after")
    def _settings_of_the_rule(self) -> Self:
        of = {"activation_energy": (self.activation_energy_kj_mol, "arrhenius"), "datum": (self.datum_c, "nurse-saul")}
        for key, (value, rule) in of.items():
            if value is not None and self.age != rule:
                raise BadInput(
                    f"{key} is given, and age is {self.age}", f"Write age: {rule}, or take {key} out.", name=key
                )
        return self


def _every(text: str) -> float | str:
    """A volume in litres, or one of the words that stand for a lot."""
    word = text.strip()
    if word in _LOTS:
        return word
    if word.isalpha():
        raise BadInput(f"{word} is no lot known here", "Write a volume such as 5 m3, or day, or delivery.", value=text)
    return units.read(text, "volume", usual="m3").value


_LOTS: Final = ("day", "delivery")

Lot = Annotated[
    float | Literal["day", "delivery"],
    Written(
        due="a volume, day or delivery",
        example="5 m3",
        read=_every,
        schema={"pattern": f"^({'|'.join(_LOTS)})$|{units.pattern()}"},
        above=0,
        most=1e6,
        dimension="volume",
    ),
]
"""Litres of a lot; or what makes one."""

CrushAge = Annotated[int, whole_minutes("28 d", above=0, most=A_YEAR_MIN)]


class CubeSets(FileModel):
    """Cubes cast beside the blocks, to be crushed."""

    every_l: Lot = Field(
        description="What gives a set of cubes. A volume: each lot of so much of a mix, begun ones too, on a day on "
        "which it is made. day: each day on which a mix is poured. delivery: the first day on which a mix is poured, "
        "and the first after each delivery of cement"
    )
    count: Annotated[int, whole("a number of cubes", "3", most=100)] = Field(description="Cubes of a set")
    size_mm: Annotated[float, quantity("length", "100 mm", least=40, most=300)] = Field(
        default=100.0, description="Side of a cube; a length, 100 mm unless told"
    )
    crush_at_min: tuple[CrushAge, ...] = Field(
        default=(),
        description="Ages at which cubes are crushed, whole days, begun ones counted; each set is shared among them as "
        "evenly as can be, one more each for the last ages: of 3 cubes and two ages 1 and 2. One alone is a hint, not "
        "a test: write two cubes or more for each age",
    )

    @property
    def crush_after_d(self) -> tuple[int, ...]:
        """Days from the cast to each time that cubes of a set are crushed."""
        return tuple(-(-minutes // MINUTES_A_DAY) for minutes in self.crush_at_min)

    @model_validator(mode="after")
    def _ages_ascend_and_have_cubes(self) -> Self:
        days = self.crush_after_d
        if list(days) != sorted(set(days)):
            what, todo = "crush_at is not in order, or names a day twice", "Write each age once, the first one first."
            raise BadInput(what, todo, name="crush_at")
        if len(days) > self.count:
            what = f"a set of {self.count} cannot be crushed at {len(days)} ages"
            raise BadInput(what, "Write more cubes, or fewer ages.", name="count")
        return self
