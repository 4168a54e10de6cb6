"""Proposals put into the file of a site: only their values change, and the new file is read back before it counts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import ceil
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final

from blockrun.errors import BadInput
from blockrun.files.rewriting import NewLine, rewritten, value_at
from blockrun.files.text import did_you_mean
from blockrun.files.writing import write_files
from blockrun.files.yaml import Where, read_yaml
from blockrun.planner.learned import Change, CubeRow, FileNow, Lessons
from blockrun.site import Site, load_site
from blockrun.site.cubes import read_cubes
from blockrun.site.file_model import key_of
from blockrun.units import alike, read
from blockrun.yard.learn.cube_rows import added, new_table, not_among

CUBES: Final = "cubes"
KEYS: Final = ("strip_at", CUBES, "pour_time", "strip_time", "foam_density", "weighed", "left_behind")
"""All that may be proposed."""

NEW_CUBES: Final = "cubes.csv"


@dataclass(frozen=True)
class Chosen:
    """What of all proposals is to be written."""

    changes: tuple[Change, ...]
    cubes: tuple[CubeRow, ...]


@dataclass(frozen=True)
class Draft:
    """A file as it would be."""

    path: Path
    content: bytes
    lines: tuple[NewLine, ...]
    old: bytes | None


def chosen(lessons: Lessons, only: Sequence[str]) -> Chosen:
    """Proposals by their keys; without any, all but those that must be named.

    Raises
    ------
    BadInput : a key is none of which anything is learnt.
    """
    for key in only:
        if key not in KEYS:
            raise BadInput(f"nothing is learnt of {key}", did_you_mean(key, KEYS), name="--only", value=key)
    changes = (one for one in lessons.changes if (one.key in only if only else not one.by_name))
    return Chosen(tuple(changes), lessons.cubes if not only or CUBES in only else ())


def drafts(path: Path, what: Chosen, files: Mapping[str, Path] | None = None) -> list[Draft]:
    """Files with what is proposed in them; nothing is written.

    Parameters
    ----------
    path : the file of a site.
    what : to put in.
    files : where files it names lie, as for `load_site`.

    Raises
    ------
    BadInput : the file cannot be read, is not the one the plan was made with, cannot be changed so, or would not load.
    """
    site = load_site(path, files=files)
    if not (what.changes or what.cubes):
        return []
    cubes = not_among(what.cubes, site.curing.cubes)
    _same_as_planned(path, what.changes)
    values = [(one.where, alike(one.new, one.dimension, value_at(path, one.where))) for one in what.changes]
    new = rewritten(path, values)
    made = [_cubes(path, site, cubes)] if cubes else []
    made += [Draft(path, new.new, new.lines, new.old)] if what.changes else []
    _loads(path, site, made, Chosen(what.changes, cubes))
    return made


def write(made: Sequence[Draft]) -> list[FileNow]:
    """Write files, each whole, and keep the old ones beside them.

    Where one cannot be written, none is. Broken off between two, those after it stay as they were: as drafts come, with
    cubes first, the same proposals put in again are then the rest.

    Raises
    ------
    BadInput : one cannot be written.
    """
    kept = {one.path: _beside(one.path) for one in made if one.old is not None}
    olds = {kept[one.path]: one.old for one in made if one.old is not None}
    write_files(olds | {one.path.resolve(): one.content for one in made}, replace=True)
    return [FileNow(one.path, one.lines, kept.get(one.path)) for one in made]


def _beside(path: Path) -> Path:
    """A free name for the old file: ``site-before.yaml``, ``site-before-2.yaml``."""
    number, kept = 1, path.with_name(f"{path.stem}-before{path.suffix}")
    while kept.exists():
        number += 1
        kept = path.with_name(f"{path.stem}-before-{number}{path.suffix}")
    return kept


def _same_as_planned(path: Path, changes: Iterable[Change]) -> None:
    """Refuse a file that says something else than the plan was made with: what was learnt is learnt against that."""
    document, faults = read_yaml(path), []
    for one in changes:
        written = value_at(path, one.where)
        here = read(written, one.dimension).value
        if one.now not in (here, ceil(here - 1e-9)) and abs(here - one.now) > 1e-6 * one.now:
            what = f"{one.key} is {written} here, and the plan was made with {alike(one.now, one.dimension, written)}"
            todo = "Name the file that the plan was made with, or leave it out with --only."
            faults.append(document.place(BadInput(what, todo, name=one.key), one.where))
    if faults:
        raise BadInput.of(faults)


def _cubes(path: Path, site: Site, rows: Sequence[CubeRow]) -> Draft:
    if site.curing.cubes is None:
        place = path.with_name(NEW_CUBES)
        if place.exists():
            raise BadInput(
                "exists already, and the site does not name it", "Write cubes: cubes.csv under curing.", file=place
            )
        content, lines = new_table(rows)
        return Draft(place, content, tuple(NewLine(nth, "", line) for nth, line in enumerate(lines, 1)), None)
    place = site._sources[site.curing.cubes.reference]
    content, lines = added(place, rows)
    old = place.read_bytes()
    first = old.count(b"\n") + 1 + (not old.endswith(b"\n"))
    return Draft(place, content, tuple(NewLine(nth, "", line) for nth, line in enumerate(lines, first)), old)


def _loads(path: Path, site: Site, made: Iterable[Draft], what: Chosen) -> None:
    """Read the new files as a site, and look for what was to be changed and added."""
    files = {name: place for name, place in site._sources.items() if name}
    tables: list[Path] = []
    with TemporaryDirectory() as folder:
        trial = Path(folder) / path.name
        trial.write_bytes(path.read_bytes())
        for nth, one in enumerate(made):
            if one.path == path:
                trial.write_bytes(one.content)
                continue
            table = Path(folder) / f"{nth}-{one.path.name}"
            table.write_bytes(one.content)
            tables.append(table)
            files |= {name: table for name, place in files.items() if place == one.path}
        try:
            new = load_site(trial, files=files)
            lost = [row for table in tables for row in not_among(what.cubes, read_cubes(table))]
        except BadInput as fault:
            said = f"with what is proposed the site would not load: {fault.what}"
            raise BadInput(said, "Leave it out with --only, or change it by hand.", file=path) from fault
    for change in what.changes:
        if not _says(new, change):
            raise BadInput(f"{change.key} would not be read as proposed", "Change it by hand.", file=path)
    for row in lost:
        said = f"a cube of {row.tested} would not be read as it was crushed"
        raise BadInput(said, "Leave cubes out with --only, or type them in by hand.", file=path)


def _says(site: Site, change: Change) -> bool:
    value = _value(site, change.where)
    hours = 60 if change.key.endswith("_at") else 1  # ages are kept in hours
    return abs(float(value) * hours - change.new) <= max(1e-3 * change.new, 1e-6)


def _value(model: Any, where: Where) -> Any:
    """What a model holds at a place of its file."""
    for step in where:
        if isinstance(step, tuple):
            key, name = step
            model = next(item for item in model if getattr(item, key) == name)
        else:
            model = next(getattr(model, field) for field in type(model).model_fields if key_of(field) == step)
    return model
