"""An answer that says no gets the status of a no."""

import pytest

from bot.channels.telegram.answers import told_status


@pytest.mark.parametrize(
    ("code", "body", "told"),
    [
        (200, b'{"ok": true, "result": []}', 200),
        (200, b'{"ok": false, "error_code": 429, "description": "Too Many Requests"}', 429),
        (200, b'{"ok": false}', 502),
        (200, b'{"ok": false, "error_code": 7}', 502),
        (200, b'{"ok": true}', 200),
        (200, b"<html>maintenance</html>", 200),
        (200, b"[]", 200),
        (403, b'{"ok": false, "error_code": 429}', 403),
    ],
)
def test_a_polite_refusal_has_the_status_that_it_names(code: int, body: bytes, told: int) -> None:
    assert told_status(code, body) == told
