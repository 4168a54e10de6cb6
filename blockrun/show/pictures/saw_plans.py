"""Saw plans on paper: the slab to scale with its cuts numbered in their order, and the list of them beside it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from blockrun.show.cautions import DUST
from blockrun.show.cuts import OFFCUT, Cut, Piece
from blockrun.show.page import GLUE
from blockrun.show.pictures.drawn import fills, scale_bar
from blockrun.show.pictures.paper import HEIGHT_MM, INDEX, LEAST_MM, SCALES, WIDTH_MM, letters_mm, render
from blockrun.show.saw_sheet import HOW, blocks_said, cut_said, heavy, lengths_in, saw_plan_said
from blockrun.show.tape import on_tape

if TYPE_CHECKING:
    from blockrun.show.saw_plans import SawPlan
    from blockrun.site import Site

_LEFT: Final = 18.0
_TOP: Final = 23.0
_WIDE: Final = 150.0
"""Where the slab is drawn, and how wide it may be, mm."""
_LIST: Final = 180.0
"""Where the list of cuts begins."""
_CHARACTERS: Final = 50
_LINE_MM: Final = 4.0
_ROWS: Final = int((HEIGHT_MM - _TOP) / _LINE_MM)
_A_ROW: Final = 4
"""Keys side by side, at the most."""
_SWATCH_MM: Final = 9.0
_LETTER_MM: Final = 1.7
"""What a key takes before its words, and a letter of these at the most."""
_KEY_MM: Final = 6.0
_APART_MM: Final = 3.2
"""Least distance between two lengths that stand beside one another."""
_MARK_MM: Final = 6.0
_NUMBER_MM: Final = 5.0
"""How far from its beginning a cut has its number."""


def saw_pictures(saw_plans: Sequence[SawPlan], site: Site, name: str) -> dict[str, str]:
    """Pictures of saw plans.

    Parameters
    ----------
    site : how things are lifted there, and its units.
    name : what the page that shows them is called.

    Returns
    -------
    Text of each file by its name: a sheet for each saw plan, more where its list of cuts is long, and the page that
    shows them all. Empty where there are no saw plans.
    """
    pictures: dict[str, str] = {}
    for saw_plan in saw_plans:
        for number, sheet in enumerate(_sheets(saw_plan, site), start=1):
            pictures[f"saw-plan-{saw_plan.number}{'' if number == 1 else f'-{number}'}.svg"] = sheet
    if pictures:
        heading = f"{name}: saw plans"
        files = list(pictures)
        pictures[INDEX] = render("pictures.html.jinja", heading=heading, caution=DUST, files=files, sideways=files)
    return pictures


def _sheets(saw_plan: SawPlan, site: Site) -> Iterator[str]:
    title = f"Saw plan {saw_plan.number}"
    lines = _lines(saw_plan, site.units)
    yield _Drawing(saw_plan, site).sheet(title, lines[:_ROWS])
    rest = lines[_ROWS:]
    a_sheet = 2 * _ROWS
    for start in range(0, len(rest), a_sheet):
        words = [
            {"x": 8 + WIDTH_MM / 2 * (row // _ROWS), "y": _TOP + _LINE_MM * (row % _ROWS), "line": line}
            for row, line in enumerate(rest[start : start + a_sheet])
        ]
        size = {"width": WIDTH_MM, "height": HEIGHT_MM, "margin": 8.0}
        yield render("wall_sizes.svg.jinja", title=f"{title}: more cuts", words=words, **size)


def _lines(saw_plan: SawPlan, units: str) -> list[dict[str, Any]]:
    """The list of cuts, broken into lines."""
    lines: list[dict[str, Any]] = [{"text": "cuts in their order", "bold": True, "indented": False}]
    for number, cut in enumerate(saw_plan.sawn.cuts, start=1):
        said = f"{number}{GLUE}{cut_said(cut, saw_plan, units)}"
        for row, text in enumerate(textwrap.wrap(said, _CHARACTERS, break_on_hyphens=False)):
            lines.append({"text": text, "bold": False, "indented": row > 0})
    return lines


@dataclass(frozen=True)
class _Drawing:
    """A slab on its sheet."""

    saw_plan: SawPlan
    site: Site

    @property
    def units(self) -> str:
        """Units of its lengths."""
        return self.site.units

    def sheet(self, title: str, lines: Sequence[Mapping[str, Any]]) -> str:
        """The whole sheet, with the beginning of the list of cuts."""
        plan, kind = self.saw_plan, self.saw_plan.kind
        listed = [{"y": _TOP + _LINE_MM * row, "line": line} for row, line in enumerate(lines)]
        return render(
            "saw_plan.svg.jinja",
            title=title,
            says=self._says(),
            width=WIDTH_MM,
            height=HEIGHT_MM,
            slab=self._box(Piece(0.0, 0.0, kind.length_mm, kind.height_mm)),
            fills=fills(len(plan.gives)),
            pieces=[*map(self._piece, plan.sawn.blocks), *map(self._piece, plan.sawn.offcuts)],
            cuts=[self._cut(number, cut) for number, cut in enumerate(plan.sawn.cuts, start=1)],
            along=list(self._lengths(upright=True)),
            up=list(self._lengths(upright=False)),
            keys=list(self._keys()),
            bar=scale_bar(_LEFT, self._keys_y(len(self._key_words)) + _KEY_MM + 2.0, 1 / self._scale, self.units),
            list_x=_LIST,
            lines=listed,
        )

    def _says(self) -> list[str]:
        plan = self.saw_plan
        said = f"{saw_plan_said(plan, self.units)}. {heavy(plan.wet_kg, self.site)}".replace(GLUE, " ")
        return [said, f"{HOW} {lengths_in(self.units)}", DUST]

    @property
    def _scale(self) -> int:
        kind, rows = self.saw_plan.kind, (len(self._key_words) - 1) // self._a_row + 1
        high = HEIGHT_MM - _TOP - 26.0 - _KEY_MM * rows
        fits = (scale for scale in SCALES if kind.length_mm <= _WIDE * scale and kind.height_mm <= high * scale)
        return next(fits, SCALES[-1])

    @property
    def _floor(self) -> float:
        return _TOP + self.saw_plan.kind.height_mm / self._scale

    def _x(self, along_mm: float) -> float:
        return _LEFT + along_mm / self._scale

    def _y(self, up_mm: float) -> float:
        return self._floor - up_mm / self._scale

    def _box(self, piece: Piece) -> dict[str, float]:
        return {
            "x": self._x(piece.left_mm),
            "y": self._y(piece.bottom_mm + piece.height_mm),
            "width": piece.length_mm / self._scale,
            "height": piece.height_mm / self._scale,
        }

    def _piece(self, piece: Piece) -> dict[str, Any]:
        box, marks = self._box(piece), list(self.saw_plan.gives)
        size = " x ".join(on_tape(side, self.units) for side in (piece.length_mm, piece.height_mm))
        letters, upright = letters_mm(piece.name, box["width"], box["height"])
        if not upright and piece.name in marks:
            letters = min(_MARK_MM, 0.4 * box["height"], 1.4 * box["width"] / len(piece.name))
        roomy = not upright and box["width"] > 1.3 * len(size) and box["height"] > letters + 4.5
        return {
            **box,
            "title": f"{piece.name}, {size}",
            "fill": f"f{marks.index(piece.name)}" if piece.name in marks else "",
            "text": piece.name if letters >= LEAST_MM else "",
            "letters": letters,
            "upright": upright,
            "size": size if roomy else "",
        }

    def _cut(self, number: int, cut: Cut) -> dict[str, Any]:
        """Its number, a little way from its beginning; where it is short, in its middle."""
        on = cut.from_mm + min(_NUMBER_MM * self._scale, cut.length_mm / 2)
        line = cut.at_mm + cut.wide_mm / 2
        return {
            "x": self._x(line if cut.upright else on),
            "y": self._y(on if cut.upright else line),
            "text": str(number),
        }

    def _lengths(self, *, upright: bool) -> Iterator[dict[str, Any]]:
        """Distances of cuts from the left end or the bottom, and of the far end, moved apart where they are close."""
        kind = self.saw_plan.kind
        whole = kind.length_mm if upright else kind.height_mm
        at = {on_tape(cut.at_mm, self.units): cut.at_mm for cut in self.saw_plan.sawn.cuts if cut.upright == upright}
        named = sorted({"0": 0.0, **at, on_tape(whole, self.units): whole}.items(), key=lambda one: one[1])
        places = [length / self._scale for _, length in named]
        for (text, length), place in zip(named, _apart(places), strict=True):
            edge, beside = (self._x, _LEFT + place) if upright else (self._y, self._floor - place)
            yield {"text": text, "at": edge(length), "beside": beside}

    @property
    def _key_words(self) -> list[str]:
        """What there is on the slab: how many blocks of which mark and size, and offcuts."""
        offcuts = [OFFCUT] if self.saw_plan.sawn.offcuts else []
        return [*blocks_said(self.saw_plan, self.units), *offcuts]

    @property
    def _a_row(self) -> int:
        """How many keys fit side by side under the slab."""
        widest = _SWATCH_MM + _LETTER_MM * max(map(len, self._key_words))
        return max(1, min(_A_ROW, int(_WIDE // widest)))

    def _keys(self) -> Iterator[dict[str, Any]]:
        """Under the slab what each fill is."""
        for number, words in enumerate(self._key_words):
            x, y = _LEFT + _WIDE / self._a_row * (number % self._a_row), self._keys_y(number)
            yield {"x": x, "y": y, "fill": "slant" if words == OFFCUT else f"f{number}", "words": words}

    def _keys_y(self, number: int) -> float:
        return self._floor + 16.0 + _KEY_MM * (number // self._a_row)


def _apart(places: Sequence[float]) -> list[float]:
    """Places in rising order, each at least so far after the one before it, moved as little on as that takes."""
    moved: list[float] = []
    for place in places:
        moved.append(max(place, moved[-1] + _APART_MM) if moved else place)
    return moved
