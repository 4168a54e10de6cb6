"""What is to be built, as its file describes it."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Annotated, Any, Final

from pydantic import Discriminator, Field, PrivateAttr, Tag, ValidationInfo

from blockrun.errors import BadInput
from blockrun.files.text import References
from blockrun.files.yaml import read_yaml
from blockrun.order.domes import DomePart
from blockrun.order.drawings import DrawingPart
from blockrun.order.lists import BlockList, read_block_list
from blockrun.order.mixes import MixSpec
from blockrun.order.need import Need
from blockrun.order.walls import WallPart
from blockrun.site.fields import ExactPercent, Flag, Name
from blockrun.site.file_model import FileModel
from blockrun.site.written import Named


def _find(reference: str, info: ValidationInfo) -> BlockList:
    if not isinstance(info.context, References):
        raise BadInput(f"{reference} is named outside a file", "Build a BlockList of rows.")
    return read_block_list(reference, info.context)


class ListPart(FileModel):
    """A part of the order given as a list of blocks."""

    blocks: Annotated[BlockList, Named("a block list", "blocks.csv", BlockList, _find)] = Field(
        alias="list",
        description="A CSV or XLSX file: mark,length_mm,height_mm,thickness_mm,count,mix,course,needed",
    )
    name: Name | None = Field(
        default=None, examples=["north wall"], description="What to call it; the file's name unless told"
    )
    mix: Name | None = Field(default=None, examples=["wall"], description="The mix of rows that name none")
    needed: Need | None = Field(default=None, description="For rows with a course and no date of their own")


Part = ListPart | WallPart | DomePart
"""What an order holds, once its drawings are read."""

KINDS: Final[dict[str, type[FileModel]]] = {
    "list": ListPart,
    "wall": WallPart,
    "dome": DomePart,
    "drawing": DrawingPart,
}
"""First keys of the parts of an order file; each names the part, or the file it is in."""


def _kind(given: Any) -> str | None:
    """The tag of the model that reads a part."""
    for kind, model in KINDS.items():
        if isinstance(given, model) or (isinstance(given, dict) and kind in given):
            return f"<{kind}>"
    return None


WrittenPart = Part | DrawingPart
_AnyPart = Annotated[
    Annotated[ListPart, Tag("<list>")]
    | Annotated[WallPart, Tag("<wall>")]
    | Annotated[DomePart, Tag("<dome>")]
    | Annotated[DrawingPart, Tag("<drawing>")],
    Discriminator(
        _kind,
        custom_error_type="no_kind_of_part",
        custom_error_message="a part is a list, a wall, a dome or a drawing, and this is none of them",
        custom_error_context={"todo": "Start it with list: blocks.csv, wall: NAME, dome: NAME or drawing: house.dxf."},
    ),
]


class _Heading(FileModel):
    """What an order says before its parts."""

    name: Name = Field(alias="order", examples=["Tool store"])
    mixes: tuple[MixSpec, ...] = Field(min_length=1)
    spares: ExactPercent = Field(default=Decimal(0), description="Cast on top of each mark and mix")
    further_spares: Flag | None = Field(
        default=None,
        description="Whether what is left of a batch goes into spares beyond those, in cavities that stand empty; "
        "true unless told where spares are asked for, else false. What slabs give besides does not heed it",
    )

    @property
    def wants_further_spares(self) -> bool:
        """Whether spares beyond those asked for are welcome where they cost no mix."""
        return self.spares > 0 if self.further_spares is None else self.further_spares


class OrderFile(_Heading):
    """An order as its file has it, with drawings that stand for their walls."""

    parts: tuple[_AnyPart, ...] = Field(min_length=1)

    def order(self) -> Order:
        """What is to be built, with the walls of each drawing in its place."""
        parts: list[Part] = []
        drawn: dict[str, int] = {}
        for index, part in enumerate(self.parts):
            if isinstance(part, DrawingPart):
                drawn.update((wall.name, index) for wall in part.walls)
                parts.extend(part.walls)
            else:
                parts.append(part)
        order = Order(
            name=self.name,
            mixes=self.mixes,
            spares=self.spares,
            further_spares=self.further_spares,
            parts=tuple(parts),
        )
        order._drawn.update(drawn)
        return order


class Order(_Heading):
    """What is to be built, and of what."""

    parts: tuple[Part, ...] = Field(min_length=1)
    _drawn: dict[str, int] = PrivateAttr(default_factory=dict)
    _sources: dict[str, Path] = PrivateAttr(default_factory=dict)

    @property
    def sources(self) -> dict[str, Path]:
        """Files read: the reference written in the order file to the path read, the order file itself under ``""``."""
        return dict(self._sources)

    @property
    def lists(self) -> tuple[BlockList, ...]:
        """The block lists among its parts."""
        return tuple(part.blocks for part in self.parts if isinstance(part, ListPart))

    @property
    def system(self) -> str:
        """``US`` where it has walls or domes, and the blocks of all of them are measured in inches, else ``SI``."""
        return "US" if {part.system for part in self.parts if not isinstance(part, ListPart)} == {"US"} else "SI"

    def written_at(self, part: WallPart | DomePart) -> tuple[str | int | tuple[str, str], ...]:
        """Where the order file says what this part is: at the part itself, or at the drawing it was taken from."""
        if isinstance(part, WallPart) and part.name in self._drawn:
            return ("parts", self._drawn[part.name])
        return ("parts", ("wall" if isinstance(part, WallPart) else "dome", part.name))

    def place(self, fault: BadInput, mark: str, side: str = "", part: str = "") -> BadInput:
        """The same fault at the first row of this mark, where a file names it; at its length, say, when told.

        Blocks of walls and domes stand in no row: theirs is placed at what the order file says of the ``part``.
        """
        for blocks in self.lists:
            for row in blocks.rows:
                if row.mark == mark and blocks.table and row.place:
                    columns = (column for column in blocks.table.columns if side and column.startswith(f"{side}_"))
                    return blocks.table.place(fault, row.place, next(columns, "mark"))
        made = next((one for one in self.parts if not isinstance(one, ListPart) and one.name == part), None)
        path = self._sources.get("")
        if made is None or path is None:
            return fault
        return read_yaml(path).place(fault, (*self.written_at(made), *_key_of(made, side)))


def _key_of(part: WallPart | DomePart, side: str) -> tuple[str, ...]:
    """The key of a part that sets one side of its blocks."""
    if not side:
        return ()
    if isinstance(part, WallPart):
        return ("block",)
    return ({"length": "block_length", "height": "course"}.get(side, side),)
