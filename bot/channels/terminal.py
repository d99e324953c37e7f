"""The terminal as a channel: the same conversation, with no account anywhere.

Words are typed as on a phone. Under a message, its buttons are numbered; ``/2`` presses the
second (a bare number could be a temperature). ``/place 52.2 -1.5`` shares a place, ``/photo``
tells of a picture, ``/file PATH`` sends a text file, ``/quit`` or Ctrl-D ends; what is planned is
kept for the next time.
"""

import asyncio
import base64
import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Final
from zoneinfo import ZoneInfo

import structlog
from rich.console import Console
from rich.text import Text

from bot.channels.inbox_worker import InboxWorker
from bot.channels.markup import runs
from bot.channels.painter import PHOTO, Gather, Painter, as_it_is, gathered_and_drawn
from bot.conversation.incoming import FILE_BYTES, INLINE, Incoming, Receiver, readable, slash
from bot.conversation.stored import incoming_of, row_of
from scheduling.clock import Clock
from scheduling.ports import Attachment, Letter, Person, Store
from scheduling.waking.carrying import Sent

CHANNEL: Final = "terminal"
ADDRESS: Final = "you"

HELP = "Type as you would on a phone. /1 presses the first button, /quit ends."
_PRESS = re.compile(r"^/(\d{1,2})$")
_PLACE = re.compile(r"^/place\s+(-?\d+(?:\.\d+)?)[,\s]+(-?\d+(?:\.\d+)?)\s*$")

ReadLine = Callable[[], str | None]
"""Waits for a typed line, in a thread; None at the end."""

_log = structlog.get_logger(__name__)


class TypingError(ValueError):
    """What was typed cannot be meant; the text says what to do."""


@dataclass
class Buttons:
    """What ``/1``, ``/2``, … press now."""

    shown: list[tuple[str, str]] = field(default_factory=list)

    def show(self, letter: Letter) -> list[str]:
        """Take the letter's buttons, if it has any; returns a line for each."""
        chats = letter.parcel.chats
        # Past us nothing can be opened from here.
        labels = [label for row in letter.parcel.buttons for label in row if label not in chats]
        if not labels:
            return []
        self.shown = [(label, letter.button_keys.get(label, "")) for label in labels]
        return [f"/{number} {label}" for number, label in enumerate(labels, 1)]

    def key(self, number: int) -> str:
        """The key behind a number. Raises TypingError."""
        if not 1 <= number <= len(self.shown):
            raise TypingError(
                f"There is no button {number}; "
                + (f"1 to {len(self.shown)} can be pressed." if self.shown else "none are shown.")
            )
        return self.shown[number - 1][1]


class TerminalCarrier:
    """A ``Carrier`` that prints."""

    def __init__(
        self,
        console: Console,
        clock: Clock,
        painter: Painter,
        folder: Path,
        gather: Gather = as_it_is,
    ) -> None:
        self._console = console
        self._clock = clock
        self._painter = painter
        self._gather = gather
        self._folder = folder
        self._count = 0
        self.buttons = Buttons()

    async def send(self, letter: Letter, person: Person, edit_ref: str | None = None) -> Sent:
        """Show ``letter``. An edited message is shown again: a terminal has no memory."""
        self._count += 1
        head = Text(f"{self._time(person)}  ", style="dim")
        for run in runs(letter.parcel.text):
            style = " ".join(n for n, on in (("bold", run.bold), ("italic", run.italic)) if on)
            head.append(run.text, style=style)
        self._console.print(head)
        for attachment in letter.parcel.attachments:
            self._console.print(Text(await self._kept(attachment), style="dim"))
        for line in self.buttons.show(letter):
            self._console.print(Text(f"       {line}", style="cyan"))
        return Sent(edit_ref or str(self._count))

    async def _kept(self, attachment: Attachment) -> str:
        """Draw it into the folder; a line that says where it is and what it shows."""
        alt = f" {attachment.alt}" if attachment.alt else ""
        if attachment.kind == PHOTO:
            return f"       [photo]{alt}"
        path = self._folder / f"{self._count:04d}-{Path(attachment.name).name}"
        try:
            drawn = await gathered_and_drawn(self._painter, self._gather, attachment)
            self._folder.mkdir(parents=True, exist_ok=True)
            await asyncio.to_thread(path.write_bytes, drawn.content)
        except Exception:  # noqa: BLE001 - a fault in a picture must not stop the words
            _log.exception("not drawn", kind=attachment.kind)
            return f"       (the {attachment.kind} could not be drawn){alt}"
        return f"       {path}{alt}"

    def _time(self, person: Person) -> str:
        return f"{self._clock.now().astimezone(ZoneInfo(person.zone)):%H:%M}"


