"""The terminal: typed as on a phone, pressed by number, shown in plain lines."""

import io
from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path

import pytest
from rich.console import Console

from bot.channels.terminal import TerminalCarrier, TerminalChannel
from bot.conversation.incoming import Incoming, Slash
from scheduling.choice import CommandName
from scheduling.clock import SteppedClock
from scheduling.outcome import Urgency
from scheduling.ports import Attachment, Letter, Parcel, Person
from tests.bot.channels.inbox_fake import StoreFake

NINE = datetime(2026, 5, 13, 8, 0, tzinfo=UTC)
YOU = Person(id="p1", channel="terminal", address="you", name="you", zone="Europe/London")


def painter(kind: str, data: Mapping[str, object]) -> bytes:
    if kind == "broken":
        raise ZeroDivisionError
    return b"\x89PNG\r\n\x1a\n"


class Terminal:
    """A terminal whose typed lines are given beforehand."""

    def __init__(self, folder: Path) -> None:
        self.screen = io.StringIO()
        self.console = Console(file=self.screen, width=100, color_system=None)
        self.clock = SteppedClock(NINE)
        self.carrier = TerminalCarrier(self.console, self.clock, painter, folder)
        self.received: list[Incoming] = []

    async def went_unheard(self, incoming: Incoming, why: str) -> None:
        raise NotImplementedError(why)

    async def receive(self, incoming: Incoming) -> None:
        self.received.append(incoming)

    async def show(self, text: str, *labels: str, attachments: tuple[Attachment, ...] = ()) -> None:
        parcel = Parcel(text=text, buttons=(labels,) if labels else (), attachments=attachments)
        keys = {label: f"key of {label}" for label in labels}
        letter = Letter("L1", "p1", None, parcel, Urgency.FIRE, NINE, NINE, button_keys=keys)
        await self.carrier.send(letter, YOU)

    async def type(self, *lines: str) -> list[Incoming]:
        left = [*lines]
        store = StoreFake().as_store()
        channel = TerminalChannel(
            store,
            self.clock,
            self,
            self.carrier,
            self.console,
            lambda: left.pop(0) if left else None,
        )
        await channel.run()
        await channel.finish()
        return self.received[1:]


@pytest.fixture
def terminal(tmp_path: Path) -> Terminal:
    return Terminal(tmp_path / "pictures")


async def test_a_run_begins_with_a_start_and_ends_with_the_input(terminal: Terminal) -> None:
    said = await terminal.type("top 152", "", "  lit ", "/quit", "never read")
    assert terminal.received[0].command == Slash(CommandName.START)
    assert [incoming.text for incoming in said] == ["top 152", "lit"]


async def test_a_message_is_shown_with_its_time_and_numbered_buttons(terminal: Terminal) -> None:
    await terminal.show("<b>Stoke</b> now & read [top]", "Stoked", "Later")
    assert terminal.screen.getvalue().splitlines() == [
        "09:00  Stoke now & read [top]",
        "       /1 Stoked",
        "       /2 Later",
    ]


async def test_a_button_is_pressed_by_number_or_label(terminal: Terminal) -> None:
    await terminal.show("Stoke", "Stoked", "Later")
    said = await terminal.type("/2", "stoked", "2")
    assert [incoming.press for incoming in said] == ["key of Later", "key of Stoked", None]
    assert said[2].text == "2"


async def test_a_button_that_is_not_there_is_said(terminal: Terminal) -> None:
    assert await terminal.type("/1") == []
    assert "There is no button 1; none are shown." in terminal.screen.getvalue()


async def test_places_and_photos_are_told_in_words(terminal: Terminal) -> None:
    place, photo = await terminal.type("/place 52.2, -1.5", "/photo a crack?", "/place nowhere")
    assert place.location == (52.2, -1.5)
    assert photo.photo is not None
    assert photo.text == "a crack?"
    assert "like /place 52.2 -1.5" in terminal.screen.getvalue()


async def test_pictures_are_kept_in_a_folder_and_told_in_words(
    terminal: Terminal, tmp_path: Path
) -> None:
    plan = Attachment(kind="plan", name="plan.png", alt="Six fires, 90 to 400 °C.")
    broken = Attachment(kind="broken", name="../../x.png", alt="A wall.")
    await terminal.show("Your plan", attachments=(plan, broken))
    (kept,) = (tmp_path / "pictures").iterdir()
    assert kept.read_bytes().startswith(b"\x89PNG")
    shown = " ".join(terminal.screen.getvalue().split())
    assert "Six fires, 90 to 400 °C." in shown
    assert "(the broken could not be drawn) A wall." in shown
