"""One process on one SQLite file: two would send everything twice and settle each other's letters.

The lock is the kernel's, on a file beside the database, so it goes with its holder however that
ends. (Not on the database itself: to close any other handle on it would drop SQLite's own locks.)
"""

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from storage.address import file_of, read_address
from storage.faults import InUse

try:
    import fcntl
except ImportError:  # pragma: no cover - a system without it runs unguarded
    fcntl = None  # type: ignore[assignment]


@contextmanager
def held_alone(told: str) -> Iterator[bool]:
    """True inside the block if no other process can run on that database meanwhile.

    False where that cannot be said: for a server, or where the folder takes no lock. Raises InUse,
    with a sentence, when another process runs on the file.
    """
    path = file_of(read_address(told))
    lock = None if path is None or fcntl is None else _locked(path.resolve())
    if lock is None:
        yield False
        return
    handle, beside = lock
    try:
        yield True
    finally:
        # Taken away while it is still ours: whoever waits for it looks whether it is still there.
        with suppress(OSError):
            beside.unlink()
        os.close(handle)


def _locked(path: Path) -> tuple[int, Path] | None:
    beside = path.with_name(f"{path.name}.lock")
    while True:
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            handle = os.open(beside, os.O_RDWR | os.O_CREAT, 0o644)
        except OSError:
            # Whoever opens the database says what is wrong there.
            return None
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            holder = os.read(handle, 20).decode(errors="replace").strip()
            os.close(handle)
            raise InUse(
                f"Another stokewatch{f' (process {holder})' if holder else ''} runs on {path} "
                "already, and two would send everything twice. Stop that one first, or give this "
                "one a database of its own in STOKEWATCH_DATABASE_URL."
            ) from None
        except OSError:
            os.close(handle)
            return None
        if _is_still_there(handle, beside):
            with suppress(OSError):
                os.ftruncate(handle, 0)
                os.pwrite(handle, f"{os.getpid()}\n".encode(), 0)
            return handle, beside
        os.close(handle)


def _is_still_there(handle: int, beside: Path) -> bool:
    """Its last holder may have taken the file away between our opening and locking it."""
    try:
        return os.path.samestat(os.fstat(handle), beside.stat())
    except OSError:
        return False
