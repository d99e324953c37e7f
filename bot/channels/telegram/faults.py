"""What a failed call to Telegram means for a letter: told by the cause, never by the class alone.

===============================================  =========  ==============================
what happened                                    delivered  raised
===============================================  =========  ==============================
no connection, or none free in the pool          no         NotSent
429 with its wait                                no         NotSent (``retry_after``)
401, 404, 409: the bot itself is not let in      no         NotSent
read or write timed out, connection cut, 5xx     nobody     Unknown
  an answer that is not JSON                     nobody     Unknown
403; 400 "chat not found"                        no         Blocked
any other 400, 413, a chat that moved            no         Refused
===============================================  =========  ==============================

``BadRequest`` is a subclass of ``NetworkError`` in the library, so it is looked at first.
Source of the codes: core.telegram.org/bots/api, "Making requests" and "ResponseParameters".
"""

from datetime import timedelta

import httpx
from telegram.error import (
    BadRequest,
    ChatMigrated,
    Conflict,
    EndPointNotFound,
    Forbidden,
    InvalidToken,
    RetryAfter,
    TelegramError,
)

from scheduling.waking.carrying import Blocked, CarrierError, NotSent, Refused, Unknown

_NOT_SENT = (
    httpx.ConnectError,
    httpx.ConnectTimeout,
    httpx.PoolTimeout,
    httpx.UnsupportedProtocol,
    httpx.LocalProtocolError,
    httpx.ProxyError,
)


def fault_of(error: TelegramError) -> CarrierError:
    """The carrier's word for ``error``."""
    why = str(error)
    match error:
        case RetryAfter():
            return NotSent(why, retry_after=wait_of(error))
        case Forbidden():
            return Blocked(why)
        case BadRequest() if "chat not found" in why.lower():
            return Blocked(why)
        case BadRequest() | ChatMigrated():
            return Refused(why)
        case InvalidToken() | Conflict() | EndPointNotFound():
            return NotSent(why)
        case _ if isinstance(error.__cause__, _NOT_SENT):
            return NotSent(why)
        case _ if "(413)" in why or "entity too large" in why.lower():
            return Refused(why)
        case _:
            return Unknown(why)


def wait_of(error: RetryAfter) -> timedelta:
    """How long Telegram wants us to wait."""
    told = error.retry_after
    return told if isinstance(told, timedelta) else timedelta(seconds=told)
