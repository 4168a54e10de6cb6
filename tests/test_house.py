"""The rooms of the house: who may import whom, what stays out of which room, and the map of them."""

from __future__ import annotations

import ast
import re
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

PACKAGE: Final = Path(__file__).parent.parent / "blockrun"

MAY_IMPORT: Final[dict[str, set[str]]] = {
    "errors": set(),
    "units": {"errors"},
    "files": {"units", "errors"},
    "site": {"files", "units", "errors"},
    "order": {"site", "files", "units", "errors"},
    "mix": {"site", "files", "units", "errors"},
    "cure": {"site", "files", "units", "errors"},
    "optimiser": {"errors"},
    "planner": {"optimiser", "order", "mix", "cure", "site", "files", "units", "errors"},
    "show": {"planner", "optimiser", "order", "mix", "cure", "site", "files", "units", "errors"},
    "yard": {"planner", "optimiser", "order", "mix", "cure", "site", "files", "units", "errors"},
    "terminal": {"planner", "errors"},
    "__main__": {"cli"},
    "cli": {
        "terminal",
        "show",
        "yard",
        "planner",
        "optimiser",
        "order",
        "mix",
        "cure",
        "site",
        "files",
        "units",
        "errors",
    },
}
"""Rooms to the right of each room; ``terminal`` is the part of the command line around its commands."""

TOP: Final = "blockrun"
"""The package itself: its lazy names reach every room, its version may be read from anywhere."""

OWNED: Final = {
    "ortools": "optimiser",
    "typer": "cli terminal",
    "rich": "cli terminal show",
    "scipy": "cure",
    "distributed": "yard",
    "icalendar": "show",
    "typst": "show",
    "xlsxwriter": "show",
}
"""Libraries that only the rooms named may import."""

WITHOUT_CHANCE: Final = {"random.Random", "uuid.UUID", "uuid.uuid5"}
"""What libraries of chance have that asks for a seed, or for the words that it makes a name of."""

CLOCKS: Final = {
    "time.time", "time.monotonic", "time.perf_counter", "time.process_time", "time.sleep", "datetime.now",
    "datetime.today", "datetime.utcnow", "date.today", "datetime.datetime.now", "datetime.date.today",
}  # fmt: skip
HARMLESS: Final = {0, 1, 2, 3, 20, 60}
MAPPED: Final = [
    "order/walls", "order/domes", "optimiser/sawing", "optimiser/exact", "optimiser/quick",
    "planner/begun", "planner/why", "planner/whatif", "planner/risk", "planner/thumbs",
    "show/batch",
    "yard", "yard/journal", "yard/record", "yard/now", "yard/ready", "yard/status", "yard/learn", "yard/replan",
]  # fmt: skip
"""Rooms with a map of their own in their first files."""
ABOVE: Final = {"__main__", "cli", "terminal"}
"""Rooms that may print, read the clock and the environment."""


def files() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


def room_of(path: Path) -> str:
    parts = path.relative_to(PACKAGE).parts
    return TOP if parts == ("__init__.py",) else parts[0].removesuffix(".py")


def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def imported(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Line and dotted name of everything imported, wherever in the file."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"line {node.lineno}: a relative import hides its room"
            yield from ((node.lineno, f"{node.module}.{alias.name}") for alias in node.names)


def rooms_imported(path: Path) -> Iterator[tuple[int, str]]:
    for line, name in imported(tree_of(path)):
        package, *rest = name.split(".")
        if package == TOP and rest != ["__version__"]:
            yield line, rest[0] if rest else TOP


def dotted(node: ast.expr) -> str:
    if isinstance(node, ast.Name):
        return node.id
    return f"{dotted(node.value)}.{node.attr}" if isinstance(node, ast.Attribute) else ""


def calls(path: Path) -> Iterator[tuple[int, str]]:
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Call):
            yield node.lineno, dotted(node.func)


def wrong_arrows(rooms: dict[Path, str]) -> list[str]:
    return [
        f"{path.relative_to(PACKAGE)}:{line}: {room} imports {other}"
        for path, room in rooms.items()
        if room != TOP
        for line, other in rooms_imported(path)
        if other != room and other not in MAY_IMPORT[room]
    ]


def test_every_room_is_known() -> None:
    assert {room_of(path) for path in files()} <= {*MAY_IMPORT, TOP}


def test_every_file_that_the_map_names_is_there() -> None:
    text = (PACKAGE.parent / "DEVELOPERS.md").read_text(encoding="utf-8")
    named = set(re.findall(r"`(?:blockrun/)?((?:\w+/)*\w+\.py)`", text))
    assert len(named) > 50
    beside = (path for pattern in ("*.py", "tests/**/*.py") for path in PACKAGE.parent.glob(pattern))
    there = [str(path.relative_to(PACKAGE.parent)) for path in (*files(), *beside)]
    assert [name for name in sorted(named) if not any(f"/{path}".endswith(f"/{name}") for path in there)] == []


