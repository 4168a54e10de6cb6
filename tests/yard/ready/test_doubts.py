"""What asks for a thumb before a strip: by hand, on the plan of fifteen blocks, of which batch 1 fills three moulds.

By the plan these may be stripped on Tuesday 6 April from 12:45; Monday's air is forecast as 10 to 21 degC.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from blockrun.planner.as_planned import AsPlanned
from blockrun.planner.morning import Doubt, Morning
from blockrun.yard.journal import FILE, open_journal
from blockrun.yard.thumbs import thumbs_standing
from tests.yard.ready.conftest import POURED, STRIPPED, Ready, moment

TOLD = "2027-04-06 07:05 weather 10 21 yesterday"
NOON = "2027-04-06 13:00"


def doubt(morning: Morning, place: str = "gang-2/02") -> Doubt:
    return next(mould.doubt for mould in morning.moulds if mould.place == place)


def thumb(shows: str, place: str = "gang-2/1", at: str = "2027-04-06 12:30") -> str:
    return f"{at} thumb {place} {shows}"


def test_nothing_is_doubted_in_the_air_that_was_forecast(ready: Ready) -> None:
    assert doubt(ready(NOON, POURED, TOLD)) == Doubt()


@pytest.mark.parametrize("shows", ["soft", "dents"])
def test_all_moulds_of_a_batch_are_doubted_with_one_that_is_behind(ready: Ready, shows: str) -> None:
    morning = ready(NOON, POURED, TOLD, thumb(shows))
    assert doubt(morning, "gang-2/01") == Doubt(again=True)
    assert doubt(morning, "gang-2/02") == doubt(morning, "tray-1/b01") == Doubt(beside=(("gang-2/01", shows),))


def test_a_mark_that_young_blocks_have_casts_no_doubt(ready: Ready) -> None:
    assert doubt(ready(NOON, POURED, TOLD, thumb("dents", at="2027-04-06 08:00"))) == Doubt()


def test_a_thumb_that_leaves_no_mark_ends_the_doubt_of_its_own_mould_alone(ready: Ready) -> None:
    morning = ready(NOON, POURED, TOLD, thumb("soft"), thumb("firm", "gang-2/2"))
    assert doubt(morning, "gang-2/02") == Doubt()
    assert doubt(morning, "tray-1/b01").beside == (("gang-2/01", "soft"),)


def test_one_that_was_stripped_soft_still_casts_doubt(ready: Ready) -> None:
    stripped = "2027-04-06 12:40 stripped gang-2/1"
    assert doubt(ready(NOON, POURED, TOLD, thumb("soft"), stripped)).beside == (("gang-2/01", "soft"),)


@pytest.mark.parametrize(("at", "behind"), [("09:24", True), ("09:25", False)])
def test_batches_of_one_mix_poured_within_the_hour_are_doubted_together(ready: Ready, at: str, behind: bool) -> None:
    extra = f"2027-04-05 {at} poured extra tray-1/1 on tray-1/b2 thin mix light"
    sides = "2027-04-05 09:00 sides tray-1/1"
    found = doubt(ready(NOON, POURED, sides, extra, TOLD, thumb("soft")), "tray-1/b02")
    assert bool(found.beside) is behind


def test_a_night_colder_than_forecast_asks_for_a_thumb(ready: Ready) -> None:
    assert doubt(ready(NOON, POURED, "2027-04-06 07:05 weather 9 21 yesterday")).air == "colder"
    assert doubt(ready(NOON, "2027-04-06 07:06 weather 9.5 21 yesterday")).air == ""


def test_air_told_so_warm_that_it_may_be_a_slip_asks_for_a_thumb(ready: Ready) -> None:
    assert doubt(ready(NOON, POURED, "2027-04-06 07:05 weather 50 58 yesterday")).air == "warmer"
    assert doubt(ready(NOON, "2027-04-06 07:06 weather 14 30 yesterday")).air == ""


def test_air_that_nobody_told_asks_for_a_thumb(ready: Ready) -> None:
    assert doubt(ready("2027-04-05 18:00", POURED)).air == ""
    assert doubt(ready(NOON)).air == "untold"


def test_air_may_yet_be_told_before_a_strip_of_another_day(ready: Ready) -> None:
    second = "2027-04-06 14:09 poured 2"
    evening = ready("2027-04-07 18:00", POURED, *STRIPPED, second).moulds[0]
    assert (evening.strip_from, evening.doubt.air) == (moment("2027-04-08T08:00"), "")
    assert ready("2027-04-08 08:00").moulds[0].doubt.air == "untold"


def test_one_firm_thumb_ends_the_doubt_of_the_air_for_its_batch(ready: Ready) -> None:
    assert doubt(ready(NOON, POURED, thumb("firm")), "tray-1/b01") == Doubt()


def test_moulds_that_the_site_has_no_more_are_doubted_no_longer(ready: Ready, small: AsPlanned) -> None:
    before = ready(NOON, POURED, TOLD, thumb("soft", "tray-1/1"), "2027-04-06 12:40 stripped tray-1/b1")
    assert doubt(before).beside == (("tray-1/b01", "soft"),)
    fewer = small.site.model_copy(update={"moulds": tuple(k for k in small.site.moulds if k.kind != "tray-1")})
    assert doubt(ready(NOON, plan=replace(small, site=fewer))) == Doubt()


def test_a_thumb_has_no_place_on_sheets_once_its_mould_is_stripped(ready: Ready, tmp_path: Path) -> None:
    def kept(*recorded: str) -> list[str]:
        ready(NOON, *recorded)
        with open_journal(tmp_path / FILE, read_only=True) as journal:
            return [test.mould for test in thumbs_standing(journal.entries())]

    assert kept(POURED, thumb("soft")) == ["gang-2/01"]
    assert kept("2027-04-06 12:40 stripped gang-2/1") == []
