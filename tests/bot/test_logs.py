"""Logs: one line an event, for people or machines, without secrets."""

import io
import json
import logging
from collections.abc import Iterator

import httpx
import pytest
import structlog

from bot import logs

SECRET = "4711:AAtest-token_that-is-long-enough-0123"


@pytest.fixture
def stream() -> Iterator[io.StringIO]:
    root = logging.getLogger()
    before, level = list(root.handlers), root.level
    yield io.StringIO()
    root.handlers[:] = before
    root.setLevel(level)
    structlog.reset_defaults()


def test_a_line_is_key_and_value(stream: io.StringIO) -> None:
    logs.set_up(stream=stream)
    structlog.get_logger("bot").info("sent", letter="L1")
    line = stream.getvalue()
    assert "level=info event=sent" in line
    assert "letter=L1" in line


def test_a_phone_number_is_in_no_line_whoever_wrote_it_there(stream: io.StringIO) -> None:
    logs.set_up(stream=stream)
    structlog.get_logger("bot").warning("odd", why="ring +44 7700 900123", at="2026-05-01T08+01:00")
    logging.getLogger("library").error("no such number: +447700900123!")
    told = stream.getvalue()
    assert "900123" not in told
    assert told.count("[phone]") == 2
    assert "2026-05-01T08+01:00" in told


def test_a_line_is_json_where_asked_for(stream: io.StringIO) -> None:
    logs.set_up(as_json=True, stream=stream)
    logging.getLogger("library").warning("something %s", "odd")
    told = json.loads(stream.getvalue())
    assert (told["event"], told["level"], told["logger"]) == ("something odd", "warning", "library")


def test_a_secret_is_taken_out_whoever_wrote_it(stream: io.StringIO) -> None:
    logs.set_up(level="DEBUG", secrets=[SECRET], stream=stream)
    logging.getLogger("library").warning("calling https://host/bot%s/getMe", SECRET)
    try:
        raise ValueError(f"bad url with {SECRET}")
    except ValueError:
        structlog.get_logger("bot").exception("failed", token=SECRET)
    assert SECRET not in stream.getvalue()
    assert stream.getvalue().count(logs.REDACTED) >= 3


def test_the_client_that_logs_urls_is_quiet(stream: io.StringIO) -> None:
    logs.set_up(level="DEBUG", stream=stream)
    transport = httpx.MockTransport(lambda request: httpx.Response(200))
    with httpx.Client(transport=transport) as client:
        client.get(f"https://host.invalid/bot{SECRET}/getMe")
    assert SECRET not in stream.getvalue()


def test_a_line_that_cannot_be_written_is_not_told_of_with_its_words(
    stream: io.StringIO, capsys: pytest.CaptureFixture[str]
) -> None:
    logs.set_up(stream=stream)
    stream.close()
    try:
        raise ValueError(f"cannot read {SECRET}")
    except ValueError:
        structlog.get_logger("bot").error("set aside")
    assert SECRET not in capsys.readouterr().err
