"""What was measured, as it is typed in the yard: words with units to numbers."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Final, TypeVar

from blockrun.errors import BadInput
from blockrun.mix.seen import Seen
from blockrun.mix.tolerances import Tolerances, tolerances_of
from blockrun.mix.weighing import Container, is_mass, read_density
from blockrun.units import percent, read

if TYPE_CHECKING:
    from blockrun.site import Buckets

Value = TypeVar("Value")
Typed = Mapping[str, str | None]
"""Options by their name without dashes, such as ``foam``; None, or nothing, for one that was not given."""

USUAL: Final = {"SI": "10 L", "US": "2 gal"}
"""What things are weighed in, unless told: the bucket of a yard (our choice)."""


def read_seen(typed: Typed, units: str, buckets: Buckets | None = None) -> Seen:
    """What was measured.

    Parameters
    ----------
    typed : ``foam``, ``slurry``, ``weight`` (of the wet mix): densities, or what the full ``container`` weighs, its
        ``empty`` weight in it; ``temperature``; ``mixed`` and ``since``, times; ``sank``, a length of the height
        ``of``, or a percentage.
    units : ``SI`` or ``US``: which container is usual.
    buckets : of the site: what is weighed in where no container is typed.

    Raises
    ------
    BadInput, OutOfRange : a text that cannot be read, or cannot be, with the name of its option.
    """
    for_foam = _container(typed, units, buckets, buckets.foam_l if buckets else None)
    for_mix = _container(typed, units, buckets, buckets.mix_l if buckets else None)
    return Seen(
        foam_kg_m3=_given(typed, "foam", lambda text: read_density(text, for_foam)),
        slurry_kg_m3=_given(typed, "slurry", lambda text: read_density(text, for_mix)),
        wet_kg_m3=_given(typed, "weight", lambda text: read_density(text, for_mix)),
        slurry_c=_given(typed, "temperature", _quantity("temperature")),
        mixed_min=_given(typed, "mixed", _quantity("time")),
        since_foam_min=_given(typed, "since", _quantity("time")),
        sank=_sank(typed),
    )


def weighed_in(typed: Typed, units: str, buckets: Buckets | None = None) -> list[Container]:
    """What the things typed by their mass were weighed in, each container once; none where all are densities."""
    sizes = {"foam": buckets.foam_l if buckets else None}
    mix_l = buckets.mix_l if buckets else None
    weighed = [name for name in ("foam", "slurry", "weight") if is_mass(typed.get(name) or "")]
    return list(dict.fromkeys(_container(typed, units, buckets, sizes.get(name, mix_l)) for name in weighed))


def read_tolerances(typed: Typed, buckets: Buckets | None = None) -> Tolerances:
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


def _container(typed: Typed, units: str, buckets: Buckets | None, bucket_l: float | None) -> Container:
    """What was weighed in: as typed, else the bucket of the site with what that weighs empty, else the usual one."""
    typed_l = _given(typed, "container", _quantity("volume"))
    empty_kg = buckets.empty_kg if buckets and typed_l is None else 0.0
    return Container(
        typed_l or bucket_l or read(USUAL[units], "volume").value,
        _read(typed, "empty", _quantity("mass"), or_else=empty_kg),
    )


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
    """What an option says; a fault names the option as it was typed."""
    text = typed.get(name)
    if text is None:
        return None
    try:
        return reader(text)
    except BadInput as fault:
        raise BadInput(f"--{name}: {fault.what}", fault.todo, name=f"--{name}", value=text) from None
