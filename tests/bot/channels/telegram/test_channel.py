"""Telegram end to end at the edge: updates in by polling or webhook, nothing lost, no crash."""

import asyncio
import io
import socket
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pydantic import SecretStr
from telegram.error import InvalidToken

from bot.channels.telegram.channel import TelegramChannel, Timeouts, Webhook
from bot.channels.telegram.menus import MenuBook
from bot.conversation.incoming import Incoming
from bot.listening import PortTakenError
from scheduling.clock import SteppedClock
from scheduling.ports import InboxState
from tests.bot.channels.inbox_fake import StoreFake
from tests.botapi.faults import (
    BadGateway,
    Cut,
    Fault,
    Garbage,
    Hang,
    PoliteRefusal,
    Refusal,
    TooMany,
)
from tests.botapi.server import TOKEN, BotApi

SECRET = "a-secret-of-the-webhook-0123"
QUICK = Timeouts(connect_s=0.5, read_s=0.5, write_s=0.5, media_s=0.5, poll_s=0.2)


class Listening:
    def __init__(self) -> None:
        self.received: list[Incoming] = []
        self.news = asyncio.Condition()

    async def went_unheard(self, incoming: Incoming, why: str) -> None:
        raise NotImplementedError(why)

    async def receive(self, incoming: Incoming) -> None:
        async with self.news:
            self.received.append(incoming)
            self.news.notify_all()

    @property
    def texts(self) -> list[str | None]:
        return [incoming.text for incoming in self.received]

    async def until(self, ready: Callable[[], bool]) -> None:
        async with self.news:
            await asyncio.wait_for(self.news.wait_for(ready), 10)


class House:
    """A channel with its surroundings; ``run`` is one run of the process."""

    def __init__(self, api: BotApi) -> None:
        self.api = api
        self.store = StoreFake()
        self.clock = SteppedClock(datetime(2026, 5, 13, 9, 0, tzinfo=UTC))
        self.listening = Listening()
        self.seconds = 0.0

    @asynccontextmanager
    async def run(self, webhook: Webhook | None = None) -> AsyncIterator[TelegramChannel]:
        channel = TelegramChannel(
            SecretStr(TOKEN),
            self.store.as_store(),
            self.clock,
            self.listening,
            lambda kind, data: b"",
            base_url=self.api.url,
            webhook=webhook,
            menus=MenuBook((("now", "What to do now"),)),
            timeouts=QUICK,
            unkept="<b>nothing</b> is kept",
            monotonic=lambda: self.seconds,
        )
        await channel.start()
        try:
            yield channel
        finally:
            await channel.stop_taking_in()
            await channel.close()


@pytest.fixture
async def house() -> AsyncIterator[House]:
    async with BotApi() as api:
        yield House(api)


async def test_what_people_write_arrives_in_order_and_is_done(house: House) -> None:
    async with house.run():
        for number in range(5):
            await house.api.say(7, f"top {number}")
        await house.listening.until(lambda: len(house.listening.received) == 5)
    assert house.listening.texts == [f"top {n}" for n in range(5)]
    assert set(house.store.inbox.states.values()) == {InboxState.DONE}
    assert [command.command for command in house.api.commands] == ["now"]


async def test_what_was_acknowledged_is_never_fetched_again(house: House) -> None:
    async with house.run():
        await house.api.say(7, "lit")
        await house.listening.until(lambda: bool(house.listening.received))
    assert not house.api.waiting
    async with house.run():
        await house.api.say(7, "top 90")
        await house.listening.until(lambda: len(house.listening.received) == 2)
    assert house.listening.texts == ["lit", "top 90"]


async def test_nothing_is_acknowledged_that_could_not_be_stored(house: House) -> None:
    house.store.inbox.broken = 2
    await house.api.say(7, "lit")
    async with house.run():
        await house.listening.until(lambda: bool(house.listening.received))
    assert house.listening.texts == ["lit"]


