"""What a yard has learnt of itself: what its site says, what was seen, and what is proposed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Final

from blockrun.show.page import ALARM, HEADING, INDENT, QUIET, Page, Part, glued
from blockrun.units import counted

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.files.rewriting import NewLine
    from blockrun.planner.learned import Change, FileNow, Finding, Lessons

_SURE: Final = "An interval that is likely holds the truth in 95 of 100 such yards."
_NUMBERED: Final = 7
"""Characters that the number of a line and its sign take."""


def lessons_text(lessons: Lessons, width: int, units: str) -> Text:
    """Write all that was looked at."""
    page = Page(width, units)
    page.line((f"Learnt from {counted(lessons.entries, 'entry', 'entries')}", HEADING))
    for finding in lessons.findings:
        page.blank()
        _write(page, finding)
    page.blank()
    page.line((_SURE, QUIET))
    return page.text()


def files_text(files: Sequence[FileNow], hint: str, width: int) -> Text:
    """Write which lines of which files become what, or have become.

    Parameters
    ----------
    files : with what is proposed in them.
    hint : the command that writes them; empty where they are written, or there is nothing to write.
    """
    page = Page(width)
    for file in files:
        page.blank()
        page.line((f"{file.path.name} would become" if hint else f"{file.path} is written", HEADING))
        for line in file.lines:
            _line(page, line)
        if file.kept is not None:
            page.line(f"The old one is kept as {file.kept.name} beside it.")
    page.blank()
    if hint:
        page.line("Nothing is written yet. To write it into your own site file:")
        page.verbatim(hint, "", 0)
    elif files:
        page.line("A plan that is there stays as it is: make it anew to have it heed this.")
    else:
        page.line("Nothing is to be written.")
    return page.text()


def _line(page: Page, line: NewLine) -> None:
    """A line before and after, its number before both."""
    if line.before:
        page.line(glued(line.before.strip()), label=f"{line.number:>4} -", indent=_NUMBERED)
    page.line(glued(line.after.strip()), label=f"{line.number:>4} +", indent=_NUMBERED)


def _write(page: Page, finding: Finding) -> None:
    page.line((finding.about, HEADING))
    if finding.says:
        page.line(f"site: {finding.says}", indent=INDENT)
    page.line(f"seen: {finding.seen}", indent=INDENT)
    page.line(*_verdict(finding), indent=INDENT)
    for note, style in _notes(finding):
        page.line((note, style), indent=INDENT)


def _verdict(finding: Finding) -> Iterator[Part]:
    if finding.change is None:
        yield f"so: {finding.verdict}"
    else:
        yield from ("so: ", (change_said(finding.change), HEADING))


def _notes(finding: Finding) -> Iterable[tuple[str, str]]:
    loosens = finding.change is not None and finding.change.by_name
    return ((note, ALARM if loosens and not nth else QUIET) for nth, note in enumerate(finding.notes))


def change_said(change: Change) -> str:
    """``strip_time 12 min -> 15 min``."""
    now, new = map(glued, change.words)
    by_name = f", written only with --only {change.key}" if change.by_name else ""
    return f"{change.key} {now} -> {new}{by_name}"
