"""A small yard as files, and a way to spoil it."""

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.site import Site, load_site

YARD = """\
site: Test yard
units: SI
calendar:
  start: 2027-04-05
  workdays: [mon, tue, wed, thu, fri, sat]
  hours: 07:30-16:30
  breaks: [12:00-12:30]
  closed: [2027-04-16]
  set_up: 30 min
  close_down: 30 min
  last_foam: 15:30
mixers:
  - name: drum
    usable_volume: 220 L
    least_volume: 80 L
    bag_step: 1/2
    slurry_time: 10 min
    foam_time: 4 min
    pour_time: 10 min
    wash_time: 4 min
    left_behind: 4 L
    crew: 3
foam_generator: {rate: 60 L/min, foam_density: 95 g/L, agent_dilution: 1:40}
pour_life: 25 min
overfill: 3 %
moulds:
  - kind: gang-4
    count: 6
    cavities: 4
    cavity: 600 x 300 x 200 mm
    stop_ends: true
    wedges: [0 deg]
    strip_time: 12 min
    clean_time: 12 min
    bases: 10
    sides_off_at: 18 h
    sides_time: 6 min
racks:
  - {name: east, places: 120}
move_time: 1 min
curing:
  strip_at: 24 h
  rack_for: 7 d
  lay_at: 28 d
  least_air: 5 degC
crew: {people: 3, away: [{day: 2027-04-14, people: 1}]}
chores: [{chore: wet the rack, at: [08:30, 15:00], time: 10 min, people: 1}]
stock:
  cement: {bag: 25 kg, on_hand: 160, deliveries: [{day: 2027-04-12, bags: 80}], price: 6.10}
  foaming_agent: {on_hand: 20 L, deliveries: [{day: 2027-04-20, volume: 10 L}], price: 9.50}
weather: weather.csv
"""

Edit = tuple[str, str]


def edited(text: str, edits: tuple[Edit, ...]) -> str:
    """The text with each old part, which must be there, changed for the new one."""
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    return text


@pytest.fixture
def yard(tmp_path: Path) -> Callable[..., Site]:
    """Load the yard above, with edits (old, new) made to its text first."""
    days = [date(2027, 4, 5) + timedelta(days=n) for n in range(14)]
    rows = "".join(f"{day},{n},{n + 10}\n" for n, day in enumerate(days))
    (tmp_path / "weather.csv").write_text("date,min_degC,max_degC\n" + rows)

    def load(*edits: Edit) -> Site:
        (tmp_path / "yard.yaml").write_text(edited(YARD, edits))
        return load_site(tmp_path / "yard.yaml")

    return load


@pytest.fixture
def refusal(yard: Callable[..., Site]) -> Callable[..., BadInput]:
    """Load the yard with edits that must be refused; gives the error."""

    def refuse(*edits: Edit) -> BadInput:
        with pytest.raises(BadInput) as caught:
            yard(*edits)
        return caught.value

    return refuse
