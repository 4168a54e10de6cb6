"""The command, by name or as ``python -m blockrun``.

Processes that are begun beside the command import this file before anything else: what it imports they wait for.
"""

from __future__ import annotations


def main() -> None:
    """Run the command line."""
    from blockrun.cli import main as run

    run()


if __name__ == "__main__":
    main()
