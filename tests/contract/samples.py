"""People, ovens and letters to try stores with."""

from datetime import UTC, datetime, timedelta
from typing import Any

from scheduling.choice import Command, CommandName
from scheduling.journal import Opened
from scheduling.outcome import Urgency
from scheduling.ports import Builder, InboxRow, Letter, OvenCard, Parcel, Person, Store

NOON = datetime(2026, 5, 13, 12, 0, tzinfo=UTC)
SECOND = timedelta(seconds=1)
MINUTE = timedelta(minutes=1)

ANA = Person(id="ana", channel="replay", address="ana", name="Ana", zone="Europe/London")
BEN = Person(id="ben", channel="replay", address="ben", name="Ben")
CLO = Person(id="clo", channel="replay", address="clo", name="Clo", builder="hearths")
HEARTHS = Builder(id="hearths", name="Hearths & Domes", founder="clo", founded_at=NOON)
OVEN = OvenCard(id="dome", name="Garden dome", builder="hearths", owners=("ana", "ben"))
OTHER = OvenCard(id="barrel", name="Barrel oven", owners=("ben",))


def entry(minute: int = 0) -> Opened:
    return Opened(at=NOON + minute * MINUTE, builder="hearths")


def letter(letter_id: str = "l1", person: str = "ana", **other: Any) -> Letter:
    plain: dict[str, Any] = {
        "oven": "dome",
        "parcel": Parcel(text=f"letter {letter_id}"),
        "urgency": Urgency.ANSWER,
        "created_at": NOON,
        "not_before": NOON,
    }
    return Letter(letter_id, person, **(plain | other))


def with_button(letter_id: str, key: str) -> Letter:
    choice = Command(name=CommandName.NOW)
    parcel = Parcel(text="stoke", buttons=(("Done",),), choices={"Done": choice})
    return letter(letter_id, parcel=parcel, button_keys={"Done": key})


def row(key: str = "1", chat: str = "ana") -> InboxRow:
    return InboxRow("replay", key, chat, '{"text": "top 152"}', NOON)


async def settle_in(store: Store) -> None:
    async with store.write() as unit:
        for person in (ANA, BEN, CLO):
            await unit.people.put(person)
        await unit.builders.put(HEARTHS)
        for card in (OVEN, OTHER):
            await unit.ovens.put(card)
        await unit.commit()
