"""Ports that we listen on, with a sentence for whoever finds one taken."""

import errno
from collections.abc import Iterator
from contextlib import contextmanager


class PortTakenError(Exception):
    """The text says which, and what to do."""


@contextmanager
def listening_on(address: str, port: int, setting: str) -> Iterator[None]:
    """Raises PortTakenError where the block cannot listen there; ``setting`` names the port."""
    try:
        yield
    except OSError as error:
        taken = error.errno == errno.EADDRINUSE
        why = "is taken by another program" if taken else f"cannot be used: {error.strerror}"
        raise PortTakenError(
            f"Port {port} on {address} {why}. Stop what listens there (a second stokewatch?), or "
            f"set {setting} to a free port."
        ) from None
