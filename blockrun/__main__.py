"""The command, by name or as ``python -m blockrun``.

Processes that are begun beside the command import this file before anything else: what it imports they wait for.
"""

from __future__ import annotations

import sys
from typing import Final

STOPPED: Final = 130
"""Exit code of a command ended by Ctrl-C, as shells have it."""


def main() -> None:
    """Run the command line; a Ctrl-C before any command is at work ends it in a word."""
    try:
        from blockrun.cli import main as run

        run()
    except KeyboardInterrupt:
        sys.stderr.write("Stopped.\n")
        sys.exit(STOPPED)


if __name__ == "__main__":
    main()
