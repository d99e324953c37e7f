"""Structured logs: JSON or key=value lines on standard error, and never a secret in one."""

import logging
import re
import sys
import traceback
from collections.abc import Iterable
from pathlib import Path
from typing import TextIO

import structlog
from structlog.types import Processor

REDACTED = "[secret]"

PHONE = re.compile(r"\+\d(?:[\s().-]?\d){7,14}\b")
"""A number in the international notation, as ours are kept: it rings somebody up."""

_CHATTY = (
    "alembic",
    "httpx",
    "httpcore",
    "telegram",
    "telegram.ext",
    "apscheduler",
    "matplotlib",
    "aiosqlite",
    "numba",
)
"""Loggers that stay at WARNING: httpx writes every URL at INFO, and a URL holds the token."""


def set_up(
    level: str = "INFO",
    as_json: bool = False,
    secrets: Iterable[str] = (),
    stream: TextIO | None = None,
) -> None:
    """Send all logging, ours and the libraries', through one formatter. Call it first thing."""
    # A line that cannot be written must not be told of with the words that were to be left out.
    logging.raiseExceptions = False
    for name in _CHATTY:
        logging.getLogger(name).setLevel(logging.WARNING)
    hidden = tuple(secret for secret in secrets if secret)
    shared: list[Processor] = [
        structlog.contextvars.merge_contextvars,
        structlog.stdlib.add_log_level,
        structlog.stdlib.add_logger_name,
        structlog.processors.TimeStamper(fmt="iso", utc=True),
        structlog.processors.format_exc_info,
    ]
    render: Processor = (
        structlog.processors.JSONRenderer(ensure_ascii=False)
        if as_json
        else structlog.processors.LogfmtRenderer(key_order=["timestamp", "level", "event"])
    )
    structlog.configure(
        processors=[*shared, structlog.stdlib.ProcessorFormatter.wrap_for_formatter],
        logger_factory=structlog.stdlib.LoggerFactory(),
        wrapper_class=structlog.stdlib.BoundLogger,
        cache_logger_on_first_use=False,
    )
    formatter = _Redacting(
        hidden,
        foreign_pre_chain=shared,
        processors=[structlog.stdlib.ProcessorFormatter.remove_processors_meta, render],
    )
    handler = logging.StreamHandler(stream or sys.stderr)
    handler.setFormatter(formatter)
    root = logging.getLogger()
    root.handlers[:] = [handler]
    root.setLevel(level)


def place_of(error: BaseException) -> str:
    """What kind of error, and where it was raised. Its text may hold somebody's words, and stays
    out of the logs."""
    where = ""
    for frame, line in traceback.walk_tb(error.__traceback__):
        code = frame.f_code
        where = f" in {Path(code.co_filename).name}:{line} {code.co_name}"
    return type(error).__name__ + where


class _Redacting(structlog.stdlib.ProcessorFormatter):
    """Takes secrets out of the finished line, whoever wrote them into it."""

    def __init__(
        self,
        hidden: tuple[str, ...],
        foreign_pre_chain: list[Processor],
        processors: list[Processor],
    ) -> None:
        super().__init__(processors=processors, foreign_pre_chain=foreign_pre_chain)
        self._hidden = hidden

    def format(self, record: logging.LogRecord) -> str:
        line = super().format(record)
        for secret in self._hidden:
            line = line.replace(secret, REDACTED)
        return PHONE.sub("[phone]", line)
