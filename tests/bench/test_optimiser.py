"""The command writes its two tables, whoever comes to an end in the time given."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from tests.bench.optimiser import main


def test_each_player_has_a_row_in_both_tables(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    quick = ["--seconds", "20", "--plan-seconds", "1", "--rivals", "foreman"]
    main(["--sizes", "week", "--seeds", "4", *quick, "--out", str(tmp_path)])
    with (tmp_path / "optimiser.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert [(row["yard"], row["player"]) for row in rows] == [("week-tight-4", "blockrun"), ("week-tight-4", "foreman")]
    assert rows[1]["plan"] == "yes"
    assert float(rows[1]["cpu_s"]) > 0
    assert (tmp_path / "optimiser.md").read_text(encoding="utf-8") in capsys.readouterr().out


def test_an_unknown_rival_is_refused_by_name(tmp_path: Path) -> None:
    with pytest.raises(SystemExit, match="no rival is called genius"):
        main(["--rivals", "genius", "--out", str(tmp_path)])
    assert not list(tmp_path.iterdir())