class TerminalChannel:
    """Reads typed lines into the inbox and works through it."""

    def __init__(
        self,
        store: Store,
        clock: Clock,
        receiver: Receiver,
        carrier: TerminalCarrier,
        console: Console,
        read_line: ReadLine,
        name: str = "",
    ) -> None:
        self._store = store
        self._clock = clock
        self._console = console
        self._read_line = read_line
        self._buttons = carrier.buttons
        self._name = name
        self._count = 0
        self._working: asyncio.Task[None] | None = None
        self.worker = InboxWorker(CHANNEL, store, receiver, incoming_of)

    async def run(self) -> None:
        """Talk until the end of input or ``/quit``."""
        self._console.print(Text(HELP, style="dim"))
        await self._take_in("/start")
        self._working = asyncio.create_task(self.worker.run(), name="terminal inbox")
        try:
            while (typed := await asyncio.to_thread(self._read_line)) is not None:
                if typed.strip() in ("/quit", "/exit"):
                    break
                if typed.strip():
                    await self._take_in(typed.strip())
        finally:
            await self.finish()

    async def finish(self) -> None:
        """Act on what has been typed."""
        self.worker.finish()
        if self._working is not None:
            await self._working

    async def _take_in(self, typed: str) -> None:
        try:
            incoming = self._read(typed)
        except TypingError as error:
            self._console.print(Text(str(error), style="yellow"))
            return
        async with self._store.write() as unit:
            await unit.inbox.store(row_of(incoming))
            await unit.commit()
        self.worker.wake()

    def _read(self, typed: str) -> Incoming:
        """What was typed. Raises TypingError."""
        self._count += 1
        now = self._clock.now()
        key = f"{now.isoformat()}/{self._count}"
        said = Incoming(CHANNEL, key, ADDRESS, now, self._name, message=key)
        if press := _PRESS.match(typed):
            return replace(said, press=self._buttons.key(int(press[1])))
        if typed.startswith("/place"):
            return replace(said, location=_place(typed))
        if typed.startswith("/file"):
            return replace(said, file=_file(typed.removeprefix("/file").strip()))
        if typed.startswith("/photo"):
            caption = typed.removeprefix("/photo").strip() or None
            return replace(said, photo=f"{CHANNEL}:{key}", text=caption)
        for label, button in self._buttons.shown:
            if label.casefold() == typed.casefold():
                return replace(said, press=button)
        text = readable(typed)
        return replace(said, text=text, command=slash(text))


def _file(path: str) -> str:
    try:
        content = Path(path).expanduser().read_bytes()
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        raise TypingError(f"Cannot read {path or 'a file without a name'}: {why}.") from None
    if len(content) > FILE_BYTES:
        raise TypingError(f"{path} is too large to be a file of ways.")
    return INLINE + base64.b64encode(content).decode()


def _place(typed: str) -> tuple[float, float]:
    told = _PLACE.match(typed)
    place: Any = tuple(float(part) for part in told.groups()) if told else None
    if place is None or abs(place[0]) > 90 or abs(place[1]) > 180:
        raise TypingError("Write latitude and longitude in degrees, like /place 52.2 -1.5")
    return place[0], place[1]
