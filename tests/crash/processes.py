"""Real processes, each forked from a server that has imported everything once."""

import multiprocessing
import signal
from collections.abc import Callable
from multiprocessing.context import ForkServerProcess

PATIENCE_S = 60

_context = multiprocessing.get_context("forkserver")
_context.set_forkserver_preload(["tests.crash.victim"])


def start(work: Callable[..., None], *told: object) -> ForkServerProcess:
    process = _context.Process(target=work, args=told, daemon=True)
    process.start()
    return process


def end(process: ForkServerProcess) -> int | None:
    """Wait for its end; the exit code, negative for a signal."""
    process.join(PATIENCE_S)
    code = process.exitcode
    process.kill()
    return code


def is_killed(work: Callable[..., None], *told: object) -> bool:
    """Run until it is killed; False for one that came to its own end."""
    return end(start(work, *told)) == -signal.SIGKILL