async def test_a_doubled_update_has_one_effect(house: House) -> None:
    async with house.run():
        await house.api.say(7, "lit")
        await house.listening.until(lambda: bool(house.listening.received))
        first = next(iter(house.store.inbox.rows.values()))
        update = {"update_id": int(first.key), "message": {"text": "lit"}}
        await house.api.hand_in(update)
        await house.api.say(7, "top 90")
        await house.listening.until(lambda: len(house.listening.received) == 2)
    assert house.listening.texts == ["lit", "top 90"]


async def test_updates_out_of_order_all_arrive(house: House) -> None:
    def said(number: int) -> dict[str, Any]:
        chat, who = {"id": 7, "type": "private"}, {"id": 7, "is_bot": False, "first_name": "Ana"}
        message = {"message_id": number, "date": 1, "chat": chat, "from": who, "text": f"m{number}"}
        return {"update_id": number, "message": message}

    async with house.run():
        for number in (5002, 5001, 5003):
            await house.api.hand_in(said(number))
        await house.listening.until(lambda: "m5003" in house.listening.texts)
    assert sorted(str(text) for text in house.listening.texts) == ["m5001", "m5002", "m5003"]


@pytest.mark.parametrize(
    "fault",
    [
        TooMany(1),
        BadGateway(),
        Cut(),
        Cut(recorded=True),
        Hang(recorded=False),
        Garbage(),
        Refusal(500, "Internal Server Error"),
        Refusal(409, "Conflict: terminated by other getUpdates request"),
    ],
    ids=repr,
)
async def test_fetching_outlives_every_fault(house: House, fault: Any) -> None:
    house.api.fail("getUpdates", fault)
    async with house.run() as channel:
        await house.api.say(7, "lit")
        await house.listening.until(lambda: bool(house.listening.received))
        assert channel.fault() is None
    assert house.listening.texts == ["lit"]


async def test_a_dead_polling_task_is_noticed_and_revived(house: House) -> None:
    async with house.run() as channel:
        await house.api.until(lambda: len(house.api.called("getUpdates")) > 1)
        assert channel.fault() is None
        house.api.fail("getUpdates", Refusal(401, "Unauthorized"))
        await house.api.say(7, "lit")  # the task dies on the refusal, silently
        await asyncio.sleep(0.5)
        house.seconds += 300.0
        assert "no answer to polling for 300 s" in str(channel.fault())
        await channel.revive()
        await house.listening.until(lambda: bool(house.listening.received))
        await house.api.until(lambda: channel.fault() is None)


async def test_a_line_that_stays_silent_stays_a_fault_however_often_it_is_revived(
    house: House,
) -> None:
    async with house.run() as channel:
        await house.api.until(lambda: len(house.api.called("getUpdates")) > 1)
        house.api.fail("getUpdates", *[BadGateway()] * 50)
        for _ in range(3):
            house.seconds += 61.0
            await channel.revive()
            assert "no answer to polling" in str(channel.fault())


async def test_a_press_stops_turning_once_it_is_stored(house: House) -> None:
    async with house.run():
        await house.api.hand_in(
            {
                "callback_query": {
                    "id": "q9",
                    "from": {"id": 7, "is_bot": False, "first_name": "Ana"},
                    "chat_instance": "7",
                    "data": "k1",
                    "message": {"message_id": 1, "date": 1, "chat": {"id": 7, "type": "private"}},
                }
            }
        )
        await house.api.until(lambda: bool(house.api.called("answerCallbackQuery")))
        await house.listening.until(lambda: bool(house.listening.received))
    assert house.listening.received[0].press == "k1"


