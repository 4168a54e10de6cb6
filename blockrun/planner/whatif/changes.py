"""Changes of a yard that cost something and may help, in the words of the trade: each a site made anew."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from datetime import timedelta
from itertools import count, islice
from typing import TYPE_CHECKING, Final

from blockrun.mix import batch_sizes
from blockrun.order.castable import castable
from blockrun.planner.mixes import mix_proportions
from blockrun.site import MouldKind, Site
from blockrun.units import MINUTES_A_DAY

if TYPE_CHECKING:
    from collections.abc import Sequence

    from blockrun.order import Order, OrderLine
    from blockrun.site import Cement, FoamingAgent
    from blockrun.site.weather.days import Weather

NUMBERS: Final = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
DAY_NAMES: Final = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_FOAM_AT_ONCE: Final = 1_000_000
_MORE_RACK: Final = 0.25
_WARMER_C: Final = 5
_WEEK: Final = 7
_SET_SLOWLY_UNDER_C: Final = 18.0
_LOOKED_AT: Final = 60


@dataclass(frozen=True)
class Change:
    """One change of a site.

    Attributes
    ----------
    said : what it is, such as ``one more gang-4 mould``.
    make : the site with it.
    allows_more : whether each plan without it is one with it, too.
    """

    said: str
    make: Callable[[Site], Site] = field(compare=False, repr=False)
    allows_more: bool = True


def in_words(number: int) -> str:
    """``two`` up to ten, then figures."""
    return NUMBERS[number] if number < len(NUMBERS) else str(number)


def changes(site: Site, order: Order, lines: Sequence[OrderLine]) -> tuple[Change, ...]:
    """All that is worth trying on a site for what is to be cast, one step of each."""
    return (
        *_of_moulds(site, lines),
        *_of_racks(site),
        *_of_stack(site),
        *(bigger_mixer(mixer.name) for mixer in site.mixers),
        more_mixers(1),
        *([faster_foam()] if foam_is_waited_for(site, order) else []),
        more_people(1),
        *_of_hours(site),
        *_of_air(site),
        *_of_deliveries(site),
    )


def _of_moulds(site: Site, lines: Sequence[OrderLine]) -> Iterator[Change]:
    for kind in site.moulds:
        if kind.filler or not any(castable(kind, line) for line in lines):
            continue
        if kind.bases is None:
            yield more_moulds(kind.kind, 1)
        else:
            # sides that have no base to stand on are of no use
            yield from [more_sides(kind.kind, 1)] if kind.bases > kind.count else []
            yield more_bases(kind.kind, 1)


def _of_racks(site: Site) -> Iterator[Change]:
    if site.curing.rack_for_min:
        places = sum(rack.places for rack in site.racks)
        yield more_places(math.ceil(_MORE_RACK * places))


def _of_stack(site: Site) -> Iterator[Change]:
    if site.stack is not None:
        yield more_ground(math.ceil(_MORE_RACK * site.stack.places))


def _of_hours(site: Site) -> Iterator[Change]:
    if site.calendar.close_min + 60 <= MINUTES_A_DAY:
        yield longer_day(1)
    free = [day for day in (5, 6, 0, 1, 2, 3, 4) if day not in site.calendar.workdays]
    yield from (another_day(day) for day in free[:1])


def _of_air(site: Site) -> Iterator[Change]:
    """Only where a typical year does not tell the air, and it is cool enough for warmth to help."""
    weather, start = site.weather, site.calendar.start
    if weather.typical is not None:
        return
    means = [weather.day(start + timedelta(days=n)) for n in range(_LOOKED_AT)]
    if any((day.min_c + day.max_c) / 2 < _SET_SLOWLY_UNDER_C for day in means):
        yield warmer(_WARMER_C, site.units)


def _of_deliveries(site: Site) -> Iterator[Change]:
    for name, kept in (("cement", site.stock.cement), ("foaming agent", site.stock.foaming_agent)):
        if any(delivery.day > site.calendar.start for delivery in kept.deliveries):
            yield earlier_delivery(name, _WEEK)


# each change


def more_moulds(kind: str, n: int) -> Change:
    """More moulds that come in one piece."""
    said = f"{in_words(n)} more {kind} mould{'s' * (n > 1)}"
    return Change(said, lambda site: _of_kind(site, kind, lambda mould: {"count": mould.count + n}))


def more_sides(kind: str, n: int) -> Change:
    """More sides for the bases there are."""
    said = f"sides for {in_words(n)} more {kind}"
    return Change(said, lambda site: _of_kind(site, kind, lambda mould: {"count": mould.count + n}))


def more_bases(kind: str, n: int) -> Change:
    """More bases for the sides there are."""
    said = f"{in_words(n)} more {kind} base{'s' * (n > 1)}"
    return Change(said, lambda site: _of_kind(site, kind, lambda mould: {"bases": (mould.bases or 0) + n}))


def _of_kind(site: Site, kind: str, new: Callable[[MouldKind], dict[str, int]]) -> Site:
    moulds = (mould.model_copy(update=new(mould)) if mould.kind == kind else mould for mould in site.moulds)
    return site.model_copy(update={"moulds": tuple(moulds)})


def more_places(n: int) -> Change:
    """More places, on the last rack."""

    def make(site: Site) -> Site:
        *racks, last = site.racks
        return site.model_copy(update={"racks": (*racks, last.model_copy(update={"places": last.places + n}))})

    return Change(f"{in_words(n)} more rack place{'s' * (n > 1)}", make)


def more_ground(n: int) -> Change:
    """More columns on the stack, no higher ones."""

    def make(site: Site) -> Site:
        stack = site.stack and site.stack.model_copy(update={"places": site.stack.places + n})
        return site.model_copy(update={"stack": stack})

    return Change(f"{in_words(n)} more place{'s' * (n > 1)} on the stack", make)


def more_layers(n: int) -> Change:
    """Higher columns on the stack, no more of them."""

    def make(site: Site) -> Site:
        stack = site.stack and site.stack.model_copy(update={"layers": site.stack.layers + n})
        return site.model_copy(update={"stack": stack})

    return Change(f"{in_words(n)} more layer{'s' * (n > 1)} on the stack, if that stands firm", make)


def bigger_mixer(name: str, n: int = 1) -> Change:
    """A mixer that holds so many halves as much again, and takes as long."""
    times = 1 + n / 2

    def make(site: Site) -> Site:
        mixers = (
            mixer.model_copy(update={"usable_volume_l": mixer.usable_volume_l * times}) if mixer.name == name else mixer
            for mixer in site.mixers
        )
        return site.model_copy(update={"mixers": tuple(mixers)})

    return Change(f"a {name} {_halves_said(n, 'big')}", make)


def faster_foam(n: int = 1) -> Change:
    """A foam generator that makes so many halves as much again in a minute."""
    times = 1 + n / 2

    def make(site: Site) -> Site:
        generator = site.foam_generator
        faster = generator.model_copy(update={"rate_l_min": generator.rate_l_min * times})
        return site.model_copy(update={"foam_generator": faster})

    return Change(f"a foam generator {_halves_said(n, 'fast')}", make)


def _halves_said(n: int, what: str) -> str:
    """``half as big again``, ``twice as big``, ``two and a half times as big``."""
    if n == 1:
        return f"half as {what} again"
    whole, half = divmod(2 + n, 2)
    times = "twice" if n == 2 else f"{in_words(whole)}{' and a half' * half} times"
    return f"{times} as {what}"


def foam_is_waited_for(site: Site, order: Order) -> bool:
    """Whether batches take longer, or are smaller, than they were could foam be made at once."""
    at_once = faster_foam(_FOAM_AT_ONCE).make(site)
    return any(
        batch_sizes(site, mixer, mix) != batch_sizes(at_once, mixer, mix)
        for mix in mix_proportions(site, order).values()
        for mixer in site.mixers
    )


def more_mixers(n: int) -> Change:
    """More mixers like the first; there stays one foam generator."""

    def make(site: Site) -> Site:
        like = site.mixers[0]
        there = {mixer.name for mixer in site.mixers}
        names = (name for number in count(2) if (name := f"{like.name} {number}") not in there)
        more = (like.model_copy(update={"name": name}) for name in islice(names, n))
        return site.model_copy(update={"mixers": (*site.mixers, *more)})

    return Change(f"{in_words(n)} more mixer{'s' * (n > 1)}", make)


def more_people(n: int) -> Change:
    """More people on every day."""

    def make(site: Site) -> Site:
        return site.model_copy(update={"crew": site.crew.model_copy(update={"people": site.crew.people + n})})

    return Change("one more person" if n == 1 else f"{in_words(n)} more people", make)


def longer_day(n: int) -> Change:
    """Some hours more in the evening, and for foam too."""

    def make(site: Site) -> Site:
        calendar = site.calendar
        last = None if calendar.last_foam is None else calendar.last_foam + 60 * n
        update = {"hours": (calendar.open_min, calendar.close_min + 60 * n), "last_foam": last}
        return site.model_copy(update={"calendar": calendar.model_copy(update=update)})

    return Change("an hour longer each day" if n == 1 else f"{in_words(n)} hours longer each day", make)


def another_day(weekday: int) -> Change:
    """One more working day in every week, Monday as 0."""

    def make(site: Site) -> Site:
        days = site.calendar.workdays | {weekday}
        return site.model_copy(update={"calendar": site.calendar.model_copy(update={"workdays": days})})

    # need dates counted in working days come sooner, so this may make blocks late
    return Change(f"{DAY_NAMES[weekday]}s worked too, laying as well", make, allows_more=False)


def warmer(n: int, show_in: str = "SI") -> Change:
    """Moulds that stand so many degC warmer, day and night; heat that stops a pour is as far away as before."""

    def make(site: Site) -> Site:
        most, weather = site.curing.most_air_c, _warmer_by(site.weather, n)
        curing = site.curing.model_copy(update={"most_air_c": None if most is None else most + n})
        return site.model_copy(update={"weather": weather, "curing": curing})

    degrees = f"{n * 9 / 5:g} degF" if show_in == "US" else f"{n} degC"
    return Change(f"moulds kept {degrees} warmer", make)


def _warmer_by(weather: Weather, n: int) -> Weather:
    skies = tuple(sky._replace(air_c=tuple(air + n for air in sky.air_c)) for sky in weather.skies)
    return replace(weather, given=tuple((low + n, high + n) for low, high in weather.given), skies=skies)


def earlier_delivery(name: str, days: int) -> Change:
    """All deliveries of cement or foaming agent so many days sooner, not before the first day."""

    def make(site: Site) -> Site:
        start = site.calendar.start

        def sooner(kept: Cement | FoamingAgent) -> Cement | FoamingAgent:
            came = tuple(
                each.model_copy(update={"day": min(each.day, max(start, each.day - timedelta(days=days)))})
                for each in kept.deliveries
            )
            return kept.model_copy(update={"deliveries": came})

        key = name.replace(" ", "_")
        stock = site.stock.model_copy(update={key: sooner(getattr(site.stock, key))})
        return site.model_copy(update={"stock": stock})

    return Change(f"{name} delivered {in_words(days)} days earlier", make)


def more_on_hand(name: str, amount: float) -> Change:
    """So many bags of cement, or litres of foaming agent, more on the first day."""
    key, on_hand, unit = {
        "cement": ("cement", "on_hand_bags", "bag"),
        "foaming agent": ("foaming_agent", "on_hand_l", "L"),
    }[name]

    def make(site: Site) -> Site:
        kept = getattr(site.stock, key)
        more = kept.model_copy(update={on_hand: getattr(kept, on_hand) + amount})
        return site.model_copy(update={"stock": site.stock.model_copy(update={key: more})})

    plural = "s" if unit == "bag" and amount != 1 else ""
    return Change(f"{amount:g} {unit}{plural} more of {name} in time", make)
