"""What no single value of an order can see: names that do not meet, and marks with two sizes."""

from __future__ import annotations

from collections.abc import Iterator

from blockrun import units
from blockrun.errors import BadInput
from blockrun.files.text import did_you_mean
from blockrun.files.yaml import Document
from blockrun.order.drawings import DrawingPart
from blockrun.order.lists import BlockList, ListRow
from blockrun.order.model import ListPart, OrderFile, WrittenPart
from blockrun.order.parts import mix_of


def find_faults(order: OrderFile, document: Document) -> Iterator[BadInput]:
    """Every fault between the values of an order, placed in its file or in the block list it stands in."""
    yield from _doubled_names(order, document)
    yield from _mixes(order, document)
    yield from _parts_of_rows(order)
    yield from _marks(order)


def _doubled_names(order: OrderFile, document: Document) -> Iterator[BadInput]:
    groups: dict[str, list[list[str | None]]] = {
        "mixes": [[mix.name] for mix in order.mixes],
        "parts": [_names(part) for part in order.parts],
    }
    for group, named in groups.items():
        taken: set[str | None] = set()
        for index, names in enumerate(named):
            doubled = next((name for name in names if name and name in taken), None)
            if doubled:
                fault = BadInput(f"two {group} are called {doubled}", "Give each its own name.", name="name")
                yield document.place(fault, (group, index, "name"))
            taken.update(names)


def _names(part: WrittenPart) -> list[str | None]:
    return [wall.name for wall in part.walls] if isinstance(part, DrawingPart) else [part.name]


def _parts_of_rows(order: OrderFile) -> Iterator[BadInput]:
    """Rows of lists that would be counted with the blocks of a wall or a dome."""
    laid_out = {name for part in order.parts if not isinstance(part, ListPart) for name in _names(part)}
    for blocks in (part.blocks for part in order.parts if isinstance(part, ListPart)):
        for row in blocks.rows:
            if row.part is not None and row.part in laid_out:
                what = f"a part that is laid out from its measures is called {row.part} too"
                fault = BadInput(what, "Give one of the two another name.", name="part", value=row.part)
                yield _place(fault, blocks, row, "part")


def _mixes(order: OrderFile, document: Document) -> Iterator[BadInput]:
    known = [mix.name for mix in order.mixes]
    for index, part in enumerate(order.parts):
        if part.mix is not None and part.mix not in known:
            fault = BadInput(f"there is no mix {part.mix}", did_you_mean(part.mix, known), name="mix")
            yield document.place(fault, ("parts", index, "mix"))
        if isinstance(part, ListPart):
            yield from _mixes_of_rows(order, part, known)
        elif not mix_of(None, part, order):
            what = "no mix is named, and the order has several"
            fault = BadInput(what, f"Write mix: with one of {', '.join(known)}.", name="mix")
            yield document.place(fault, ("parts", index, "mix"))


def _mixes_of_rows(order: OrderFile, part: ListPart, known: list[str]) -> Iterator[BadInput]:
    for row in part.blocks.rows:
        if row.mix is not None and row.mix not in known:
            fault = BadInput(f"there is no mix {row.mix}", did_you_mean(row.mix, known), name="mix")
            yield _place(fault, part.blocks, row, "mix")
        elif not mix_of(row, part, order):
            fault = BadInput(
                "no mix is named, and the order has several", f"Write one of {', '.join(known)}.", name="mix"
            )
            yield _place(fault, part.blocks, row, "mix")


def _marks(order: OrderFile) -> Iterator[BadInput]:
    first: dict[str, tuple[BlockList, ListRow]] = {}
    for blocks in (part.blocks for part in order.parts if isinstance(part, ListPart)):
        for row in blocks.rows:
            other_blocks, other = first.setdefault(row.mark, (blocks, row))
            if (row.shape, row.role) == (other.shape, other.role):
                continue
            if row.size_mm == other.size_mm:
                fault = BadInput(
                    f"mark {row.mark} stands for blocks that lean or serve otherwise",
                    "Give one of them another mark.",
                    name="mark",
                    value=row.mark,
                )
                yield _place(fault, blocks, row, "mark")
                continue
            system = _system(blocks)
            here, there = units.show_size(*row.size_mm, system), units.show_size(*other.size_mm, system)
            where = f" in row {other.place.number} of {other_blocks.reference}" if other.place else ""
            what = f"mark {row.mark} is {here} here and {there}{where}"
            fault = BadInput(what, "Give one of the two sizes another mark.", name="mark", value=row.mark)
            yield _place(fault, blocks, row, "mark")


def _system(blocks: BlockList) -> str:
    """The units that the sides of a list are written in."""
    columns = blocks.table.columns if blocks.table else ()
    return "US" if any(column.endswith(("_in", "_ft", "_yd")) for column in columns) else "SI"


def _place(fault: BadInput, blocks: BlockList, row: ListRow, column: str) -> BadInput:
    return blocks.table.place(fault, row.place, column) if blocks.table and row.place else fault
