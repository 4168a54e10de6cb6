"""In a yard of US units all that is typed in them is read, and all figures are said back in them."""

from __future__ import annotations

import pytest

from blockrun.errors import BadInput
from blockrun.yard.journal.events import Crushed
from blockrun.yard.record.known import Measured
from blockrun.yard.record.recorder import Recorded, Recorder, Typed

MONDAY, LATER = "2027-04-05 08:24", "2027-04-13 14:00"


def told(recorder: Recorder, words: str, at: str = LATER, **measured: str) -> Recorded:
    return recorder.record(Typed(tuple(words.split()), words, at, measured=Measured(**measured)))


@pytest.fixture
def poured(in_us: Recorder) -> Recorder:
    told(in_us, "poured 1", MONDAY)
    return in_us


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("weather 29degF 58degF 2027-04-12", "air of Mon 12 Apr: 29 to 58 degF."),
        ("counted agent 3gal", "counted 3 gal of foaming agent, "),
        ("delivered sand 500lb", "delivered 500 lb of sand, "),
        ("test cube 1 3000lbf 4x4in 9d", "crushed at 3000 lbf, 4 x 4 in, 9 d old: 188 psi"),
        ("test cube 1 3000lb 4in 9d 37lb/ft3", "crushed at 3000 lbf, 4 x 4 in, 9 d old: 188 psi, "),
        ("test cube 1 190psi 4in 9d", "crushed at 3040 lbf, 4 x 4 in, 9 d old: 190 psi"),
    ],
)
def test_what_was_measured_is_said_back(poured: Recorder, words: str, said: str) -> None:
    assert said in told(poured, words).said[0]


def test_a_press_that_shows_megapascals_tells_the_load_by_the_size(poured: Recorder) -> None:
    (entry,) = told(poured, "test cube 1 1.3MPa 100mm 9d").entries
    assert isinstance(entry.event, Crushed)
    assert entry.event.load_kn == pytest.approx(13)


def test_foam_and_mix_and_what_is_far_from_the_card(in_us: Recorder) -> None:
    found = told(in_us, "poured 1", MONDAY, foam="4.5lb/ft3", weight="75lb/ft3", temperature="130degF")
    assert "foam 4.5 lb/ft3, wet density 75 lb/ft3, 130 degF" in found.said[0]
    mix, foam, wet = found.warnings
    assert "the mix is told at 130 degF, and a fresh mix has 32 to 113 degF" in mix
    assert "the foam weighs 4.5 lb/ft3, and by the card it is to weigh 5.575 to 6.286 lb/ft3" in foam
    assert "lb/ft3, and by the card" in wet
    assert "kg" not in " ".join(found.warnings)


def test_a_load_that_no_cube_bears(poured: Recorder) -> None:
    (doubt,) = told(poured, "test cube 1 90000lbf 4in 8d").warnings
    assert "5625 psi is hardly possible" in doubt
    assert "MPa" not in doubt


def test_degrees_the_wrong_way_round(in_us: Recorder) -> None:
    with pytest.raises(BadInput, match="the least, 60 degF, is over the most, 40 degF"):
        told(in_us, "weather 60degF 40degF")