def in_tables() -> dict[str, set[str]]:
    """Modules by the room in whose table of DEVELOPERS.md they have a line."""
    found: dict[str, set[str]] = defaultdict(set)
    room = ""
    for line in (PACKAGE.parent / "DEVELOPERS.md").read_text(encoding="utf-8").splitlines():
        if line.startswith("#"):
            room = "optimiser" if line == "### Inside the optimiser" else ""
        elif room != "optimiser" and (heading := re.match(r"\| \*\*(\w+)", line)):
            room = heading[1]
        if line.startswith("|"):
            found[room] |= set(re.findall(r"`(\w+)\.py`", line))
    return found


def modules_in(folder: Path) -> set[str]:
    return {path.stem for path in folder.glob("*.py")} - {"__init__"}


@pytest.mark.parametrize("room", ["planner", "mix", "cure", "site", "optimiser"])
def test_every_module_has_a_line_in_the_table_of_its_room(room: str) -> None:
    assert modules_in(PACKAGE / room) - in_tables()[room] == set()


def in_map(room: str) -> set[str]:
    """Modules that the first file of a room names: ``name.py``, or its bare name in backticks."""
    text = ast.get_docstring(tree_of(PACKAGE / room / "__init__.py")) or ""
    return {one or other for one, other in re.findall(r"\b(\w+)\.py\b|`(\w+)`", text)}


@pytest.mark.parametrize("room", MAPPED)
def test_every_module_has_a_line_in_the_map_of_its_room(room: str) -> None:
    assert modules_in(PACKAGE / room) - in_map(room) == set()


def test_rooms_import_only_what_stands_to_their_right() -> None:
    assert wrong_arrows({path: room_of(path) for path in files()}) == []


def test_a_wrong_arrow_would_be_found() -> None:
    path = PACKAGE / "planner" / "plan.py"
    assert any("imports site" in arrow for arrow in wrong_arrows({path: "optimiser"}))


def test_the_audit_imports_no_part_of_the_optimiser() -> None:
    audit = sorted((PACKAGE / "planner" / "audit").rglob("*.py"))
    own = "blockrun.planner.audit"
    allowed = ("blockrun.order", "blockrun.mix", "blockrun.cure", "blockrun.site", "blockrun.units", "blockrun.errors",
               "blockrun.planner.columns", "blockrun.planner.tables", "blockrun.planner.begun.facts", own)  # fmt: skip
    strange = [
        f"{path.name}:{line}: {name}"
        for path in audit
        for line, name in imported(tree_of(path))
        if name.split(".")[0] == TOP and not name.startswith(allowed)
    ]
    assert audit
    assert strange == []


@pytest.mark.parametrize("library", sorted(OWNED))
def test_a_library_is_imported_only_where_it_belongs(library: str) -> None:
    homes = OWNED[library].split()
    found = {room_of(path) for path in files() for _, name in imported(tree_of(path)) if name.split(".")[0] == library}
    assert found
    assert found <= set(homes)


def test_what_the_tests_alone_need_is_not_imported() -> None:
    found = {name.split(".")[0] for path in files() for _, name in imported(tree_of(path))}
    assert "numpy" in found
    assert not found & {"pint", "hypothesis", "pytest", "shapely", "syrupy", "playwright", "pypdfium2", "PIL"}


def test_nothing_below_the_command_line_prints_or_reads_the_clock() -> None:
    forbidden = CLOCKS | {"print", "input", "sys.stdout.write", "sys.stderr.write"}
    found = [
        f"{path.relative_to(PACKAGE)}:{line}: {name}"
        for path in files()
        if room_of(path) not in ABOVE
        for line, name in calls(path)
        if name in forbidden
    ]
    assert found == []


def test_days_are_named_alike_in_every_locale() -> None:
    asked = re.compile(r":[^{}]*%[aAbBcpxX]|strftime|calendar\.(day|month)_")
    assert [str(path.relative_to(PACKAGE)) for path in files() if asked.search(path.read_text(encoding="utf-8"))] == []


def test_nothing_below_the_command_line_imports_the_clock_or_unseeded_chance() -> None:
    found = [
        f"{path.relative_to(PACKAGE)}:{line}: {name}"
        for path in files()
        if room_of(path) not in ABOVE
        for line, name in imported(tree_of(path))
        if name.split(".")[0] in {"time", "random", "secrets", "uuid"} and name not in WITHOUT_CHANCE
    ]
    assert found == []


def test_every_source_of_chance_is_given_a_seed() -> None:
    unseeded = [
        f"{path.relative_to(PACKAGE)}:{node.lineno}"
        for path in files()
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Random" and not node.args
    ]
    assert unseeded == []


def test_the_command_line_holds_no_rule_of_the_trade() -> None:
    """Its numbers are exit codes, time limits and decimals; it imports no room that holds rules."""
    commands = [path for path in files() if room_of(path) == "cli"]
    assert {path.name for path in commands} >= {"making.py", "saved.py", "order.py", "yard.py"}
    numbers = [
        f"{path.name}:{node.lineno}: {node.value}"
        for path in commands
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.Constant)
        and type(node.value) in {int, float}
        and node.value not in {0, 1, 2, 3, 24, 60}
    ]
    assert numbers == []
    rooms = {name for path in commands for _, name in rooms_imported(path)}
    assert not rooms & {"mix", "cure", "optimiser"}
