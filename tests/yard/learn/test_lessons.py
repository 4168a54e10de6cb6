"""What a yard learns when its truth is known."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest

from blockrun.planner.as_planned import AsPlanned
from blockrun.planner.learned import Finding, Lessons
from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import Blocks, MouldOut, Poured, Rejected, Stripped
from blockrun.yard.learn.lessons import lessons_of
from blockrun.yard.now import state_of
from tests.yard.learn.invented import MINUTE, Truth, Yard, written_at_night

About = Callable[[Lessons, str], Finding]


@pytest.mark.parametrize("name", ["small", "demo", "drawn", "slabs"])
@pytest.mark.parametrize("share", [0.3, 1.0])
def test_what_went_as_planned_proposes_nothing(plan_named: Callable[[str], AsPlanned], name: str, share: float) -> None:
    plan = plan_named(name)
    entries = Yard(plan).entries()
    some = entries[: int(share * len(entries))]
    random.Random(name).shuffle(some)
    lessons = lessons_of(plan, some)
    assert lessons.changes == ()
    assert lessons.cubes == ()
    assert {one.verdict.partition(" (")[0] for one in lessons.findings} <= {
        "as the site says",
        "as planned",
        "too few to tell",
        "too few moulds to tell",
        "nothing can be learnt of clean_time",
        "nothing to tell",
        "the spares are enough",
        "the spares may be too few; if more break, ask for more in the order",
    }


@pytest.mark.parametrize(
    ("truth", "seen", "verdict"),
    [
        (Truth(entered_min=1), "at the soonest 18 min after", "as the site says"),
        (Truth(strip_min=4, entered_min=1), "at the soonest 2 min after", "clean_time may be less"),
    ],
)
def test_a_clean_took_no_longer_than_until_the_next_pour(
    demo: AsPlanned, about: About, truth: Truth, seen: str, verdict: str
) -> None:
    found = about(lessons_of(demo, Yard(demo, truth).entries()), "Cleaning gang-4")
    assert found.says == "clean_time 12 min"
    assert seen in found.seen
    assert found.verdict.startswith(verdict)


def test_an_empty_journal_teaches_nothing(demo: AsPlanned) -> None:
    lessons = lessons_of(demo, ())
    assert (lessons.entries, lessons.changes, lessons.cubes) == (0, (), ())


def test_the_truth_of_a_yard_is_found(demo: AsPlanned, about: About) -> None:
    truth = Truth(batch_min=4, strip_min=4, left_l=10, foam_g_l=99, entered_min=1, made=0.01)
    lessons = lessons_of(demo, Yard(demo, truth).entries())
    found = {(one.key, one.where[1]): one.new for one in lessons.changes}
    assert found["pour_time", ("name", "drum")] == pytest.approx(14, abs=1)
    assert found["left_behind", ("name", "drum")] == pytest.approx(10, abs=1.5)
    assert found["foam_density", "foam_density"] == pytest.approx(99, abs=1)
    assert found["strip_time", ("kind", "gang-4")] == pytest.approx(16, abs=2)
    assert {key for key, _ in found} == {"pour_time", "left_behind", "foam_density", "strip_time"}
    assert [one.words for one in lessons.changes if one.key == "foam_density"] == [("95 g/L", "99 g/L")]


def test_what_was_answered_as_planned_tells_no_time(demo: AsPlanned, about: About) -> None:
    at_night = lessons_of(demo, written_at_night(Yard(demo).entries()))
    assert about(at_night, "A batch of drum").verdict == "too few to tell (0 of 8)"
    assert about(at_night, "Stripping gang-4").verdict == "too few to tell (0 of 8)"
    at_once = lessons_of(demo, Yard(demo).entries())
    assert about(at_once, "A batch of drum").verdict == "as the site says"


def test_a_row_typed_in_at_one_minute_tells_no_time(demo: AsPlanned, about: About) -> None:
    strips = [entry for entry in Yard(demo).entries() if isinstance(entry.event, (Poured, Stripped))]
    in_one = [replace(one, happened=one.happened.replace(hour=16, minute=0)) for one in strips]
    lessons = lessons_of(demo, in_one)
    assert about(lessons, "A batch of drum").verdict == "too few to tell (0 of 8)"


def test_a_wait_between_two_pours_is_no_batch_that_takes_long(demo: AsPlanned, about: About) -> None:
    entries = Yard(demo).entries()
    # from the third pour of each day on, everything is two hours later
    pours = [entry for entry in entries if isinstance(entry.event, Poured)]
    days = {entry.happened.date() for entry in pours}
    thirds = {day: [one.happened for one in pours if one.happened.date() == day][2:3] for day in days}
    late = [
        replace(one, happened=one.happened + 120 * MINUTE)
        if isinstance(one.event, Poured)
        and thirds[one.happened.date()]
        and one.happened >= thirds[one.happened.date()][0]
        else one
        for one in entries
    ]
    assert about(lessons_of(demo, late), "A batch of drum").change is None


def test_entries_of_another_plan_tell_nothing_of_batches(demo: AsPlanned, about: About) -> None:
    def moved(entry: Entry) -> Entry:
        event = entry.event
        return replace(entry, event=event.model_copy(update={"plan": "other"})) if isinstance(event, Poured) else entry

    lessons = lessons_of(demo, map(moved, Yard(demo, Truth(batch_min=6, left_l=20)).entries()))
    assert about(lessons, "A batch of drum").verdict == "too few to tell (0 of 8)"
    assert about(lessons, "Left in drum").verdict == "too few to tell (0 of 8)"
    assert about(lessons, "Strip age").seen.partition(" ")[0] != "no"


def test_batches_of_a_plan_before_tell_as_much_unless_it_was_made_for_other_times(
    demo: AsPlanned, plan_named: Callable[[str], AsPlanned], about: About
) -> None:
    entries, now = Yard(demo, Truth(batch_min=4)).entries(), plan_named("drawn")
    assert now.id != demo.id
    told = about(lessons_of(now, entries, [replace(demo, site=now.site)]), "A batch of drum")
    assert told.seen.startswith("36 pours in a row: 4 min longer each")
    faster = now.site.mixers[0].model_copy(update={"pour_time_min": 6})
    then = replace(demo, site=now.site.model_copy(update={"mixers": (faster,)}))
    assert about(lessons_of(now, entries, [then]), "A batch of drum").change is None


def with_site(plan: AsPlanned, **changed: object) -> AsPlanned:
    return replace(plan, site=plan.site.model_copy(update=changed))


def test_what_did_not_change_in_a_site_is_still_learnt_of(
    demo: AsPlanned, plan_named: Callable[[str], AsPlanned], about: About
) -> None:
    """One mould more of a kind: foam, batches, drum and strips tell as much as before."""
    told, now = Yard(demo, Truth(batch_min=4, strip_min=4)).entries(), plan_named("drawn")
    entries = [
        replace(one, event=one.event.model_copy(update={"foam_g_l": 97.0})) if isinstance(one.event, Poured) else one
        for one in told
    ]
    first, *others = now.site.moulds
    fewer = (first.model_copy(update={"count": first.count - 1}), *others)
    same, then = (
        lessons_of(now, entries, [replace(demo, site=site)]) for site in (now.site, with_site(now, moulds=fewer).site)
    )
    assert then.findings == same.findings
    assert about(then, "Foam").seen.startswith("weighed 60 times")


def test_batches_by_another_foam_generator_are_left_out_and_counted(
    demo: AsPlanned, plan_named: Callable[[str], AsPlanned], about: About
) -> None:
    entries, now = Yard(demo).entries(), plan_named("drawn")
    other = now.site.foam_generator.model_copy(update={"rate_l_min": 1.0})
    lessons = lessons_of(now, entries, [with_site(replace(demo, site=now.site), foam_generator=other)])
    n_pours = sum(isinstance(entry.event, Poured) for entry in entries)
    assert about(lessons, "Foam").notes == (
        f"{n_pours} batches were poured by a plan with another foam_generator: left out.",
    )


def test_strips_of_a_kind_with_other_times_begin_anew(
    demo: AsPlanned, plan_named: Callable[[str], AsPlanned], about: About
) -> None:
    entries, now = Yard(demo, Truth(strip_min=4)).entries(), plan_named("drawn")
    slower = tuple(
        kind.model_copy(update={"strip_time_min": 20}) if kind.kind == "gang-4" else kind for kind in now.site.moulds
    )
    lessons = lessons_of(now, entries, [with_site(replace(demo, site=now.site), moulds=slower)])
    assert about(lessons, "Stripping gang-4").seen == "strips timed right after another: 0"


def test_a_mould_out_of_use_is_no_want_of_mix(demo: AsPlanned, about: About) -> None:
    entries = Yard(demo).entries()
    start = entries[0].happened - timedelta(hours=1)
    out = Entry("out", start, entries[0].written, MouldOut(mould="gang-4/01"))
    told = [out, *filter(None, (_without(entry, "gang-4/01") for entry in entries))]
    lessons = lessons_of(demo, told)
    assert about(lessons, "Left in drum").change is None
    assert "none of them short" in about(lessons, "Left in drum").seen
    forgotten = about(lessons_of(demo, told[1:]), "Left in drum")
    assert "none of them short" not in forgotten.seen


def test_a_batch_thrown_away_tells_nothing_of_the_drum(demo: AsPlanned, about: About) -> None:
    told = [*map(_thrown, Yard(demo).entries())]
    assert "0 batches recorded" in about(lessons_of(demo, told), "Left in drum").seen


def _thrown(entry: Entry) -> Entry:
    event = entry.event
    if not isinstance(event, Poured):
        return entry
    fills = tuple(fill.model_copy(update={"marks": ("",) * len(fill.marks)}) for fill in event.fills)
    return replace(entry, event=event.model_copy(update={"fills": fills}))


def _without(entry: Entry, mould: str) -> Entry | None:
    """An entry, a mould left out of it."""
    event = entry.event
    if isinstance(event, Stripped) and event.mould == mould:
        return None
    if isinstance(event, Poured):
        fills = tuple(fill for fill in event.fills if fill.mould != mould)
        return replace(entry, event=event.model_copy(update={"fills": fills})) if fills else None
    return entry


def test_batches_that_weigh_too_much_make_less(demo: AsPlanned, about: About) -> None:
    def heavier(entry: Entry) -> Entry:
        event = entry.event
        if not isinstance(event, Poured) or event.wet_density_kg_m3 is None:
            return entry
        return replace(entry, event=event.model_copy(update={"wet_density_kg_m3": event.wet_density_kg_m3 * 1.06}))

    found = about(lessons_of(demo, map(heavier, Yard(demo).entries())), "What a batch of light makes")
    assert found.verdict.startswith("makes 6 % less than planned: foam is lost")
    assert found.change is None


def test_more_lost_than_there_are_spares_is_told_with_the_share_that_would_do(demo: AsPlanned, about: About) -> None:
    entries = Yard(demo, Truth(breaks=lambda age_h: 0.6)).entries()
    found = about(lessons_of(demo, entries), "Broken blocks")
    assert found.verdict.startswith("more are lost than there are spares: write spares: 2")
    where, pile = next((place, pile) for place, pile in state_of(entries).out.items() if pile)
    ((mark, mix), *_) = pile.counts
    few = Blocks(mark=mark, mix=mix, count=1)
    thrown = replace(entries[-1], key="out", event=Rejected(place="mould", name=where, blocks=(few,), why="cracked"))
    assert ", 1 rejected" in about(lessons_of(demo, [*entries, thrown]), "Broken blocks").seen


def test_a_batch_thrown_out_of_its_moulds_is_lost_of_all_that_was_cast(demo: AsPlanned, about: About) -> None:
    entries = Yard(demo).entries()
    nth, first = next((nth, one.event) for nth, one in enumerate(entries) if isinstance(one.event, Poured))
    (fill, *_) = first.filled
    flat = Counter(mark for mark in fill.marks if mark)
    blocks = tuple(Blocks(mark=mark, mix=first.mix, count=count) for mark, count in flat.items())
    out = Rejected(place="mould", name=fill.base or fill.mould, blocks=blocks, why="flat")
    until = next(nth for nth, one in enumerate(entries) if isinstance(one.event, Stripped)) + 20
    told = [*entries[:until], replace(entries[nth], key="out", event=out)]
    state = state_of(told)
    found = about(lessons_of(demo, told), "Broken blocks")
    assert found.seen.startswith(f"0 broke, {flat.total()} rejected, of {state.cast.total()} cast: ")
    assert f"{100 * flat.total() / state.cast.total():.1f} %" in found.seen
