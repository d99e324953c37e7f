"""Getting updates in without losing one: screened, then stored, and only then acknowledged."""

import asyncio
import json
from collections.abc import Callable
from typing import Any

import structlog
from telegram import Update
from telegram._utils.types import JSONDict
from telegram.error import TelegramError
from telegram.request import HTTPXRequest, RequestData

from bot.channels.telegram.answers import ToldRequest
from bot.channels.telegram.translation import CHANNEL, chat_of
from scheduling.clock import Clock
from scheduling.ports import InboxRow, Store

_log = structlog.get_logger(__name__)


class UpdatesRequest(ToldRequest):
    """The connection that asks for updates.

    One update that the library cannot read would hold back all others for ever, because the
    whole batch is fetched again. Here it is wrapped, so that it passes and can be set aside.
    """

    answered: Callable[[], None] = staticmethod(lambda: None)
    """Called after each answer: a polling task that has died is known by its silence."""

    async def do_request(self, *args: Any, **kwargs: Any) -> tuple[int, bytes]:
        """As the library does; notes that an answer came."""
        code, body = await super().do_request(*args, **kwargs)
        if code == 200:
            self.answered()
        return code, body

    @staticmethod
    def parse_json_payload(payload: bytes) -> JSONDict:
        """Parse an answer and wrap the updates that the library could not read."""
        answer = HTTPXRequest.parse_json_payload(payload)
        if not isinstance(answer, dict):
            raise TelegramError("Invalid server response")
        if isinstance(updates := answer.get("result"), list):
            answer["result"] = [screened for raw in updates if (screened := _screen(raw))]
        return answer


class DurableQueue(asyncio.Queue[object]):
    """The queue that the library puts updates into: each is stored before ``put`` returns.

    The library acknowledges an update once ``put`` has returned, in polling as in webhook mode.
    Nothing is ever taken out here: the inbox worker reads the rows.
    """

    def __init__(
        self, store: Store, clock: Clock, stored: Callable[[dict[str, Any]], None]
    ) -> None:
        super().__init__()
        self._store = store
        self._clock = clock
        self._stored = stored

    async def put(self, item: object) -> None:
        """Store an update. Raises TelegramError when it cannot be: it is then fetched again
        (anything else would end the polling task without a word)."""
        if not isinstance(item, Update):
            raise TelegramError("only updates come this way")
        body = item.to_json()
        update: dict[str, Any] = json.loads(body)
        row = InboxRow(CHANNEL, str(item.update_id), chat_of(update), body, self._clock.now())
        try:
            async with self._store.write() as unit:
                is_new = await unit.inbox.store(row)
                await unit.commit()
        except Exception as error:
            _log.exception("not stored", update=item.update_id)
            raise TelegramError("the update could not be stored") from error
        if is_new:
            self._stored(update)


def _screen(raw: object) -> JSONDict | None:
    """``raw``, or a wrapper around it that the library reads; None if it has no number."""
    number = raw.get("update_id") if isinstance(raw, dict) else None
    if not isinstance(raw, dict) or not isinstance(number, int):
        _log.error("an update without a number was left out")
        return None
    try:
        update = Update.de_json(raw, None)
        if update.to_json():
            return raw
    except Exception as error:  # noqa: BLE001 - whatever it stumbles over, others must pass
        _log.warning("unreadable update", update=number, why=repr(error))
    return {"update_id": number, "unreadable": raw}


__all__ = ["DurableQueue", "RequestData", "UpdatesRequest"]
