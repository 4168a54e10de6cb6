"""What may go wrong with a plan, in words and chances a builder can act on."""

from __future__ import annotations

from collections import Counter
from itertools import groupby
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import day_name, full_day_name, moment_name
from blockrun.planner.risk.rates import Rates
from blockrun.show.measures import in_percent
from blockrun.show.page import HEADING, INDENT, QUIET, Page, glued
from blockrun.units import counted, listed, show, show_share

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date

    from rich.text import Text

    from blockrun.planner.risk.counted import Chance, Cost, LastPour, Never, OfCourse, OfPart, Risk, SparesWorth

_HUNDRED: Final = 100
_HOW: Final = (
    "How it is played: the days and minutes of the plan, as far as they go. What cannot be done goes on the next day "
    "it can. What is lost is poured again in free cavities and batches with room, or in a batch more, unless a spare "
    "is there in time. A batch that goes flat is seen at once: its moulds are cleaned, and what it was for is poured "
    "again the same day where that can be, so that it costs a batch and often no day. Nobody plans anew: a new plan "
    "does better. Strips wait for age, people and places on the rack, pours for frost, moulds, people, cement and "
    "agent."
)
_EARLY: Final = (
    "They help if they are there before the courses, and no plan can be told a day for spares: pour them besides it "
    "into moulds that stand empty early on, and record that as poured extra."
)
_NOT: Final = (
    "Not in it: deliveries that come late, moulds and mixers that break, frost that harms blocks already poured, "
    "thumbs that find blocks too soft, blocks that break on the wall, slow work, overtime, weather warmer than "
    "forecast. Each cause is drawn by itself, although rain, cold and people missing often come together."
)


def risk_text(risk: Risk, width: int) -> Text:
    """Write what many runs of a plan told."""
    page = Page(width, risk.plan.site.units)
    runs = f"{risk.runs:,} run{'s' * (risk.runs != 1)}"
    page.line((f"{risk.plan.order.name}: {runs} of this plan, things going wrong by chance", HEADING))
    if risk.plan.begun is not None:
        page.line(f"It begins {moment_name(risk.plan.begun.since)}: what happened before is as it was recorded.")
    if risk.runs < risk.asked:
        page.line(f"Stopped: {risk.runs:,} of {risk.asked:,} runs are played.")
    page.blank()
    _in_time(page, risk)
    for part in risk.parts:
        _part(page, part, risk.rates)
    page.blank()
    _how_late(page, risk)
    page.blank()
    _worth_having(page, risk)
    page.blank()
    _costs(page, risk)
    page.blank()
    for said in (_taken(risk), _HOW, _NOT):
        page.line((said, QUIET))
    return page.text()


def _in_time(page: Page, risk: Risk) -> None:
    if not risk.parts:
        page.line("No course has a day it is needed.")
        return
    late = [course for part in risk.parts for course in part.courses if course.planned]
    if late:
        said = f"{counted(len(late), 'course')} late, whatever goes well."
        page.line(("The plan itself has ", HEADING), (said, HEADING))
    held = "No course later than in the plan: " if late else "All courses there in time: "
    page.line((held, HEADING), f"{_chance_said(risk.in_time, risk.rates)}.")
    brackets = "In brackets where the true chance, by these rates, lies 95 times of 100."
    sure = "By these rates nothing goes wrong, so all runs are alike."
    page.line((f"{brackets if risk.rates.any_cause else sure} By course, and the day it is needed:", QUIET))


def _chance_said(chance: Chance, rates: Rates) -> str:
    """``35 % of the runs (32-38)``."""
    return " ".join([f"{glued(_share(chance))} of the runs", *map(glued, _between(chance, rates))])


def _share(chance: Chance) -> str:
    """A share in whole per cent: all or none only where it is so."""
    whole = round(_HUNDRED * chance.share)
    if 0 < chance.held < chance.runs:
        whole = min(max(whole, 1), _HUNDRED - 1)
    return f"{whole} %"


def _between(chance: Chance, rates: Rates) -> list[str]:
    """Where the true chance lies; nothing where nothing is left to chance."""
    return [f"({_HUNDRED * chance.low:.0f}-{_HUNDRED * chance.high:.0f})"] if rates.any_cause else []


def _part(page: Page, part: OfPart, rates: Rates) -> None:
    """A part, then a line for each of its courses."""
    page.blank()
    held = "none later than in the plan" if part.is_planned_late else "all in time"
    page.line((part.part, HEADING), f", {held}: {_chance_said(part.chance, rates)}; {_slack_said(part.slack)}")
    names = [_course_name(course) for course in part.courses]
    widest, often = max(map(len, names)), Counter(names)
    for name, course in zip(names, part.courses, strict=True):
        day = f"{day_name(course.needed):<10}"
        said = glued(
            "  ".join([f"{name:>{widest}}", day, f"{_share(course.chance):>5}", *_between(course.chance, rates)])
        )
        late = [f"{counted(course.planned, 'day')} late in the plan"] if course.planned else []
        marks = [listed(course.marks)] if often[name] > 1 else []
        page.line("  ".join([said, *marks, *late]), indent=INDENT)


def _course_name(course: OfCourse) -> str:
    return "all" if course.course is None else str(course.course)


def _slack_said(days: int | None) -> str:
    if days is None:
        return "no later day is enough, more than 1 run in 10 never casts all of it"
    if days == 0:
        return "9 of 10 runs hold as it is"
    return f"needed {glued(counted(days, 'day'))} later, 9 of 10 runs hold"


