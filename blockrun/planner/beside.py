"""A process beside this one: begun afresh, deaf to Ctrl-C, ended with the one that began it.

What works in C++ may crash, hang or run out of memory; beside this process it cannot take it along. A piece of work is
named, ``module:function``, so that only the process that does it imports what it takes. It is called with two callbacks
besides its arguments: ``stop`` says when it is to end, ``tell`` hands over what it has so far.
"""

from __future__ import annotations

import contextlib
import gc
import importlib
import multiprocessing
import os
import pickle
import signal
import threading
import traceback
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from pkgutil import resolve_name
from queue import Empty, SimpleQueue
from typing import Any, Final, Self

from blockrun.errors import BlockrunError

FRESH: Final = multiprocessing.get_context("spawn")
"""Begins processes afresh, for a copy of one that runs threads may hang."""

PATIENCE_S: Final = 1.0
"""Between asking a piece of work to stop and ending its process."""

SOLVES: Final = "blockrun.optimiser.entry"
"""What solves, named here so that it can be begun before anything else is imported."""

_GLANCE_S: Final = 0.05
_TELL_EVERY_S: Final = 0.1
_STOP: Final = b""
_ERRORS: Final = 2
"""Number of the error stream."""


class DiedError(Exception):
    """The process beside this one ended without an answer, or broke down.

    Attributes
    ----------
    ended : it did not end by itself: it was not done in time after it was asked to stop.
    """

    def __init__(self, why: str, *, ended: bool = False) -> None:
        super().__init__(why)
        self.ended = ended


@dataclass(frozen=True)
class _Told:
    what: Any


@dataclass(frozen=True)
class _Done:
    result: Any


@dataclass(frozen=True)
class _Broke:
    fault: BlockrunError | None
    why: str
    trace: str


class _Gone:
    """The process has ended."""


_Said = _Told | _Done | _Broke | _Gone


class Beside:
    """One process that does one piece of work after another; to be used in a ``with``.

    Parameters
    ----------
    ahead : module that it imports at once, so that it is ready when there is work.
    loud : let it write on the error stream, what C++ has to say before a crash too.
    """

    def __init__(self, ahead: str = "", *, loud: bool = False) -> None:
        self._pipe, its_end = FRESH.Pipe()
        self._process = FRESH.Process(target=_serve, args=(its_end, ahead, loud))
        with deaf_to_ctrl_c():
            self._process.start()
        its_end.close()
        self._to_say, self._heard = SimpleQueue[bytes](), SimpleQueue[_Said]()
        self._ended = False
        # in threads of their own, for a process that hangs takes nothing in, and may hang half-way through a word
        threading.Thread(target=self._speak, daemon=True).start()
        threading.Thread(target=self._listen, daemon=True).start()

    def __enter__(self) -> Self:
        """It has begun already."""
        return self

    def __exit__(self, *_: object) -> None:
        """End it, whatever it is doing."""
        self._process.kill()
        self._process.join()

    def do(
        self, work: str, *args: object, stop: Callable[[], bool], tell: Callable[[Any], None], **more: object
    ) -> Any:
        """Have a piece of work done.

        Parameters
        ----------
        work : ``module:function``; what it is given and what it hands over can be pickled.
        stop : asked all the time; a second after it says so the process is ended.
        tell : hears what the work tells, what is overtaken within a tenth of a second left out.

        Raises
        ------
        DiedError : there will be no answer. An error of ours in the work is raised as it is.
        """
        self._to_say.put(pickle.dumps((work, args, more)))
        ending: threading.Timer | None = None
        try:
            while True:
                if ending is None and stop():
                    self._to_say.put(_STOP)
                    ending = threading.Timer(PATIENCE_S, self._end)
                    ending.start()
                match self._next():
                    case _Told(what):
                        tell(what)
                    case _Done(result):
                        return result
                    case _Broke(fault, why, trace):
                        raise fault or DiedError(why) from _TraceError(trace)
                    case _Gone():
                        self._heard.put(_Gone())  # for whoever asks again
                        raise DiedError(self._why_gone(), ended=self._ended)
        finally:
            if ending is not None:
                ending.cancel()

    def _next(self) -> _Said | None:
        try:
            return self._heard.get(timeout=_GLANCE_S)
        except Empty:
            return None

    def _end(self) -> None:
        self._ended = True
        self._process.kill()

    def _speak(self) -> None:
        with contextlib.suppress(OSError):  # it has gone: the other thread hears of it
            while True:
                self._pipe.send_bytes(self._to_say.get())

    def _listen(self) -> None:
        with contextlib.suppress(EOFError, OSError):
            while True:
                self._heard.put(self._pipe.recv())
        self._heard.put(_Gone())

    def _why_gone(self) -> str:
        self._process.join(_GLANCE_S)
        code = self._process.exitcode
        if code is None or code >= 0:
            return f"it ended with code {code}"
        name = signal.Signals(-code).name
        return "it was ended from outside, as when memory runs out" if name == "SIGKILL" else f"it crashed ({name})"


