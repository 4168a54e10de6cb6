"""Ground for blocks off the rack, as a site file gives it."""

from collections.abc import Callable

import pytest

from blockrun.errors import BadInput
from blockrun.site import Site, Stack, digest_site, site_schema

AFTER = "move_time: 1 min"


def with_stack(text: str) -> tuple[str, str]:
    return (AFTER, f"stack: {text}\n{AFTER}")


def test_a_yard_has_ground_for_all_blocks_unless_told(yard: Callable[..., Site]) -> None:
    assert yard().stack is None
    assert yard(with_stack("{places: 12, layers: 4}")).stack == Stack(places=12, layers=4)


def test_a_stack_counts_in_the_digest_and_none_does_not(yard: Callable[..., Site]) -> None:
    few, more = (digest_site(yard(with_stack(f"{{places: {n}, layers: 4}}"))) for n in (12, 13))
    assert len({few, more, digest_site(yard())}) == 3


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{places: 0, layers: 4}", "yard.yaml:40:17: places: 0 is out of range; it must be at least 1"),
        ("{places: 12, layers: 1.5}", "yard.yaml:40:29: layers: 1.5 is not a whole number"),
        ("{places: 12}", "layers is missing"),
        ("{places: 12, layer: 4}", "did you mean layers"),
        ("12", "a mapping is due"),
    ],
)
def test_a_stack_that_cannot_be_is_refused_at_its_place(refusal: Callable[..., BadInput], text: str, said: str) -> None:
    shown = str(refusal(with_stack(text)))
    assert said.lower() in shown.lower()
    assert "yard.yaml:40:" in shown


def test_editors_are_told_of_the_stack() -> None:
    assert set(site_schema()["$defs"]["Stack"]["required"]) == {"places", "layers"}
