"""Telegram as a channel: fetches by polling or webhook, works through the inbox, carries."""

import asyncio
import time
from collections.abc import AsyncIterator, Callable, Coroutine, Sequence
from contextlib import asynccontextmanager
from dataclasses import dataclass
from typing import Any

import httpx
import structlog
from pydantic import SecretStr
from telegram import Bot
from telegram.constants import ChatAction, ParseMode
from telegram.error import InvalidToken, RetryAfter, TelegramError

from bot.channels.inbox_worker import InboxWorker
from bot.channels.painter import Gather, Painter, SentFiles, as_it_is
from bot.channels.telegram.answers import ToldRequest
from bot.channels.telegram.carrier import TelegramCarrier
from bot.channels.telegram.faults import wait_of
from bot.channels.telegram.fetching import FIRST_PAUSE_S, LONGEST_PAUSE_S, Line, Polling
from bot.channels.telegram.files import TelegramFiles, files_url
from bot.channels.telegram.intake import Intake
from bot.channels.telegram.lanes import connections
from bot.channels.telegram.menus import MenuBook, Menus
from bot.channels.telegram.translation import CHANNEL, KINDS, incoming, press_of
from bot.channels.telegram.unkept import Unkept
from bot.channels.telegram.webhook import Route, WebhookServer
from bot.conversation.incoming import Incoming, Receiver
from bot.listening import listening_on
from scheduling.clock import Clock
from scheduling.ports import InboxRow, Store
from storage.faults import of_the_store

CONNECTIONS = 32
POLL_S = 10.0
SILENT_AFTER_S = 25.0
"""Two polls and what an answer takes: it is known within half a minute."""

REVIVED_EVERY_S = 60.0
"""A line that is only slow to come back is left to its own patience meanwhile."""

FIRST_CALL_S = 2.0
"""So long the first call is waited for; without an answer we begin all the same."""
TYPING_AFTER_S = 0.8
SHUTDOWN_S = 20.0

ASIDES = 64
"""Presses that are acknowledged at once; of more in a moment the button turns until it tires."""

_log = structlog.get_logger(__name__)


@dataclass(frozen=True, slots=True)
class Webhook:
    """Where Telegram delivers to: ``url`` as it sees us, and where we listen for it.

    Without ``secret`` anybody who knows the URL could speak for any owner.
    """

    url: str
    secret: SecretStr
    listen: str = "127.0.0.1"
    port: int = 8443
    path: str = "updates"


@dataclass(frozen=True, slots=True)
class Timeouts:
    """Of one call to Telegram, in seconds."""

    connect_s: float = 5.0
    read_s: float = 10.0
    write_s: float = 10.0
    media_s: float = 30.0
    poll_s: float = POLL_S


