"""Who plays the runs: this process, some beside it, or those of a cluster."""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import re
import signal
import threading
from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from typing import Final

from blockrun.errors import BadInput

_ADDRESS: Final = re.compile(r"(\w+://)?[^\s/]+:\d+")
_PATIENCE: Final = "10s"
"""How long a scheduler may take to answer."""


@contextlib.contextmanager
def workers(number: int, cluster: str | None = None) -> Iterator[Executor | None]:
    """Workers for a sweep; None where it is to be played here.

    Parameters
    ----------
    number : processes beside this one, >= 1; with one it is played here.
    cluster : address of a scheduler of dask.distributed, such as ``tcp://127.0.0.1:8786``; its workers are used then.

    Raises
    ------
    BadInput : the extra is not installed, or no scheduler answers there.
    """
    if cluster is not None:
        with _cluster(cluster) as executor:
            yield executor
    elif number > 1:
        # begun afresh, for a copy of a process that runs threads may hang
        fresh = multiprocessing.get_context("spawn")
        with ProcessPoolExecutor(number, mp_context=fresh, initializer=_begin) as pool:
            yield pool
    else:
        yield None


@contextlib.contextmanager
def _cluster(address: str) -> Iterator[Executor]:
    try:
        from distributed import Client
    except ImportError:
        todo = "Run: pip install 'blockrun[cluster]'"
        raise BadInput("what speaks to a cluster is not installed", todo, name="--cluster") from None
    todo = "Start one with: dask scheduler, then dask worker, and write the address that it prints."
    if not _ADDRESS.fullmatch(address):  # a client that cannot make sense of one complains again as it goes
        raise BadInput(f"{address} is not the address of a scheduler", todo, name="--cluster", value=address)
    try:
        client = Client(address, timeout=_PATIENCE, set_as_default=False)
    except (OSError, ValueError, TypeError) as error:
        raise BadInput(f"no scheduler answers at {address}", todo, name="--cluster", value=address) from error
    with client:
        yield client.get_executor(pure=False)


def _begin() -> None:
    """Leave Ctrl-C to the process that began this one, and end with it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
