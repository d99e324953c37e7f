"""What several tests of the bot look into."""

import io
import logging
from collections.abc import Iterator

import pytest
import structlog

from bot import logs


@pytest.fixture
def log() -> Iterator[io.StringIO]:
    """Everything that is logged, at the chattiest level, with no secret taken out."""
    root = logging.getLogger()
    before, level = list(root.handlers), root.level
    stream = io.StringIO()
    logs.set_up(level="DEBUG", stream=stream)
    yield stream
    root.handlers[:] = before
    root.setLevel(level)
    structlog.reset_defaults()
