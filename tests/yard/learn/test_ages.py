"""The age at which to strip: later where young blocks break, sooner only with proof and with a caution."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from blockrun.planner.as_planned import AsPlanned
from blockrun.planner.learned import Finding, Lessons
from blockrun.site import Strength
from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import AnyEvent, Blocks, Fill, Poured, Stripped, Thumbed, WeatherSeen
from blockrun.yard.learn.lessons import lessons_of
from tests.yard.learn.invented import Truth, Yard

About = Callable[[Lessons, str], Finding]
START = datetime.fromisoformat("2027-04-05T08:00")


def _turn(nth: int, hours: float, thumb: str = "", *, broken: bool = False, at_c: float | None = 20) -> list[Entry]:
    """A mould poured on one day and stripped so many hours later, at one temperature all the time."""
    poured = START + timedelta(days=3 * nth)
    done = poured + timedelta(hours=hours, minutes=12)  # it is recorded when the strip is done
    mould, block = "gang-4/01", (Blocks(mark="full", mix="light", count=1),)
    events = [(poured, Poured(batch=nth + 1, mix="light", fills=(Fill(mould=mould, marks=("full",)),)))]
    if thumb:
        press = Thumbed.model_validate({"mould": mould, "thumb": thumb})
        events.append((done - timedelta(minutes=20), press))  # type: ignore[arg-type]
    strip = Stripped(mould=mould, broken=block) if broken else Stripped(mould=mould, whole=block)
    events.append((done, strip))  # type: ignore[arg-type]
    if at_c is not None:
        days = (poured.date() + timedelta(days=day) for day in range(3))
        seen = (WeatherSeen(day=day, min_degc=at_c, max_degc=at_c) for day in days)
        events += [(done, one) for one in seen]  # type: ignore[misc]
    return [Entry(f"{nth} {number}", at, at.replace(tzinfo=UTC), event) for number, (at, event) in enumerate(events)]


def _turns(hours: Iterable[float], **told: object) -> list[Entry]:
    return [entry for nth, age in enumerate(hours) for entry in _turn(nth, age, **told)]  # type: ignore[arg-type]


def _into(event: AnyEvent, mould: str) -> AnyEvent:
    """The same event of another mould."""
    if isinstance(event, Poured):
        return event.model_copy(update={"fills": (Fill(mould=mould, marks=("full",)),)})
    return event.model_copy(update={"mould": mould}) if isinstance(event, Stripped) else event


@pytest.fixture
def strip_age(demo: AsPlanned, about: About) -> Callable[[list[Entry]], Finding]:
    return lambda entries: about(lessons_of(demo, entries), "Strip age")


StripAge = Callable[[list[Entry]], Finding]


def test_ages_are_hours_at_20_degc_in_the_air_that_was_seen(strip_age: StripAge) -> None:
    assert strip_age(_turns([24, 30])).seen.startswith("2 moulds stripped at 24 to 29.9 h, none of 2 blocks broken")
    colder = strip_age(_turns([24], at_c=10)).seen
    assert colder.startswith("1 mould stripped at 14.8 h")  # EN 1992-1-1: 0.616 of a day at 10 degC


def test_a_few_strips_tell_nothing_and_say_so(strip_age: StripAge) -> None:
    found = strip_age(_turns([24] * 7, broken=True))
    assert (found.verdict, found.change) == ("too few to tell (7 of 8)", None)


def test_young_blocks_that_break_put_the_strip_off(demo: AsPlanned, about: About) -> None:
    entries = Yard(demo, Truth(breaks=lambda age_h: 0.9 if age_h < 30 else 0.02)).entries()
    found = about(lessons_of(demo, entries), "Strip age")
    assert found.change is not None
    assert (found.change.key, found.change.new / 60, found.change.by_name) == ("strip_at", 31, False)
    assert found.change.words == ("24 h", "31 h")
    assert "under 30.2 h 13 of 20 moulds had broken ones, older 2 of 89" in found.seen
    assert "the change lies likely between 29.5 and 30.6 h" in found.seen


def test_young_blocks_that_broke_on_one_day_may_be_of_one_bad_batch(strip_age: StripAge) -> None:
    days = _turns([25] * 5, broken=True) + [one for nth in range(5, 40) for one in _turn(nth, 30)]
    found = strip_age(days)
    assert found.change is not None
    assert found.change.new == 30 * 60
    moved = []
    for one in days:  # the first five moulds are poured on one day, an hour apart
        nth, _ = one.key.split()
        late = timedelta(days=3 * int(nth), hours=-int(nth)) if int(nth) < 5 else timedelta(0)
        mould = f"gang-4/0{1 + int(nth)}" if int(nth) < 5 else "gang-4/01"
        moved.append(replace(one, happened=one.happened - late, event=_into(one.event, mould)))
    found = strip_age(moved)
    assert found.change is None
    assert found.verdict.startswith("too few to tell: the young ones that broke were poured on one day")


def test_blocks_that_break_at_any_age_leave_it(demo: AsPlanned, about: About) -> None:
    found = about(lessons_of(demo, Yard(demo, Truth(breaks=lambda age_h: 0.3)).entries()), "Strip age")
    assert (found.change, found.verdict) == (None, "as the site says")
    assert found.seen.endswith("no sign that the young ones break more")


def test_an_earlier_strip_takes_whole_blocks_and_firm_thumbs_and_is_written_only_by_name(strip_age: StripAge) -> None:
    found = strip_age(_turns([21, 21.5, 22, 22, 22, 22, 22, 21.8, 23], thumb="firm"))
    assert found.change is not None
    assert (found.change.new / 60, found.change.by_name) == (22, True)
    assert "a weak block falls on feet" in found.notes[0]
    assert "Strength is not promised" in found.notes[0]


def test_it_never_falls_under_four_fifths_of_what_it_was(strip_age: StripAge) -> None:
    found = strip_age(_turns([16] * 12, thumb="firm"))
    assert found.change is not None
    assert found.change.new / 60 == 20  # four fifths of 24 are 19.2


def test_an_age_taken_down_once_is_not_taken_down_again(demo: AsPlanned, about: About) -> None:
    curing = demo.site.curing.model_copy(update={"strip_at_h": 20.0})
    now = replace(demo, site=demo.site.model_copy(update={"curing": curing}))
    entries = _turns([17] * 12, thumb="firm")
    assert about(lessons_of(now, entries), "Strip age").change is not None
    assert about(lessons_of(now, entries, [demo]), "Strip age").change is None  # four fifths of 24 are 19.2


@pytest.mark.parametrize(
    ("entries", "why"),
    [
        (_turns([21] * 12), "no thumb"),
        (_turns([21] * 12, thumb="dents"), "a thumb that left a mark"),
        (_turns([21] * 11, thumb="firm") + _turn(11, 21, "firm", broken=True), "one that broke"),
        (_turns([21] * 11, thumb="firm") + _turn(11, 21), "one without a thumb"),
        (_turns([21] * 7, thumb="firm"), "too few"),
        (_turns([21] * 7, thumb="firm") + [e for n in range(7, 20) for e in _turn(n, 30, "firm")], "too few of them"),
        (_turns([26] * 12, thumb="firm"), "none that was younger"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_without_all_of_it_none_is_proposed(strip_age: StripAge, entries: list[Entry], why: str) -> None:
    change = strip_age(entries).change
    assert change is None or change.new > change.now, why


def test_a_thumb_on_a_block_that_froze_speaks_for_nothing(strip_age: StripAge) -> None:
    warm = _turns([40] * 12, thumb="firm", at_c=10)
    assert strip_age(warm).change is None  # old enough by the rule
    cold = _turns([70] * 12, thumb="firm", at_c=-1)
    assert strip_age(cold).change is None
    thawed = [
        replace(one, event=one.event.model_copy(update={"min_degc": 0.0, "max_degc": 0.0}))
        if isinstance(one.event, WeatherSeen)
        else one
        for one in _turns([56] * 12, thumb="firm", at_c=-1)
    ]
    found = strip_age(thawed).change
    assert found is not None
    assert found.by_name


def test_a_rule_that_is_a_strength_is_left_to_cubes(demo: AsPlanned, about: About) -> None:
    curing = demo.site.curing.model_copy(update={"strip_at_h": Strength(0.2)})
    plan = replace(demo, site=demo.site.model_copy(update={"curing": curing}))
    entries = Yard(demo, Truth(breaks=lambda age_h: 0.9 if age_h < 27 else 0.02)).entries()
    found = about(lessons_of(plan, entries), "Strip age")
    assert (found.change, found.verdict) == (None, "it follows a strength: see cubes")


def test_days_of_which_nobody_told_the_air_are_counted(strip_age: StripAge) -> None:
    entries = [one for one in _turns([24] * 8) if not isinstance(one.event, WeatherSeen)]
    assert strip_age(entries).notes == ("The air was told for 0 of 23 days; ages on the others are by the forecast.",)
