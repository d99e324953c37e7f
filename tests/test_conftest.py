"""The network guard guards."""

import socket

import pytest

from tests import conftest


def test_reaching_out_fails_loudly() -> None:
    with pytest.raises(conftest.NetworkTouchedError, match=r"192\.0\.2\.1"):
        socket.create_connection(("192.0.2.1", 80), timeout=0.1)
    with pytest.raises(conftest.NetworkTouchedError, match=r"example\.org"):
        socket.getaddrinfo("example.org", 443)
    assert len(conftest._touched) >= 2
    conftest._touched.clear()


def test_loopback_is_allowed() -> None:
    with socket.create_server(("127.0.0.1", 0)) as server:
        address = server.getsockname()
        with socket.create_connection(address, timeout=1) as client:
            assert client.getpeername() == address