async def test_a_slow_answer_shows_typing(house: House) -> None:
    house.api.chats.add(7)
    shown = asyncio.Event()

    class Slow(Listening):
        async def receive(self, incoming: Incoming) -> None:
            await asyncio.wait_for(shown.wait(), 5)
            await super().receive(incoming)

    house.listening = Slow()
    async with house.run():
        await house.api.say(7, "why so slow?")
        await house.api.until(lambda: bool(house.api.called("sendChatAction")))
        shown.set()
        await house.listening.until(lambda: bool(house.listening.received))


async def test_blocking_and_coming_back_arrive(house: House) -> None:
    async with house.run():
        await house.api.block(7)
        await house.api.come_back(7)
        await house.listening.until(lambda: len(house.listening.received) == 2)
    assert [incoming.reached for incoming in house.listening.received] == [False, True]


class DiesOnce(Listening):
    """Takes the task that works on it down with the first message."""

    def __init__(self) -> None:
        super().__init__()
        self.died = asyncio.Event()

    async def receive(self, incoming: Incoming) -> None:
        if not self.died.is_set():
            self.died.set()
            raise asyncio.CancelledError
        await super().receive(incoming)


async def test_a_run_that_ends_in_the_middle_loses_nothing(house: House) -> None:
    """Stored and acknowledged, but not acted on: the next run does it."""
    house.listening = listening = DiesOnce()
    async with house.run():
        await house.api.say(7, "lit")
        await asyncio.wait_for(listening.died.wait(), 10)
    assert house.listening.texts == []
    async with house.run():
        await house.listening.until(lambda: bool(house.listening.received))
    assert house.listening.texts == ["lit"]


async def test_a_message_whose_work_was_given_up_is_taken_up_again(house: House) -> None:
    house.listening = DiesOnce()
    async with house.run() as channel:
        await house.api.say(7, "lit")
        await house.listening.until(lambda: bool(house.listening.received))
        assert channel.fault() is None
    assert house.listening.texts == ["lit"]


async def test_a_dead_worker_is_noticed_and_revived(house: House) -> None:
    async with house.run() as channel:
        (working,) = (one for one in asyncio.all_tasks() if one.get_name() == "telegram inbox")
        working.cancel()
        for _ in range(500):
            if channel.fault() is not None:
                break
            await asyncio.sleep(0.01)
        assert channel.fault() == "the inbox is not worked on"
        await house.api.say(7, "lit")
        await channel.revive()
        await house.listening.until(lambda: bool(house.listening.received))
        assert channel.fault() is None
    assert house.listening.texts == ["lit"]


@pytest.fixture
def webhook(unused_tcp_port: int) -> Webhook:
    return Webhook(f"http://127.0.0.1:{unused_tcp_port}", SecretStr(SECRET), port=unused_tcp_port)


async def test_a_webhook_delivers_with_its_secret_alone(house: House, webhook: Webhook) -> None:
    async with house.run(webhook) as channel:
        await house.api.say(7, "lit")
        await house.listening.until(lambda: bool(house.listening.received))
        forged = {"update_id": 9999, "message": {"text": "top 300"}}
        assert await house.api.push(forged, "wrong") == 403
        assert await house.api.push(forged, "") == 403
        assert channel.fault() is None
    assert house.listening.texts == ["lit"]


async def test_a_webhook_answers_only_once_the_update_is_stored(
    house: House, webhook: Webhook
) -> None:
    async with house.run(webhook):
        await house.api.until(lambda: house.api.webhook is not None)
        house.store.inbox.broken = 1
        await house.api.say(7, "lit")
        assert len(house.api.waiting) == 1
        assert await house.api.push(house.api.waiting[0]) == 200
        await house.listening.until(lambda: bool(house.listening.received))
    assert house.listening.texts == ["lit"]


async def test_an_unknown_token_is_said_at_the_start(house: House) -> None:
    house.api.token = "4711:BBanother-token-altogether-012345678"
    with pytest.raises(InvalidToken):
        async with house.run():
            pass


