"""What surrounds every command: the screen, the wait with its Ctrl-C, and errors in words."""

from __future__ import annotations

import atexit
import contextlib
import functools
import gc
import os
import platform
import shlex
import shutil
import signal
import sys
import time
import traceback
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor, wait
from threading import Event
from types import FrameType
from typing import TYPE_CHECKING, Final, ParamSpec, TypeVar

import typer

from blockrun import __version__
from blockrun.errors import BlockrunError, NoPlanInTime

if TYPE_CHECKING:
    from rich.console import Console
    from rich.text import Text

    from blockrun.planner.plan import Stop

P = ParamSpec("P")
T = TypeVar("T")

BUG: Final = 1
STOPPED: Final = 130
"""Exit code of a command ended by Ctrl-C, as shells have it."""

WIDEST_HELP: Final = 80

GLANCE_S: Final = 0.1
"""How often the wait looks up; a Ctrl-C is felt within this time."""


TIDIED_AFTER: Final = 50_000
"""Things made before Python looks for those of no more use: 700 unless told, a tenth of the time of a report."""

_DRIVING: Final = {letter: "?" for letter in (*range(0x20), *range(0x7F, 0xA0)) if chr(letter) not in "\n\t"}
"""Control characters, of which only the ends of lines and tabs are for printing."""

SHOW_CURSOR: Final = b"\x1b[?25h\n"
NOTHING_SAVED: Final = "Stopped before there was a plan; nothing was saved."
LEAVING: Final = b"Stopped at once; nothing was saved.\n"


class BugError(Exception):
    """A fault of blockrun itself that was noticed before it did harm."""


def tidy_seldom() -> None:
    """Let things of no use lie a while: a command makes many that last, and soon ends; they end with it."""
    gc.set_threshold(TIDIED_AFTER)
    atexit.register(gc.freeze)


def screen() -> Console:
    """Where results print; as wide as the terminal or COLUMNS says."""
    from rich.console import Console

    return Console(highlight=False)


def harmless(words: str) -> str:
    """The same letters, with a question mark for each that would drive the terminal, as an escape in a note may."""
    return words.translate(_DRIVING)


def say(text: Text | str) -> None:
    """Print a result, whose lines already fit."""
    if isinstance(text, str):
        text = harmless(text)
    else:
        text.plain = harmless(text.plain)
    screen().print(text, soft_wrap=True, markup=False)


def help_width() -> int:
    """Columns that help is set in; left to itself it takes no fewer than 50."""
    return min(shutil.get_terminal_size().columns, WIDEST_HELP)


def complain(words: str) -> None:
    """Print on the error stream."""
    typer.echo(harmless(words), err=True)


def complain_of(error: BlockrunError) -> None:
    """Print an error as wide as the terminal."""
    from rich.console import Console

    complain(error.told(Console(stderr=True).width))


def in_words(command: Callable[P, T]) -> Callable[P, T]:
    """Let a command end in words and an exit code, never in a traceback."""

    @functools.wraps(command)
    def told(*args: P.args, **kwargs: P.kwargs) -> T:
        try:
            result = command(*args, **kwargs)
            sys.stdout.flush()
        except (typer.Exit, typer.Abort):
            raise
        except KeyboardInterrupt as stopped:
            complain(str(stopped) or "Stopped.")
            raise typer.Exit(STOPPED) from None
        except BlockrunError as error:
            complain_of(error)
            raise typer.Exit(error.exit_code) from error
        except Exception as error:
            _own_up(error)
            raise typer.Exit(BUG) from error
        return result

    return told


def _own_up(error: Exception) -> None:
    if os.environ.get("BLOCKRUN_DEBUG"):
        traceback.print_exc()
    said = str(error) if isinstance(error, BugError) else f"{type(error).__name__}: {error}"
    complain(f"blockrun has a bug: {said}")
    complain("  Please send this message, the site and order files, and these two lines:")
    complain(f"    blockrun {__version__}, Python {platform.python_version()}, {platform.platform()}")
    complain(f"    {shlex.join(['blockrun', *sys.argv[1:]])}")
    if not os.environ.get("BLOCKRUN_DEBUG"):
        complain("  With BLOCKRUN_DEBUG=1 set before it, the command also says where.")


