"""What was measured, as it is typed in the yard: words with units to numbers."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Final, TypeVar

from blockrun.errors import BadInput
from blockrun.mix.seen import Seen
from blockrun.mix.tolerances import Tolerances, tolerances_of
from blockrun.mix.weighing import Container, in_its_own, is_mass, read_density
from blockrun.units import percent, read, with_point

if TYPE_CHECKING:
    from blockrun.site import Buckets

Value = TypeVar("Value")
Typed = Mapping[str, str | None]
"""Options by their name without dashes, such as ``foam``; None, or nothing, for one that was not given."""

SECONDS_A_MINUTE: Final = 60

WEIGHED: Final = {"foam": "foam", "slurry": "slurry", "weight": "mix"}
"""Options that may be a mass, and what of."""

USUAL: Final = {"SI": "10 L", "US": "2 gal"}
"""What things are weighed in, unless told: the bucket of a yard (our choice)."""


def read_seen(typed: Typed, units: str, buckets: Buckets | None) -> Seen:
    """What was measured.

    Parameters
    ----------
    typed : ``foam``, ``slurry``, ``weight`` (of the wet mix): densities, or what the full ``container`` weighs, its
        ``empty`` weight in it, or a container of its own as ``2.6kg/20L``; ``temperature``; ``mixed``, ``since`` and
        ``ran``, times; ``sank``, a length of the height ``of``, or a percentage.
    units : ``SI`` or ``US``: which container is usual.
    buckets : of the site: what is weighed in where no container is typed.

    Raises
    ------
    BadInput, OutOfRange : a text that cannot be read, or cannot be, with the name of its option.
    """
    _container({**typed, "weight": None}, "weight", units, buckets)  # a fault of it is told though nothing was weighed
    foam, slurry, wet = (_density(typed, name, units, buckets) for name in WEIGHED)
    return Seen(
        foam_kg_m3=foam,
        slurry_kg_m3=slurry,
        wet_kg_m3=wet,
        slurry_c=_given(typed, "temperature", _quantity("temperature")),
        mixed_min=_given(typed, "mixed", _quantity("time")),
        since_foam_min=_given(typed, "since", _quantity("time")),
        ran_s=_seconds(typed),
        sank=_sank(typed),
    )


def weighed_in(typed: Typed, units: str, buckets: Buckets | None) -> dict[Container, list[str]]:
    """What the things typed by their mass were weighed in, and which those are; empty where all are densities."""
    found: dict[Container, list[str]] = {}
    for name, what in WEIGHED.items():
        if is_mass(_own(typed, name)[0]):
            found.setdefault(_container(typed, name, units, buckets), []).append(what)
    return found


def read_tolerances(typed: Typed, buckets: Buckets | None) -> Tolerances:
    """How far off a batch may be, from percentages ``within``, ``foam-within`` and ``sinks``.

    What is not typed is as the buckets of the site have it, so that check and card agree; else the default.

    Raises
    ------
    BadInput : a text that is not a percentage above nought, with the name of its option.
    """
    usual = tolerances_of(buckets)
    return replace(
        usual,
        wet=_read(typed, "within", _share, or_else=usual.wet),
        foam=_read(typed, "foam-within", _share, or_else=usual.foam),
        sank=_read(typed, "sinks", _share, or_else=usual.sank),
    )


def _density(typed: Typed, name: str, units: str, buckets: Buckets | None) -> float | None:
    def reader(text: str) -> float:
        return read_density(in_its_own(text)[0], _container(typed, name, units, buckets))

    return _given(typed, name, reader)


def _own(typed: Typed, name: str) -> tuple[str, float | None]:
    """What was weighed, and litres of the container named with it."""
    return in_its_own(_given(typed, name, str) or "")


def _container(typed: Typed, name: str, units: str, buckets: Buckets | None) -> Container:
    """What was weighed in: typed with it or for all, else the site's bucket and its empty weight, else the usual."""
    _, own_l = _own(typed, name)
    told_l = _given(typed, "container", _quantity("volume")) if own_l is None else own_l
    bucket_l = (buckets.foam_l if name == "foam" else buckets.mix_l) if buckets else None
    empty_kg = buckets.empty_kg if buckets and told_l is None else 0.0
    usual_l = bucket_l or read(USUAL[units], "volume").value
    return Container(
        usual_l if told_l is None else told_l,
        _read(typed, "empty", _quantity("mass"), or_else=empty_kg),
        units=units,
    )


def _seconds(typed: Typed) -> float | None:
    ran_min = _given(typed, "ran", _quantity("time"))
    return None if ran_min is None else ran_min * SECONDS_A_MINUTE


def _sank(typed: Typed) -> float | None:
    sank, height = typed.get("sank"), typed.get("of")
    if sank is None or "%" in sank:
        if height is not None:
            raise BadInput("--of goes with a length that --sank tells", "Write --sank 12mm --of 200mm.", name="--of")
        return _given(typed, "sank", lambda text: float(percent(text)))
    if height is None:
        raise BadInput(f"--sank {sank} of what height?", "Add the height, such as --of 200mm.", name="--sank")
    sank_mm, height_mm = _given(typed, "sank", _quantity("length")), _given(typed, "of", _quantity("length"))
    if sank_mm is None or not height_mm or height_mm < 0:
        raise BadInput(f"--of {height} is no height", "Write the height it was filled to, such as 200mm.", name="--of")
    return sank_mm / height_mm


def _share(text: str) -> float:
    share = float(percent(text))
    if not 0 < share < 1:
        raise BadInput(f"{text} is no tolerance", "Write a percentage above 0 and under 100, such as 5%.", value=text)
    return share


def _quantity(dimension: str) -> Callable[[str], float]:
    return lambda text: read(text, dimension).value


def _read(typed: Typed, name: str, reader: Callable[[str], Value], *, or_else: Value) -> Value:
    value = _given(typed, name, reader)
    return or_else if value is None else value


def _given(typed: Typed, name: str, reader: Callable[[str], Value]) -> Value | None:
    """What an option says, in which a decimal comma is a point; a fault names the option as it was typed."""
    text = typed.get(name)
    if text is None:
        return None
    try:
        return reader(with_point(text))
    except BadInput as fault:
        raise BadInput(f"--{name}: {fault.what}", fault.todo, name=f"--{name}", value=text) from None
