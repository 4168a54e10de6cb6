"""The audit shares no code with what makes plans: it may read their tables, and nothing else of the planner."""

import ast
from pathlib import Path

import blockrun.planner.audit
from blockrun.planner.audit.finding import rule_name
from blockrun.planner.audit.rules import HAPPENED, NAMES, RULES

FILES = sorted(Path(blockrun.planner.audit.__file__).parent.rglob("*.py"))


def imported() -> set[str]:
    nodes = [node for path in FILES for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))]
    modules = {node.module for node in nodes if isinstance(node, ast.ImportFrom) and node.module}
    return modules | {alias.name for node in nodes if isinstance(node, ast.Import) for alias in node.names}


def test_the_audit_imports_nothing_of_the_search_or_the_planner_but_what_it_judges():
    forbidden = {name for name in imported() if name.startswith(("blockrun.optimiser", "blockrun.planner", "ortools"))}
    assert {name for name in forbidden if not name.startswith("blockrun.planner.audit")} == {
        "blockrun.planner.columns",
        "blockrun.planner.tables",
        "blockrun.planner.begun.facts",
    }


def test_the_audit_counts_working_time_itself():
    source = "\n".join(path.read_text(encoding="utf-8") for path in FILES)
    assert "calendar.windows" not in source
    assert "next_working" not in source


def test_every_rule_has_a_name_of_its_own_and_says_itself():
    names = [rule_name(rule) for rule in (*NAMES, *HAPPENED, *RULES)]
    assert len(set(names)) == len(names)
    assert all(rule.__doc__ for rule in (*NAMES, *HAPPENED, *RULES))
