"""A list of blocks that reads back as it was written."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from typer.testing import CliRunner

from blockrun import load_order, load_site
from blockrun.cli import app
from blockrun.order import BlockList, ListPart, ListRow, MixSpec, Order, takeoff
from blockrun.show.takeoff import takeoff_list
from tests.yards import a_yard

ORDER = """\
order: again
mixes:
{mixes}
parts:
  - list: again.csv
"""
MIXES = "  - {{name: {0}, oven_dry_density: 600 kg/m3, slurry_water_cement: 0.50}}"


def read_back(text: str, folder: Path, *mixes: str) -> Order:
    (folder / "again.csv").write_text(text, encoding="utf-8")
    (folder / "again.yaml").write_text(ORDER.format(mixes="\n".join(map(MIXES.format, mixes))), encoding="utf-8")
    return load_order(folder / "again.yaml")


@pytest.mark.parametrize("seed", range(6))
def test_what_is_written_reads_back_unchanged(seed: int, tmp_path: Path) -> None:
    yard = a_yard(seed)
    again = read_back(takeoff_list(yard.order, yard.site), tmp_path, *(mix.name for mix in yard.order.mixes))
    assert takeoff(again) == takeoff(yard.order, yard.site.calendar)


@given(st.floats(260, 9000), st.floats(0, 30), st.sampled_from(["", "top sloped, 300 to 120 mm"]))
def test_leaning_and_cut_blocks_read_back_unchanged(
    tmp_path_factory: pytest.TempPathFactory, length: float, lean: float, cut: str
) -> None:
    row = ListRow("A", round(length, 6), 300.0, 200.0, 3, bevel_deg=round(lean, 6), cut=cut, role="lintel")
    mix = MixSpec(name="wall", oven_dry_density_kg_m3=600.0, slurry_water_cement=0.5)
    order = Order(name="o", mixes=(mix,), parts=(ListPart(blocks=BlockList("b.csv", (row,))),))
    again = read_back(takeoff_list(order), tmp_path_factory.mktemp("list"), "wall")
    assert takeoff(again) == takeoff(order)


def test_with_the_site_a_list_has_the_masses_as_poured(small_folder: Path) -> None:
    inputs = small_folder / "inputs"
    order, site = load_order(inputs / "order.yaml"), load_site(inputs / "site.yaml")
    assert "wet_mass_kg" not in takeoff_list(order)
    header, first, *_ = takeoff_list(order, site).splitlines()
    row = dict(zip(header.split(","), first.split(","), strict=True))
    # 36 L of a mix that holds more water wet than dry
    assert float(row["volume_l"]) == pytest.approx(36)
    assert float(row["wet_mass_kg"]) > float(row["dry_mass_kg"]) == pytest.approx(36 * 0.6)


def test_a_list_is_written_once_and_replaced_when_asked(small_folder: Path, tmp_path: Path) -> None:
    words = ["takeoff", str(small_folder / "inputs" / "order.yaml"), "--out", str(tmp_path / "list.csv")]
    assert CliRunner().invoke(app, words).exit_code == 0
    again = CliRunner().invoke(app, words)
    assert again.exit_code == 2
    assert "exists already" in " ".join(again.output.split())
    assert CliRunner().invoke(app, [*words, "--replace"]).exit_code == 0


def test_a_row_of_totals_is_refused_by_its_name(tmp_path: Path) -> None:
    text = "mark,length_mm,height_mm,thickness_mm,count\nA,600,300,200,3\nTotal:,600,300,200,3\n"
    with pytest.raises(ValueError, match=r"(?s)again\.csv:3:1.*looks like the name of a row of totals"):
        read_back(text, tmp_path, "wall")
