"""What holds for every test: nothing but loopback may be reached over the network."""

import ipaddress
import sys
from collections.abc import Iterator

import pytest

pytest_plugins = ("tests.postgres",)

_touched: list[str] = []


class NetworkTouchedError(AssertionError):
    """A test tried to leave this machine."""


def _is_loopback(host: object) -> bool:
    if host is None or host in ("", b"", "localhost", b"localhost"):
        return True
    told = host.decode("ascii", "replace") if isinstance(host, bytes) else str(host)
    try:
        return ipaddress.ip_address(told.partition("%")[0]).is_loopback
    except ValueError:
        return False


def _guard(event: str, args: tuple[object, ...]) -> None:
    """An audit hook sees every socket of this process, whichever library opened it."""
    if event == "socket.getaddrinfo":
        host = args[0]
    elif event in ("socket.connect", "socket.sendto"):
        address = args[1]
        if not isinstance(address, tuple):
            return  # a Unix socket
        host = address[0]
    else:
        return
    if not _is_loopback(host):
        _touched.append(f"{event} to {host!r}")
        raise NetworkTouchedError(f"a test reached for the network: {event} to {host!r}")


sys.addaudithook(_guard)


@pytest.fixture(autouse=True)
def _no_network() -> Iterator[None]:
    """Fails a test that reached out even if its code swallowed the error."""
    _touched.clear()
    yield
    reached, _touched[:] = list(_touched), []
    if reached:
        pytest.fail("reached for the network: " + "; ".join(reached))
