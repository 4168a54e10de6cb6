"""The table of the journal, what guards it, and the steps that bring an older file up to date."""

from __future__ import annotations

from typing import Final

APPLICATION: Final = 0x626C6B6A
"""What marks a database as a journal of ours (``blkj``)."""

COLUMNS: Final = ("number", "key", "happened", "written", "event", "digest")

NEVER_CHANGED: Final = "what is written stays: undo it by a further entry"

Step = tuple[str, ...]
"""Statements that lead from one version to the next."""

FIRST: Final[Step] = (
    """CREATE TABLE entry (
        number INTEGER PRIMARY KEY,
        key TEXT NOT NULL UNIQUE,
        happened TEXT NOT NULL,
        written TEXT NOT NULL,
        event TEXT NOT NULL,
        digest TEXT NOT NULL
    ) STRICT""",
    f"CREATE TRIGGER no_change BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, '{NEVER_CHANGED}'); END",
    f"CREATE TRIGGER no_erasing BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, '{NEVER_CHANGED}'); END",
)

STEPS: Final[tuple[Step, ...]] = (FIRST,)
"""The first makes the table; each further one leads from the version before it. Steps are added, never changed."""

EACH_TIME: Final = (
    "PRAGMA busy_timeout = 10000",  # milliseconds that one writer waits for another
    "PRAGMA journal_mode = TRUNCATE",
    "PRAGMA synchronous = FULL",  # on the disk before anybody is told that it is written
    "PRAGMA recursive_triggers = ON",  # an INSERT OR REPLACE erases, too
    "PRAGMA cell_size_check = ON",
    "PRAGMA trusted_schema = OFF",
)
"""Said at the beginning of each connection."""
