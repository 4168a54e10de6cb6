"""Every command that a message tells somebody to type is one that can be typed so."""

from __future__ import annotations

import ast
import re
import shlex
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Final

import pytest
from typer.core import TyperGroup
from typer.main import get_command

import blockrun
from blockrun.cli import app

PACKAGE: Final = Path(blockrun.__file__).parent
GROUP: Final = get_command(app)
assert isinstance(GROUP, TyperGroup)
FILLED_IN: Final = "X"
"""In place of what is only known when the message is written."""
ABOUT: Final = ("says", "lists")
"""Words after the name of a command that tell what it does."""


def text_of(node: ast.AST) -> str | None:
    """Words of a string as it is printed, or of a list of words that is joined for a shell."""
    if isinstance(node, ast.Constant):
        return node.value if isinstance(node.value, str) else None
    if isinstance(node, ast.JoinedStr):
        return "".join(text_of(part) or FILLED_IN for part in node.values)
    if isinstance(node, ast.Call) and ast.unparse(node.func) == "shlex.join" and isinstance(node.args[0], ast.List):
        return ": " + " ".join(text_of(word) or FILLED_IN for word in node.args[0].elts)
    return None


def texts(node: ast.AST) -> Iterator[str]:
    """All of them in a tree, each as a whole."""
    text = text_of(node)
    if text is not None:
        yield text
        return
    for child in ast.iter_child_nodes(node):
        yield from texts(child)


def commands_in(text: str) -> Iterator[str]:
    """What stands after a colon up to the end of its sentence, and what says nothing but a command."""
    starts = [at.start() for at in re.finditer(r"(?<![^ ])blockrun [a-z]+\b", text)]
    for start, end in pairwise([*starts, len(text)]):
        command = re.split(r"[;,.)](?: |$)| \(| > |\n", text[start:end])[0]
        name, *words = command.split()[1:]
        if text[:start].endswith(": ") or (not start and name in COMMANDS):
            yield f"blockrun {name} --help" if words[:1] and words[0] in ABOUT else command


def sources() -> Iterator[tuple[str, str]]:
    """Path and text of files that may name a command: most do not, and reading them as a tree would take long."""
    for path in PACKAGE.rglob("*.py"):
        source = path.read_text(encoding="utf-8")
        if re.search("blockrun[ \"']", source):
            yield str(path.relative_to(PACKAGE)), source


COMMANDS: Final = frozenset(command.__name__ for command in blockrun.cli.COMMANDS)
NAMED: Final = sorted(
    {
        (path, command)
        for path, source in sources()
        for text in texts(ast.parse(source))
        for command in commands_in(text)
    }
)


def test_commands_of_all_rooms_are_found() -> None:
    assert {path.split("/")[0] for path, _ in NAMED} >= {"cli", "planner", "show", "yard"}
    assert len(NAMED) > len(COMMANDS)


@pytest.mark.parametrize(("path", "command"), NAMED)
def test_a_command_that_is_printed_can_be_typed_so(path: str, command: str) -> None:
    name, *words = shlex.split(command)[1:]
    assert name in COMMANDS, path
    if words != ["--help"]:
        GROUP.commands[name].make_context(name, words)
