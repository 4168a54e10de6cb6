"""The mixes of an order by themselves: no list, wall, dome or drawing of it is read, so that it takes no time."""

from __future__ import annotations

from collections.abc import Mapping
from os import PathLike
from pathlib import Path

from pydantic import ConfigDict, Field, PrivateAttr

from blockrun.errors import BadInput
from blockrun.files.models import read_model, refuse_other
from blockrun.files.text import References
from blockrun.files.yaml import read_yaml
from blockrun.order.mixes import MixSpec
from blockrun.site.fields import Name
from blockrun.site.file_model import FileModel


class OrderMixes(FileModel):
    """What an order says of its mixes; all else in its file is left unread."""

    model_config = ConfigDict(extra="ignore")

    name: Name = Field(alias="order", examples=["Tool store"])
    mixes: tuple[MixSpec, ...] = Field(min_length=1)
    _sources: dict[str, Path] = PrivateAttr(default_factory=dict)

    @property
    def sources(self) -> dict[str, Path]:
        """The order file read, under ``""``."""
        return dict(self._sources)


def load_mixes(path: str | PathLike[str], *, files: Mapping[str, Path] | None = None) -> OrderMixes:
    """Read the mixes of an order file.

    Parameters
    ----------
    path : the YAML file.
    files : as for :func:`blockrun.order.load_order`.

    Raises
    ------
    BadInput : with every fault found in them, each at its place.
    """
    document = read_yaml(Path(path))
    refuse_other(document, due="order", other="site")
    read = read_model(OrderMixes, document, References(document.path.parent, files or {}))
    names = [mix.name for mix in read.mixes]
    for index, name in enumerate(names):
        if name in names[:index]:
            fault = BadInput(f"two mixes are called {name}", "Give each its own name.", name="name")
            raise document.place(fault, ["mixes", index, "name"])
    read._sources[""] = document.path
    return read
