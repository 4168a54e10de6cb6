"""Any damage to a site file is a refusal with a place, never a crash."""

import shutil
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockrun.errors import BadInput
from blockrun.site import load_site

CONFIGS = Path(__file__).parents[2] / "configs"
TEXT = (CONFIGS / "small-yard.yaml").read_text(encoding="utf-8")
ODD = [
    "",
    " ",
    ":",
    "-",
    "[",
    "}",
    "'",
    '"',
    "#",
    "\t",
    "\n",
    "null",
    "9**9**9",
    "-1",
    "12:30",
    "\N{SNOWMAN}",
    "*a",
    "&a",
]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("spoilt")
    shutil.copy(CONFIGS / "small-yard-weather.csv", folder)
    return folder


def faults_of(file: Path) -> list[BadInput]:
    try:
        load_site(file)
    except BadInput as refusal:
        return refusal.all()
    return []


@settings(max_examples=60, deadline=None)
@given(at=st.integers(0, len(TEXT)), cut=st.integers(0, 12), put=st.sampled_from(ODD))
def test_a_spoilt_site_is_read_or_refused_with_a_place(folder: Path, at: int, cut: int, put: str):
    file = folder / "yard.yaml"
    file.write_text(TEXT[:at] + put + TEXT[at + cut :], encoding="utf-8")
    assert all(fault.file and fault.line and fault.todo for fault in faults_of(file))