def wait_for(
    work: Callable[[Stop, Callable[[str], None]], T], until: float | None, *, doing: str = "", kept: str = ""
) -> T:
    """Do long work in a thread of its own, so that Ctrl-C asks it to stop and it can hand over the best it has.

    Parameters
    ----------
    work : takes a callback that says whether to stop, and one that is told in words how far it is.
    until : reading of ``time.monotonic()`` at which it is asked to stop; ``None`` for never.
    doing : what the screen says until the work tells how far it is.
    kept : what a user still gets after a Ctrl-C, such as "a plan found so far is kept".

    Returns
    -------
    What the work returns. A second Ctrl-C ends the program at once.

    Raises
    ------
    KeyboardInterrupt : after a Ctrl-C the work had nothing to hand over.
    """
    from rich.console import Console
    from rich.text import Text

    console = Console(stderr=True, highlight=False)
    told = Event()
    with (
        _ctrl_c(console, told) as interrupted,
        console.status(doing or "at work") as line,
        ThreadPoolExecutor(max_workers=1) as pool,
    ):

        def stop() -> bool:
            return interrupted.is_set() or (until is not None and time.monotonic() >= until)

        def tell(said: str) -> None:
            line.update(Text(said[: console.width - 4]))

        done = pool.submit(work, stop, tell)
        while not done.done() and not interrupted.is_set():
            wait([done], timeout=GLANCE_S)
        if interrupted.is_set():
            told.set()
            console.print(f"Stopping{kept and f'; {kept}'}. Ctrl-C again leaves at once.")
        while not done.done():  # a wait without an end would not feel the second Ctrl-C on every system
            wait([done], timeout=GLANCE_S)
        return _handed_over(done, interrupted)


def _handed_over(done: Future[T], interrupted: Event) -> T:
    """What work hands over; after a Ctrl-C without a plan it is not the time given that was too short."""
    try:
        return done.result()
    except NoPlanInTime:
        if interrupted.is_set():
            raise KeyboardInterrupt(NOTHING_SAVED) from None
        raise


@contextlib.contextmanager
def _ctrl_c(console: Console, told: Event) -> Iterator[Event]:
    """Have the first Ctrl-C only set the event, and the second end the program, whatever it is doing.

    Until a user has been told that another leaves at once none does: what runs us may pass on one Ctrl-C twice.
    As an exception a Ctrl-C could strike in the middle of our own handling of the one before it.
    """
    interrupted = Event()

    def strike(number: int, frame: FrameType | None) -> None:
        if told.is_set():
            os.write(sys.stderr.fileno(), (SHOW_CURSOR if console.is_terminal else b"") + LEAVING)
            _leave_nothing_running()
            os._exit(STOPPED)
        interrupted.set()

    before = signal.signal(signal.SIGINT, strike)
    try:
        yield interrupted
    finally:
        signal.signal(signal.SIGINT, before)


def _leave_nothing_running() -> None:
    """End the processes begun, and give back what they share with us: who keeps count of that would complain of it."""
    if "multiprocessing.util" in sys.modules:
        from multiprocessing import active_children, util

        for process in active_children():
            process.kill()
        util._run_finalizers(0)  # type: ignore[attr-defined]  # no public name does it without waiting


def most_memory_mb() -> float | None:
    """Most memory this process and the biggest it began have held, in MB; ``None`` where the system does not say."""
    try:
        import resource
    except ImportError:  # Windows
        return None
    peak = sum(resource.getrusage(whose).ru_maxrss for whose in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return round(peak / (1e6 if sys.platform == "darwin" else 1e3), 1)
