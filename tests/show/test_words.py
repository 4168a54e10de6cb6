from datetime import date, datetime

import pytest

from blockrun.show.words import moment_before, named_together
from blockrun.units import listed


@pytest.mark.parametrize(
    ("moment", "said"),
    [("2027-04-08T05:10", "05:10"), ("2027-04-02T22:10", "Fri 22:10"), ("2027-04-01T22:10", "Thu 1 Apr")],
)
def test_a_moment_is_said_as_short_as_it_is_clear(moment: str, said: str) -> None:
    assert moment_before(datetime.fromisoformat(moment), date(2027, 4, 8)) == said


@pytest.mark.parametrize(
    ("words", "said"), [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")]
)
def test_lists_end_in_and(words: list[str], said: str) -> None:
    assert listed(words) == said


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (["gang-4/02", "gang-4/01", "gang-4/03"], "gang-4/01-03"),
        (["gang-4/01", "gang-4/03", "gang-4/04"], "gang-4/01, gang-4/03-04"),
        (["tray-3/b07", "tray-3/b08"], "tray-3/b07-08"),
        (["gang-4/99", "gang-4/100"], "gang-4/99-100"),
        (["gang-4/01", "gang-6/02"], "gang-4/01, gang-6/02"),
        (["gang-4/01", "gang-4/01"], "gang-4/01"),
        (["east", "west"], "east, west"),
    ],
)
def test_numbered_names_are_said_together(names: list[str], said: str) -> None:
    assert named_together(names) == said
