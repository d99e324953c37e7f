"""What the people at an oven wrote and showed of a need, for whoever has to act on it."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from scheduling.hazard import Hazard
from scheduling.record.facts import Facts
from scheduling.record.standing import Need

SHOWN_BEFORE = timedelta(minutes=15)
"""A photo sent so shortly before a danger was told of shows it (own choice)."""

MOST_PHOTOS = 3
"""The newest of them: what a phone shows at a glance (own choice)."""


@dataclass(frozen=True, slots=True)
class Report:
    """Their own ``words`` as they were first written, and references of the photos sent."""

    words: str = ""
    photos: tuple[str, ...] = ()


def report_of(record: Facts, need: Need) -> Report:
    """What was told of a hazard that stands open; nothing of any other need."""
    told = next((one for one in record.hazards if one.what is need), None)
    if told is None or not isinstance(need, Hazard):
        return Report()
    return Report(told.words, photos_since(record, told.since - SHOWN_BEFORE))


def photos_since(record: Facts, since: datetime) -> tuple[str, ...]:
    """The newest photos from the people at the oven, the oldest of them first."""
    shown = [
        photo
        for one in record.facts
        if one.at >= since and one.by in record.tenders
        if (photo := getattr(one, "photo", None)) is not None
    ]
    return tuple(dict.fromkeys(shown))[-MOST_PHOTOS:]
