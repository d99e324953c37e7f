"""Answers that say no with the status of a yes.

A proxy or a test server may answer 200 to a call that failed: ``{"ok": false, "error_code": 429}``.
The library looks for the result of such an answer, finds none, and what comes of it depends on the
call: polling went on at once, seventy times a second. Here the answer gets the status that it
names, so that it is met like any other failure, with its wait.
"""

import json
from typing import Any

from telegram.request import HTTPXRequest

BAD_GATEWAY = 502
"""Of an answer that names no code of its own."""


class ToldRequest(HTTPXRequest):
    """A connection on which a failure looks like one."""

    async def do_request(self, *args: Any, **kwargs: Any) -> tuple[int, bytes]:
        """As the library does, but for the status of what was refused politely."""
        code, body = await super().do_request(*args, **kwargs)
        return told_status(code, body), body


def told_status(code: int, body: bytes) -> int:
    """The status that an answer of ``code`` should have had."""
    # Every answer to a call that went well has a result: most need no second look.
    if code != 200 or b'"result"' in body:
        return code
    try:
        answer = json.loads(body)
    except ValueError:
        return code
    if not isinstance(answer, dict) or answer.get("ok") is True:
        return code
    told = answer.get("error_code")
    return told if isinstance(told, int) and 400 <= told < 600 else BAD_GATEWAY