@pytest.mark.parametrize("fault", [Cut(), BadGateway(), TooMany(1), PoliteRefusal()], ids=repr)
async def test_without_telegram_it_begins_all_the_same_and_goes_on_trying(
    house: House, fault: Fault, log: io.StringIO
) -> None:
    house.api.fail("getMe", fault, fault)
    house.api.fail("deleteWebhook", fault)
    await house.api.say(7, "lit")
    async with house.run() as channel:
        if channel.bot_name is None:
            assert "Telegram cannot be reached" in str(channel.fault())
        await house.listening.until(lambda: bool(house.listening.received))
        await house.api.until(lambda: bool(house.api.commands))
        assert channel.bot_name == "stokewatchbot"
        assert channel.fault() is None
    assert "Telegram cannot be reached; it is tried again" in log.getvalue()


async def test_a_taken_port_is_told_with_its_setting(house: House) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        hook = Webhook("http://127.0.0.1", SecretStr("s" * 16), port=taken.getsockname()[1])
        said = "is taken by another program.*STOKEWATCH_WEBHOOK_PORT"
        with pytest.raises(PortTakenError, match=said):
            async with house.run(hook):
                pass


async def test_a_clock_that_jumps_is_no_silence(house: House) -> None:
    async with house.run() as channel:
        await house.api.until(lambda: len(house.api.called("getUpdates")) > 1)
        house.clock.move_to(house.clock.now() + timedelta(days=1))
        assert channel.fault() is None


async def test_polite_refusals_are_silence_within_half_a_minute(house: House) -> None:
    async with house.run() as channel:
        await house.api.until(lambda: len(house.api.called("getUpdates")) > 1)
        house.api.fail("getUpdates", *[PoliteRefusal()] * 50)
        await asyncio.sleep(0.5)
        house.seconds += 26.0
        assert "no answer to polling for 26 s" in str(channel.fault())


async def test_whoever_writes_is_told_once_that_nothing_can_be_kept(house: House) -> None:
    house.store.inbox.broken = 3
    async with house.run():
        await house.api.say(7, "lit")
        await house.api.say(8, "top 90")
        await house.listening.until(lambda: len(house.listening.received) == 2)
        await house.api.until(lambda: bool(house.api.read(7)) and bool(house.api.read(8)))
    told = [[one.text for one in house.api.read(chat)] for chat in (7, 8)]
    assert told == [["nothing is kept"]] * 2
    assert set(house.listening.texts) == {"lit", "top 90"}


async def test_the_token_is_in_no_log_line(house: House, log: io.StringIO) -> None:
    house.api.fail("getUpdates", Cut())
    async with house.run() as channel:
        await house.api.say(7, "lit")
        await house.listening.until(lambda: bool(house.listening.received))
        house.api.fail("getUpdates", Refusal(401, "Unauthorized"))
        await asyncio.sleep(0.4)
        house.seconds += 300.0
        await channel.revive()
    assert "event" in log.getvalue()
    assert TOKEN not in log.getvalue()
    assert TOKEN.partition(":")[2] not in log.getvalue()


odd = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=5),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["id", "chat", "from", "date", "type"]), inner, max_size=4
        )
    ),
    max_leaves=10,
)
kinds = st.sampled_from(["message", "edited_message", "callback_query", "poll", "hologram"])


@settings(
    derandomize=True,
    max_examples=15,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(st.lists(st.dictionaries(kinds, odd, max_size=2), min_size=1, max_size=20))
async def test_no_update_of_any_shape_holds_back_the_next_one(updates: list[Any]) -> None:
    async with BotApi() as api:
        house = House(api)
        for update in updates:
            await api.hand_in(update)
        await api.hand_in({"update_id": "no number"})
        await api.hand_in({"message": {"text": "\ud83d" * 9000, "date": 10**30}})
        await api.say(7, "top 152")
        async with house.run():
            await house.listening.until(lambda: "top 152" in house.listening.texts)
        assert InboxState.WAITING not in house.store.inbox.states.values()
