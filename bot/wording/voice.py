"""The voice: every meaning as one reader sees it.

One function a meaning, in the module of its area, each with its own table; this only looks up.
"""

from datetime import datetime
from typing import Final
from zoneinfo import ZoneInfo

from bot.wording import (
    after,
    answers,
    before,
    builder,
    card,
    curing,
    danger,
    days,
    finished,
    fire,
    hazards,
    importing,
    introducing,
    inviting,
    many_orders,
    orders,
    parting,
    phones,
    preparing,
    roster,
    setting_up,
    stands,
    stepping_in,
    tallies,
    teams,
    ways,
    week,
)
from bot.wording.again import again
from bot.wording.measures import Measures
from bot.wording.speech import Sentences
from scheduling.meaning import Meaning
from scheduling.outcome import Urgency
from scheduling.ports import Parcel, Person

AREAS: Final[tuple[Sentences, ...]] = (
    setting_up.SENTENCES,
    stands.SENTENCES,
    curing.SENTENCES,
    before.SENTENCES,
    fire.SENTENCES,
    finished.SENTENCES,
    danger.SENTENCES,
    hazards.SENTENCES,
    after.SENTENCES,
    days.SENTENCES,
    answers.SENTENCES,
    builder.SENTENCES,
    orders.SENTENCES,
    many_orders.SENTENCES,
    inviting.SENTENCES,
    parting.SENTENCES,
    phones.SENTENCES,
    roster.SENTENCES,
    card.SENTENCES,
    stepping_in.SENTENCES,
    tallies.SENTENCES,
    teams.SENTENCES,
    ways.SENTENCES,
    introducing.SENTENCES,
    preparing.SENTENCES,
    importing.SENTENCES,
    week.SENTENCES,
)

SENTENCES: Final[Sentences] = {kind: say for area in AREAS for kind, say in area.items()}


class Voice:
    """The ``scheduling.ports.Voice`` of the house."""

    def render(self, meaning: Meaning, reader: Person, zone: str, now: datetime) -> Parcel:
        """What ``reader`` sees at ``now`` (aware), in their unit and the oven's ``zone``."""
        measures = Measures(reader.unit, ZoneInfo(zone), now)
        return SENTENCES[type(meaning)](meaning, measures)

    def again(self, parcel: Parcel, urgency: Urgency) -> Parcel:
        """The same for a reader who may have it already."""
        return again(parcel, urgency)
