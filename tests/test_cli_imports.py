"""Commands, and processes beside them, import their own work only: what is heavy waits until it is used."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Final

import pytest

ROOT: Final = Path(__file__).parent.parent
INPUTS: Final = "tests/plans/small/inputs/site.yaml tests/plans/small/inputs/order.yaml"


def test_help_imports_nothing_heavy() -> None:
    script = (
        "import sys\nfrom blockrun.cli import main\nsys.argv = ['blockrun', '--help']\n"
        "try:\n    main()\nexcept SystemExit:\n    print(' '.join({name.split('.')[0] for name in sys.modules}))"
    )
    shown = subprocess.run([sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    imported = set(shown.splitlines()[-1].split())
    assert "typer" in imported
    assert not imported & {"ortools", "pandas", "pydantic", "pint", "numpy", "ruamel"}


@pytest.mark.parametrize("module", ["blockrun", "blockrun.__main__"])  # the latter is loaded by all processes beside
def test_importing_the_package_imports_nothing_heavy(module: str) -> None:
    script = f"import sys, {module}\nprint(' '.join({{name.split('.')[0] for name in sys.modules}}))"
    shown = subprocess.run([sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    assert not set(shown.split()) & {"ortools", "pandas", "pydantic", "pint", "numpy", "typer", "rich"}


@pytest.mark.parametrize("module", ["blockrun.planner.guard", "blockrun.planner.saw_plans"])
def test_what_asks_for_a_plan_imports_nothing_that_solves(module: str) -> None:
    script = f"import sys, {module}\nprint('ortools' in sys.modules)"
    shown = subprocess.run([sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    assert shown.split() == ["False"]


@pytest.mark.parametrize(
    ("words", "kept_out"),
    [
        ("takeoff tests/plans/small/inputs/order.yaml", {"ortools", "pandas"}),
        (f"mix {INPUTS}", {"ortools", "pandas", "numpy", "scipy", "pint"}),
        ("check tests/plans/small --batch 1 --weight 8.6kg", {"ortools", "pandas", "numpy", "scipy"}),
        (f"check {INPUTS} --mix light --bags 2 --foam 99g/L", {"ortools", "pandas", "numpy", "scipy"}),
        (f"trial {INPUTS} --mix light --weight 8.6kg", {"ortools", "pandas", "numpy", "scipy"}),
        ("chart configs/batches.csv", {"ortools", "pandas", "numpy", "scipy"}),
        ("schema site", {"ortools", "pandas"}),
        ("days tests/plans/small", {"ortools"}),
        ("why tests/plans/small", {"ortools"}),
        ("audit tests/plans/small", {"ortools"}),
        ("materials tests/plans/small", {"ortools"}),
        ("thumb tests/plans/small", {"ortools"}),
        ("record tests/plans/small stripped gang-2/1", {"ortools", "pandas", "numpy", "scipy"}),
        ("learn tests/plans/small", {"ortools", "pandas", "scipy"}),
        ("ready tests/plans/small", {"ortools", "pandas", "scipy"}),
        ("status tests/plans/small", {"ortools", "pandas", "scipy"}),
    ],
)
def test_a_command_imports_its_own_work_only(words: str, kept_out: set[str]) -> None:
    script = (
        "import sys\nfrom blockrun.cli import main\n"
        "try:\n    main()\nexcept SystemExit:\n    print(' '.join({name.split('.')[0] for name in sys.modules}))"
    )
    command = [sys.executable, "-c", script, *words.split()]
    shown = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout
    assert not set(shown.splitlines()[-1].split()) & kept_out


def test_a_check_in_the_yard_waits_for_no_wall_and_no_dome() -> None:
    script = (
        "import sys\nfrom blockrun.cli import main\n"
        "try:\n    main()\nexcept SystemExit:\n    print(' '.join(sys.modules))"
    )
    command = [sys.executable, "-c", script, "check", "tests/plans/small", "--batch", "1", "--weight", "8.1kg"]
    shown = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout
    imported = set(shown.splitlines()[-1].split())
    assert "blockrun.mix.check" in imported
    assert not imported & {
        "blockrun.order.model",
        "blockrun.order.walls",
        "blockrun.order.domes",
        "blockrun.planner.tables",
    }
