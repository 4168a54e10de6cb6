"""Who plays the runs: this process, some beside it, or those of a cluster."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from typing import Final, ParamSpec, TypeVar

from blockrun.errors import BadInput
from blockrun.planner.beside import FRESH, begin, deaf_to_ctrl_c

P = ParamSpec("P")
T = TypeVar("T")

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
        with _Deaf(number, mp_context=FRESH, initializer=begin) as pool:
            yield pool
    else:
        yield None


class _Deaf(ProcessPoolExecutor):
    """Processes that feel no Ctrl-C: one begins with each of the first pieces of work."""

    def submit(self, work: Callable[P, T], /, *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        with deaf_to_ctrl_c():
            return super().submit(work, *args, **kwargs)


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