class TelegramChannel:
    """``start`` to fetch and act, ``stop_taking_in`` and ``close`` to end; ``carrier`` sends."""

    def __init__(
        self,
        token: SecretStr,
        store: Store,
        clock: Clock,
        receiver: Receiver,
        painter: Painter,
        *,
        base_url: str = "https://api.telegram.org/bot",
        webhook: Webhook | None = None,
        menus: MenuBook | None = None,
        timeouts: Timeouts | None = None,
        gather: Callable[[SentFiles], Gather] | None = None,
        connected: Callable[[str | None], None] = lambda _: None,
        unkept: str = "",
        beside: Sequence[Route] = (),
        monotonic: Callable[[], float] = time.monotonic,
    ) -> None:
        """``gather`` makes what fetches for papers, given where photos are had. ``connected`` is
        told the bot's user name. ``unkept`` is said to whoever writes while nothing can be kept.
        ``beside`` is what else is answered where the webhook listens.
        ``monotonic`` is by what Telegram is silent: no clock that may jump."""
        self._monotonic = monotonic
        self._connected = connected
        self._unkept = Unkept(lambda chat: self._say(chat, unkept), monotonic)
        self._webhook = webhook
        self._beside = beside
        self._timeouts = timeouts or Timeouts()
        self._bot = Bot(
            token.get_secret_value(),
            base_url=base_url,
            base_file_url=files_url(base_url),
            request=ToldRequest(
                connection_pool_size=CONNECTIONS,
                connect_timeout=self._timeouts.connect_s,
                read_timeout=self._timeouts.read_s,
                write_timeout=self._timeouts.write_s,
                media_write_timeout=self._timeouts.media_s,
                httpx_kwargs=connections(CONNECTIONS),
            ),
        )
        self.files = TelegramFiles(self._bot)
        papers = gather(self.files) if gather is not None else as_it_is
        book = menus or MenuBook()
        self._menus = Menus(self._bot, book, store, self._if_room, monotonic)
        self.carrier = TelegramCarrier(self._bot, painter, papers, self._menus.suit)
        self.worker = InboxWorker(
            CHANNEL, store, receiver, incoming, self._attending, self._not_worked_on
        )
        self._intake = Intake(store, clock, self._stored, self._not_kept)
        self._getting_updates = f"{base_url}{token.get_secret_value()}/getUpdates"
        self._door: WebhookServer | None = None
        self._polling: Polling | None = None
        self._fetching: asyncio.Task[None] | None = None
        self._is_registered = False
        self._line: httpx.AsyncClient | None = None
        self._working: asyncio.Task[None] | None = None
        self._asides: set[asyncio.Task[None]] = set()
        self._answered_s: float | None = None
        self._revived_s = -REVIVED_EVERY_S
        self._connecting: asyncio.Task[None] | None = None
        self._unreached = ""

    async def start(self) -> None:
        """Connect, fetch, and work through what waited since the last run.

        Where Telegram cannot be reached all begins without it, and it is tried until it can be.
        Raises InvalidToken when Telegram does not know the bot, PortTakenError for a webhook's.
        """
        self._connecting = asyncio.create_task(self._connect(), name="first call")
        await asyncio.wait({self._connecting}, timeout=FIRST_CALL_S)
        if self._connecting.done():
            self._connecting.result()
        self._answered_s = self._monotonic()
        await self._fetch()
        self._work()

    @property
    def bot_name(self) -> str | None:
        """The bot's user name, once it is connected."""
        try:
            return self._bot.username
        except RuntimeError:
            return None

    async def stop_taking_in(self) -> None:
        """Fetch no more and finish the rows in hand; what else is stored waits for the next
        start. Sending still works."""
        await self._halt()
        self.worker.stop()
        if self._working is not None:
            done, _ = await asyncio.wait({self._working}, timeout=SHUTDOWN_S)
            if not done:
                _log.error("a message was still being worked on; it is done at the next start")
                self._working.cancel()

    async def close(self) -> None:
        """Disconnect."""
        if self._connecting is not None:
            self._connecting.cancel()
            await asyncio.gather(self._connecting, return_exceptions=True)
        await asyncio.gather(*self._asides, return_exceptions=True)
        await self._bot.shutdown()

    def fault(self) -> str | None:
        """What is wrong with fetching, or None."""
        if self._working is not None and self._working.done():
            return "the inbox is not worked on"
        if self._unreached:
            return f"Telegram cannot be reached: {self._unreached}"
        if self._fetching is None or self._fetching.done():
            return "updates are not fetched"
        if self._door is not None and not self._is_registered:
            return "Telegram has not been told where to deliver"
        if not self._is_fetching():
            return f"no answer to polling for {int(self._silence_s())} s"
        return None

    async def revive(self) -> None:
        """Start again what has died: working, fetching. Raises what fetching raises."""
        if self._working is None or self._working.done():
            self._work()
        if self._is_fetching() or self._monotonic() - self._revived_s < REVIVED_EVERY_S:
            return
        # The silence goes on until it is broken: only an answer says that all is well again.
        self._revived_s = self._monotonic()
        await self._halt()
        await self._fetch()

    async def _connect(self) -> None:
        """Who we are; once it is known, the menu. Raises InvalidToken."""
        pause_s = FIRST_PAUSE_S
        while True:
            try:
                await self._bot.initialize()
                break
            except InvalidToken:
                self._unreached = "it does not know this token"
                raise
            except TelegramError as error:
                self._unreached = str(error)
                _log.warning("Telegram cannot be reached; it is tried again", why=str(error))
                told_s = wait_of(error).total_seconds() if isinstance(error, RetryAfter) else 0.0
            await asyncio.sleep(max(pause_s, told_s))
            pause_s = min(2 * pause_s, LONGEST_PAUSE_S)
        self._unreached = ""
        self._connected(self.bot_name)
        await self._menus.begin()

    def _work(self) -> None:
        self._working = asyncio.create_task(self.worker.run(), name="telegram inbox")

    def _is_fetching(self) -> bool:
        if self._fetching is None or self._fetching.done():
            return False
        # A polling task that died looks like one that runs, but for its silence.
        return self._webhook is not None or self._silence_s() <= SILENT_AFTER_S

    async def _halt(self) -> None:
        """Fetch no more; what has been stored is acknowledged."""
        if self._fetching is not None:
            self._fetching.cancel()
            await asyncio.gather(self._fetching, return_exceptions=True)
            self._fetching = None
        if self._door is not None:
            await self._door.close()
            self._door = None
        if self._line is not None:
            if self._polling is not None:
                await self._polling.acknowledge()
            await self._line.aclose()
            self._line = None

    async def _fetch(self) -> None:
        if (hook := self._webhook) is not None:
            self._is_registered = False
            secret = hook.secret.get_secret_value()
            self._door = WebhookServer(hook.path, secret, self._intake, self._beside)
            with listening_on(hook.listen, hook.port, "STOKEWATCH_WEBHOOK_PORT"):
                self._door.open(hook.listen, hook.port)
            self._fetching = asyncio.create_task(self._register(hook), name="webhook")
            return
        told = self._timeouts
        timeout = httpx.Timeout(told.read_s, connect=told.connect_s, write=told.write_s)
        self._line = httpx.AsyncClient(timeout=timeout)
        line = Line(self._line, self._getting_updates, told.poll_s)
        self._polling = Polling(line, self._intake, self._heard_from, self._bot.delete_webhook)
        self._fetching = asyncio.create_task(self._polling.run(), name="polling")

    async def _register(self, hook: Webhook) -> None:
        """Tell Telegram where to deliver, until it has heard it."""
        pause_s = FIRST_PAUSE_S
        while not self._is_registered:
            try:
                await self._bot.set_webhook(
                    f"{hook.url.rstrip('/')}/{hook.path}",
                    secret_token=hook.secret.get_secret_value(),
                    allowed_updates=list(KINDS),
                )
                self._is_registered = True
            except TelegramError as error:
                _log.warning("the webhook was not set", why=str(error))
                await asyncio.sleep(pause_s)
                pause_s = min(2 * pause_s, LONGEST_PAUSE_S)
        await asyncio.Event().wait()

    def _heard_from(self) -> None:
        self._answered_s = self._monotonic()

    def _silence_s(self) -> float:
        now_s = self._monotonic()
        return now_s - (self._answered_s if self._answered_s is not None else now_s)

    def _stored(self, row: InboxRow) -> None:
        """A new row: wake the worker, and let a pressed button stop turning."""
        self.worker.wake()
        if '"callback_query"' not in row.body or len(self._asides) >= ASIDES:
            return
        query = press_of(row.body)
        if query is not None:
            self._aside(self._acknowledge(query))

    def _not_kept(self, chat: str) -> None:
        self._if_room(self._unkept.tell(chat))

    def _if_room(self, work: Coroutine[Any, Any, None]) -> None:
        """Beside everything else, unless there is too much of that already."""
        if len(self._asides) < ASIDES:
            self._aside(work)
        else:
            work.close()

    def _not_worked_on(self, row: InboxRow, error: Exception) -> None:
        if of_the_store(error):
            self._not_kept(row.chat)

    async def _say(self, chat: str, text: str) -> None:
        if text:
            await self._bot.send_message(int(chat), text, parse_mode=ParseMode.HTML)

    async def _acknowledge(self, query: str) -> None:
        try:
            await self._bot.answer_callback_query(query)
        except TelegramError as error:
            _log.info("press not acknowledged", why=str(error))

    @asynccontextmanager
    async def _attending(self, message: Incoming) -> AsyncIterator[None]:
        """Show that an answer is being worked on, if it takes a moment."""
        typing = asyncio.create_task(self._type(message.chat))
        try:
            yield
        finally:
            typing.cancel()

    async def _type(self, chat: str) -> None:
        await asyncio.sleep(TYPING_AFTER_S)
        try:
            await self._bot.send_chat_action(chat, ChatAction.TYPING)
        except TelegramError as error:
            _log.debug("typing not shown", why=str(error))

    def _aside(self, work: Coroutine[Any, Any, None]) -> None:
        task = asyncio.create_task(work)
        self._asides.add(task)
        task.add_done_callback(self._asides.discard)