def _how_late(page: Page, risk: Risk) -> None:
    late, last = risk.block_days, risk.last_pour
    page.line(
        ("Late: ", HEADING),
        f"{counted(late.planned, 'block-day')} in the plan, {late.mean:.1f} on the mean; half of the runs up to "
        f"{late.median}, 9 of 10 up to {late.worst}.",
    )
    page.line(
        ("Last pour: ", HEADING),
        f"{glued(day_name(last.planned))} in the plan; {_last_said(last)}.",
    )
    poured = risk.batches
    page.line(
        ("Batches: ", HEADING),
        f"{poured.planned} in the plan, {poured.mean:.1f} on the mean; half of the runs up to {poured.median}, 9 of 10 "
        f"up to {poured.worst}.",
    )
    if risk.never.runs:
        page.line(("Never cast: ", HEADING), _never_said(risk.never, risk.runs))


def _last_said(last: LastPour) -> str:
    half, most = _by(last.median, "half of the runs"), _by(last.worst, "9 of 10")
    return half if last.median is None else f"{half}, {most}"


def _by(day: date | None, share: str) -> str:
    return f"not {share} cast all" if day is None else f"{share} by {glued(day_name(day))}"


def _never_said(never: Never, runs: int) -> str:
    until = glued(full_day_name(never.until))
    return (
        f"blocks in {never.runs:,} of {runs:,} runs, {never.blocks:.1f} on the mean of these, though runs go on for "
        f"months; they count as late until {until}, where runs end."
    )


def _worth_having(page: Page, risk: Risk) -> None:
    if risk.parts:
        page.line(("Slack worth having: ", HEADING), f"{_slack_said(risk.slack)}.")
    spares = risk.spares
    page.line(("Spares worth having: ", HEADING), _spares_said(spares))
    if spares.planned:
        planned = sum(spares.planned.values())
        page.line(
            f"The plan casts {counted(planned, 'spare')}, when it suits: with broken blocks alone it misses a course "
            f"in {in_percent(spares.missed)} of the runs; without any in {in_percent(spares.missed_none)}."
        )


def _spares_said(spares: SparesWorth) -> str:
    goal = "for broken blocks alone to miss a course in under 1 run in 20"
    if spares.wanted is None:
        return f"no number is enough {goal}: have fewer break first."
    if not spares.wanted:
        missed = f"{_HUNDRED * spares.missed_none:.0f} % of the runs miss a course by broken blocks alone"
        return f"none; without any, {missed}."
    return f"{sum(spares.wanted.values())}, {goal}: {_by_count(spares.wanted)}. {_EARLY}"


def _by_count(wanted: Mapping[tuple[str, str], int]) -> str:
    """``3 of D450; 1 each of W600 and lining``; a mark of two mixes names them."""
    marks = [mark for mark, _ in wanted]
    named = {key: f"{key[0]} ({key[1]})" if marks.count(key[0]) > 1 else key[0] for key in wanted}
    ordered = sorted(wanted, key=lambda key: (-wanted[key], key))
    said = []
    for count, keys in groupby(ordered, key=lambda key: wanted[key]):
        names = [named[key] for key in keys]
        said.append(f"{count} {'each ' if len(names) > 1 else ''}of {listed(names)}")
    return "; ".join(said)


def _costs(page: Page, risk: Risk) -> None:
    together = "What two causes bring about together goes with either of them, so these do not add up to the mean."
    page.line(("What costs most: ", HEADING), f"the same runs without it, the worst first. {together}")
    for cost in risk.costs:
        held = "" if not risk.parts else "none later than planned" if risk.is_planned_late else "all in time"
        page.item(_cost_said(cost, held))


def _cost_said(cost: Cost, held: str) -> str:
    """``without cold snaps: all in time in 46 %; 12.7 block-days less late, last pour 0.9 days sooner``."""
    saved = [
        _saved(cost.block_days, "{} block-days", "less late", "more late"),
        _saved(cost.days, "last pour {} days", "sooner", "later"),
        _saved(cost.batches, "{} batches", "fewer", "more"),
    ]
    said = ", ".join(filter(None, saved)) or "nothing else changes"
    return f"without {cost.cause}: " + (f"{held} in {glued(_share(cost.chance))}; {said}" if held else said)


def _saved(number: float, what: str, better: str, worse: str) -> str:
    """What is saved, or costs more; empty where that is next to nothing."""
    size = f"{abs(number):.1f}"
    if size == "0.0":
        return ""
    return f"{glued(what.format(size))} {worse if number < 0 else better}"


def _taken(risk: Risk) -> str:
    """The rates that were taken, and whose they are."""
    rates, units = risk.rates, risk.plan.site.units
    snaps, broken = rates.cold_snaps, rates.broken

    def share(value: float) -> str:
        return glued(show_share(value))

    ours = " They are ours, nothing is measured: write your own, --rates FILE." if rates == Rates() else ""
    colder = glued(show(snaps.colder_c, "temperature_difference", units))
    return (
        f"Taken, seed {risk.seed}: {share(broken.at_strip)} of blocks break at the strip and "
        f"{share(broken.when_moved)} when moved; {share(rates.flat_batches)} of batches go flat; on "
        f"{share(snaps.chance)} of days it turns {colder} colder than forecast for "
        f"{glued(counted(snaps.days, 'day'))}; each person is missing on "
        f"{share(rates.people_away)} of working days; {share(rates.days_lost)} of these are lost.{ours}"
    )
