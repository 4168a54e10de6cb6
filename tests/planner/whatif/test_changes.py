"""Each change does what its words say, and is offered only where it makes sense."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from blockrun.planner.wanted import wanted
from blockrun.planner.whatif.changes import (
    Change,
    another_day,
    bigger_mixer,
    changes,
    earlier_delivery,
    faster_foam,
    longer_day,
    more_bases,
    more_ground,
    more_layers,
    more_mixers,
    more_moulds,
    more_on_hand,
    more_people,
    more_places,
    more_sides,
    warmer,
)
from blockrun.site import Site, Stack
from tests.planner.why.by_hand import GANG, MONDAY, ON_BASES, a_site, an_order, stock

BASED = a_site(moulds=(ON_BASES,), stock=stock(2, 40), stack=Stack(places=8, layers=4))
FOAM_EARLY = a_site().calendar.model_copy(update={"last_foam": 15 * 60})


def offered(site: Site) -> list[str]:
    order = an_order(10)
    return [change.said for change in changes(site, order, wanted(site, order))]


@pytest.mark.parametrize(
    ("change", "words", "of", "value"),
    [
        (more_moulds("gang", 2), "two more gang moulds", lambda site: site.moulds[0].count, 3),
        (more_sides("gang", 1), "sides for one more gang", lambda site: site.moulds[0].count, 2),
        (more_bases("gang", 1), "one more gang base", lambda site: site.moulds[0].bases, 5),
        (more_places(125), "125 more rack places", lambda site: site.racks[-1].places, 625),
        (more_ground(2), "two more places on the stack", lambda site: site.stack.places, 10),
        (
            more_layers(2),
            "two more layers on the stack, if that stands firm",
            lambda site: (site.stack.places, site.stack.layers),
            (8, 6),
        ),
        (bigger_mixer("drum"), "a drum half as big again", lambda site: site.mixers[0].usable_volume_l, 330),
        (bigger_mixer("drum", 2), "a drum twice as big", lambda site: site.mixers[0].usable_volume_l, 440),
        (
            bigger_mixer("drum", 3),
            "a drum two and a half times as big",
            lambda site: site.mixers[0].usable_volume_l,
            550,
        ),
        (faster_foam(), "a foam generator half as fast again", lambda site: site.foam_generator.rate_l_min, 90),
        (faster_foam(4), "a foam generator three times as fast", lambda site: site.foam_generator.rate_l_min, 180),
        (more_mixers(1), "one more mixer", lambda site: [mixer.name for mixer in site.mixers], ["drum", "drum 2"]),
        (more_people(1), "one more person", lambda site: site.crew.people, 3),
        (more_people(2), "two more people", lambda site: site.crew.people, 4),
        (longer_day(1), "an hour longer each day", lambda site: site.calendar.hours, (420, 1080)),
        (another_day(5), "Saturdays worked too, laying as well", lambda site: 5 in site.calendar.workdays, True),
        (warmer(5), "moulds kept 5 degC warmer", lambda site: site.weather.day(MONDAY).min_c, 25),
        (
            earlier_delivery("cement", 3),
            "cement delivered three days earlier",
            lambda site: site.stock.cement.deliveries[0].day,
            date(2027, 4, 9),
        ),
        (more_on_hand("cement", 3), "3 bags more of cement in time", lambda site: site.stock.cement.on_hand_bags, 5),
    ],
)
def test_a_change_does_what_its_words_say(change: Change, words: str, of: Any, value: object) -> None:
    assert change.said == words
    assert of(change.make(BASED)) == value
    assert of(BASED) != value


def test_a_longer_day_has_foam_for_longer_too() -> None:
    assert longer_day(1).make(a_site(calendar=FOAM_EARLY)).calendar.last_foam == 16 * 60


def test_no_delivery_comes_before_the_first_day() -> None:
    assert earlier_delivery("cement", 30).make(BASED).stock.cement.deliveries[0].day == MONDAY


def test_warmth_moves_the_heat_that_stops_a_pour() -> None:
    hot = a_site(curing=a_site().curing.model_copy(update={"most_air_c": 30.0}))
    assert warmer(5).make(hot).curing.most_air_c == 35


def test_a_yard_is_offered_what_may_help_it_and_each_but_once() -> None:
    said = offered(BASED)
    assert len(said) == len(set(said))
    assert "one more gang base" in said
    assert "one more mixer" in said
    assert "two more places on the stack" in said
    assert "cement delivered seven days earlier" in said


def test_sides_without_a_base_to_stand_on_are_not_offered() -> None:
    assert "sides for one more gang" in offered(BASED)
    few = a_site(moulds=(ON_BASES.model_copy(update={"count": 4}),))
    assert "sides for one more gang" not in offered(few)


def test_moulds_that_cast_nothing_ordered_or_only_what_is_left_over_are_not_offered() -> None:
    other = GANG.model_copy(update={"kind": "tall", "cavity": (400.0, 300.0, 100.0)})
    filler = GANG.model_copy(update={"kind": "small", "filler": True})
    said = offered(a_site(moulds=(GANG, other, filler)))
    assert "one more gang mould" in said
    assert not [words for words in said if "tall" in words or "small" in words]


def with_foam(rate_l_min: float, pour_life_min: float = 25.0) -> Site:
    generator = a_site().foam_generator.model_copy(update={"rate_l_min": rate_l_min})
    return a_site(foam_generator=generator, pour_life_min=pour_life_min)


def test_a_faster_foam_generator_is_offered_where_batches_wait_for_foam_or_are_kept_small_by_it() -> None:
    """A full drum takes some 150 L of foam, and 4 min to blend it in: 25 in all leave 15 min for foam."""
    faster = "a foam generator half as fast again"
    assert faster not in offered(with_foam(60))
    assert faster in offered(with_foam(20))
    assert faster in offered(with_foam(2, pour_life_min=14.0))


def test_deliveries_there_are_none_of_warmth_where_it_is_warm_and_an_eighth_day_are_not_offered() -> None:
    every_day = a_site().calendar.model_copy(update={"workdays": frozenset(range(7))})
    said = offered(a_site(calendar=every_day))
    assert not [words for words in said if "deliver" in words or "warmer" in words or "worked" in words]


def test_a_first_day_of_deliveries_is_not_too_late_to_help() -> None:
    now = stock(2, 40)
    there = now.cement.deliveries[0].model_copy(update={"day": MONDAY})
    early = now.model_copy(update={"cement": now.cement.model_copy(update={"deliveries": (there,)})})
    assert "cement delivered seven days earlier" not in offered(a_site(stock=early))
    assert timedelta(0) < now.cement.deliveries[0].day - MONDAY


def test_more_mixers_take_names_that_none_has() -> None:
    twice = more_mixers(1).make(more_mixers(2).make(a_site()))
    assert [mixer.name for mixer in twice.mixers] == ["drum", "drum 2", "drum 3", "drum 4"]
