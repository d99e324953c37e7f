"""A rehearsal lived through on a phone: what is for the oven, and what is for the bot."""

import re
from collections.abc import AsyncIterator, Callable

import pytest
from typer.testing import CliRunner

from bot.__main__ import app_for
from bot.channels import in_real_time
from bot.commands.on_phone import on_stage
from bot.commands.ovenfile import example, read_oven
from bot.conversation.meeting import first_run_codes
from bot.rehearsal.owners import Kind
from bot.rehearsal.staging import Scene, Weather, scene
from bot.settings import read_settings
from tests.botapi.server import TOKEN, BotApi
from tests.end_to_end.test_break_in_by_chat import SET_UP

ANA = 7
PACE = 60.0


@pytest.fixture
async def api() -> AsyncIterator[BotApi]:
    async with BotApi() as api:
        yield api


@pytest.fixture
def invented() -> Scene:
    return scene(read_oven(example({})).make_up, Kind.CAREFUL, Weather.DRY, 3)


class Player:
    """Reads what is new, one answer after the other."""

    def __init__(self, api: BotApi) -> None:
        self.api, self.read = api, 0

    async def say(self, words: str, *until: str) -> str:
        """What is new once every one of these words has been said."""
        await self.api.say(ANA, words)
        try:
            await self.api.until(self._told(until), 30)
        except TimeoutError as error:
            raise AssertionError(f"after {words!r} only: {self._new()}") from error
        new = self._new()
        self.read = len(self.api.read(ANA))
        return new

    def _told(self, until: tuple[str, ...]) -> Callable[[], bool]:
        return lambda: all(words in self._new() for words in until)

    def _new(self) -> str:
        return "\n".join(shown.text for shown in self.api.read(ANA)[self.read :])


async def test_the_oven_is_looked_at_and_time_leaps_while_the_bot_leads(
    api: BotApi, invented: Scene, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(in_real_time, "APART_S", 0.05)
    settings = read_settings(None, token=TOKEN, telegram_url=api.url)
    ana = Player(api)
    async with on_stage(settings, invented, PACE):
        opening = await ana.say(
            f"/start {first_run_codes(TOKEN).owner}", "°C or °F", "Nothing burns"
        )
        assert "80 cm wide inside" in opening
        assert "An hour passes in 60 seconds" in opening
        looked = await ana.say("look", "No fire.")
        shown = re.search(r"The display shows (\d+) °C at the top", looked)
        assert shown is not None
        assert abs(int(shown[1]) - invented.oven.crown_c) < 15
        before = invented.oven.now
        for answer in SET_UP[1:-1]:
            await ana.say(answer, " of 11 ")
        await ana.say(SET_UP[-1], "Light nothing before")
        leapt = await ana.say("Skip!", "It is now", "No fire before")
        assert "display" not in leapt
        assert "0.0 kg of wood" in await ana.say("truth", "In truth the top is at")
        assert (invented.oven.now - before).days >= 1


def test_without_a_token_it_says_what_is_missing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("STOKEWATCH_TOKEN", raising=False)
    done = CliRunner().invoke(app_for(["rehearse"]), ["rehearse", "--pace", "60"])
    assert done.exit_code == 2
    assert "STOKEWATCH_TOKEN" in done.output