class _TraceError(Exception):
    """Where in the other process."""


@contextlib.contextmanager
def deaf_to_ctrl_c() -> Iterator[None]:
    """Processes begun in here feel no Ctrl-C, which reaches all that run in a terminal."""
    if not hasattr(signal, "pthread_sigmask"):  # Windows: `begin` has to do
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def begin() -> None:
    """Leave Ctrl-C to the process that began this one, and end with it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


# in the other process


def _serve(pipe: Connection, ahead: str, loud: bool) -> None:
    """Do one piece of work after another, until whoever asks has gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if not loud:
        os.dup2(os.open(os.devnull, os.O_WRONLY), _ERRORS)
    work, stopped = SimpleQueue[bytes](), threading.Event()
    threading.Thread(target=_obey, args=(pipe, work, stopped), daemon=True).start()
    if ahead:
        with contextlib.suppress(ImportError):  # told when there is work that needs it
            importlib.import_module(ahead)
    gc.freeze()  # what is imported stays: no look for rubbish, of which plays make much, need go over it
    while True:
        _do(work.get(), pipe, stopped)


def _obey(pipe: Connection, work: SimpleQueue[bytes], stopped: threading.Event) -> None:
    with contextlib.suppress(EOFError, OSError):
        while True:
            said = pipe.recv_bytes()
            if said == _STOP:
                stopped.set()
            else:
                stopped.clear()
                work.put(said)
    os._exit(1)


def _do(asked: bytes, pipe: Connection, stopped: threading.Event) -> None:
    teller = _Teller(pipe)
    said: _Said
    try:
        name, args, more = pickle.loads(asked)
        said = _Done(resolve_name(name)(*args, **more, stop=stopped.is_set, tell=teller.tell))
    except BlockrunError as fault:
        said = _Broke(fault, "", traceback.format_exc())
    except MemoryError:
        said = _Broke(None, "memory ran out", traceback.format_exc())
    except Exception as fault:
        said = _Broke(None, f"{type(fault).__name__}: {fault}", traceback.format_exc())
    teller.end()
    pipe.send(said)


@dataclass
class _Teller:
    """Sends the first at once, and then the newest every tenth of a second: to pickle a plan takes time too."""

    pipe: Connection
    _newest: _Told | None = None
    _wait: bool = False
    _lock: threading.Lock = field(default_factory=threading.Lock)
    _over: threading.Event = field(default_factory=threading.Event)

    def __post_init__(self) -> None:
        threading.Thread(target=self._send_now_and_then, daemon=True).start()

    def tell(self, what: object) -> None:
        with self._lock:
            if self._wait:
                self._newest = _Told(what)
            else:
                self.pipe.send(_Told(what))
                self._wait = True

    def end(self) -> None:
        """What is told after this is not sent."""
        with self._lock:
            self._wait = True
            self._over.set()

    def _send_now_and_then(self) -> None:
        while not self._over.wait(_TELL_EVERY_S):
            with self._lock:
                if self._newest and not self._over.is_set():
                    self.pipe.send(self._newest)
                    self._newest = None
                else:
                    self._wait = False
