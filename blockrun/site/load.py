"""From a site file to a site."""

from __future__ import annotations

from collections.abc import Mapping
from os import PathLike
from pathlib import Path
from typing import Any

from blockrun.errors import BadInput
from blockrun.files.digests import digest
from blockrun.files.models import read_model, refuse_other
from blockrun.files.text import References
from blockrun.files.yaml import read_yaml
from blockrun.site.checks import find_faults
from blockrun.site.file_model import in_order
from blockrun.site.model import Site


def load_site(path: str | PathLike[str], *, files: Mapping[str, Path] | None = None) -> Site:
    """Read a site file and the weather file it names.

    Parameters
    ----------
    path : the YAML file.
    files : where a file it names lies, when that is not beside it; by the name written in the YAML.

    Returns
    -------
    The site, its lists of mappings sorted, so that the order in which a file gives them never matters.

    Raises
    ------
    BadInput : with every fault found, each at its place.
    """
    document = read_yaml(Path(path))
    refuse_other(document, due="site", other="order")
    references = References(document.path.parent, files or {})
    site = read_model(Site, document, references)
    faults = [document.place(fault, where) for where, fault in find_faults(site)]
    if faults:
        raise BadInput.of(faults)
    site = in_order(site)
    site._sources.update({"": document.path, **references.found})
    return site


def digest_site(site: Site) -> str:
    """SHA-256 of what a site says, the weather included; the same for the same content in any order or spacing."""
    return digest(site)


def site_schema() -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of a site file, for editors."""
    schema = Site.model_json_schema(by_alias=True)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema, "title": "blockrun site"}
