"""The set-up as it is typed: which question is open, and what words answer it."""

import asyncio
import re
from collections.abc import Callable, Sequence

from bot.conversation import set_up_words
from bot.conversation.incoming import Incoming
from bot.conversation.set_up_days import Asked, wet_work
from bot.conversation.set_up_openings import openings
from bot.conversation.set_up_stands import stands
from bot.places import NoLandError, Place, PlaceBook
from scheduling.choice import About, SetUpAnswer
from scheduling.firing.answers import ASKED, REPLACED
from scheduling.journal import Answered
from scheduling.meaning import Option, SetUpQuestion
from scheduling.ports import Person
from scheduling.record import Record

MUCH_LARGER = 8
"""A town so many times larger than its namesakes is taken to be meant (own choice)."""

QUOTED = 100

_LEADING = frozenset(
    ("i", "i'm", "im", "live", "in", "near", "at", "it's", "its", "it", "is", "the", "we", "are",
     "just", "outside", "of", "from", "oven", "stands", "my", "a", "village", "town", "city",
     "close", "to", "next", "by", "around")
)  # fmt: skip
"""Words before a place's name."""


def open_question(record: Record) -> About | None:
    """The question of the set-up that was asked last and is not answered yet."""
    asked = record.question
    if asked is None or not asked.what.startswith("set_up:"):
        return None
    about = About(asked.what.removeprefix("set_up:"))
    since = record.facts[record.facts.index(asked) :]
    answered = any(isinstance(entry, Answered) and entry.about is about for entry in since)
    return None if answered else about


def answered_by(record: Record, key: str) -> About | None:
    """The question that a message answered, so that its edited version answers the same."""
    return next((e.about for e in reversed(record.all_of(Answered)) if e.key == key), None)


class SettingUp:
    """Reads answers. ``places`` is made when it is first needed: loading it takes a second."""

    def __init__(self, places: Callable[[], PlaceBook] = PlaceBook) -> None:
        self._make_places = places
        self._places: PlaceBook | None = None

    async def at(self, latitude: float, longitude: float) -> SetUpAnswer:
        """A shared location. One in the sea is refused by the core, as any place that is none."""
        value = await asyncio.to_thread(self._located, latitude, longitude)
        return SetUpAnswer(about=About.PLACE, value=value)

    async def towns(self, typed: str) -> tuple[Option, ...]:
        """Towns that a builder may mean by what they typed, each with its zone and its name: one
        where it is clear, or where all of that name keep the same time."""
        found = await asyncio.to_thread(lambda: self._book().named(_bare_place(typed)))
        same = len({place.zone for place in found}) == 1
        if same or (len(found) > 1 and found[0].people > MUCH_LARGER * found[1].people):
            found = found[:1]
        return tuple(
            Option(value=f"{one.zone}|{one.name}", title=f"{one.name}, {one.region or one.country}")
            for one in found
        )

    async def read(
        self, about: About, incoming: Incoming, person: Person, record: Record
    ) -> SetUpAnswer | SetUpQuestion | None:
        """What the words answer; a question back where they could mean several places or days;
        None where nothing can be made of them."""
        text = incoming.text or ""
        about = REPLACED.get(about, about)
        if about is About.PLACE:
            return await asyncio.to_thread(self._place, text, record)
        asked = Asked(
            unit=person.unit,
            now=incoming.sent_at.astimezone(record.zoneinfo),
            zone=record.zone,
            own={key: one.name for key, one in record.own_constructions.items()},
        )
        if about is About.WET_WORK:
            dates = wet_work(set_up_words.plain(text), asked)
            if len(dates) > 1:
                return _which(about, [Option(value=one) for one in dates], record)
            return SetUpAnswer(about=about, value=dates[0]) if dates else None
        if about in (About.STANDS, About.OPENINGS):
            return _clear_or_which(about, set_up_words.plain(text), record)
        value = set_up_words.answer(about, text, asked)
        return SetUpAnswer(about=about, value=value) if value is not None else None

    def _place(self, text: str, record: Record) -> SetUpAnswer | SetUpQuestion | None:
        degrees = _degrees(text)
        if degrees is not None:
            return SetUpAnswer(about=About.PLACE, value=self._located(*degrees))
        found = self._book().named(_bare_place(text))
        if not found or set_up_words.plain(text) in NO_PLACES:
            return None
        if len(found) == 1 or found[0].people > MUCH_LARGER * found[1].people:
            return SetUpAnswer(about=About.PLACE, value=_noted(found[0]))
        options = [Option(value=_noted(one), title=_titled(one)) for one in found]
        return _which(About.PLACE, options, record)

    def _located(self, latitude: float, longitude: float) -> str:
        try:
            place = self._book().at(latitude, longitude)
        except (NoLandError, ValueError):
            return f"{latitude:g}, {longitude:g}"
        return _noted(place)

    def _book(self) -> PlaceBook:
        if self._places is None:
            self._places = self._make_places()
        return self._places


NO_PLACES = frozenset(
    ("yes", "yep", "yeah", "no", "nope", "ok", "okay", "sure", "here", "home", "what")
)
"""Words that are towns as well, somewhere."""


def refused(about: About, text: str) -> SetUpAnswer:
    """Words that answer nothing, for the core to refuse with what would be an answer."""
    return SetUpAnswer(about=about, value=text[:QUOTED])


def _clear_or_which(about: About, said: str, record: Record) -> SetUpAnswer | SetUpQuestion | None:
    """What the words answer, or the question again with all that they may mean."""
    found = stands(said) if about is About.STANDS else openings(said)
    if len(found) > 1:
        return _which(about, [Option(value=one) for one in found], record)
    return SetUpAnswer(about=about, value=found[0]) if found else None


def _which(about: About, options: Sequence[Option], record: Record) -> SetUpQuestion:
    """The question again, with all that the words could mean."""
    return SetUpQuestion(
        about=about,
        options=tuple(options),
        step=1 + sum(one in record.answers for one in ASKED),
        steps=len(ASKED),
    )


def _noted(place: Place) -> str:
    return f"{place.latitude},{place.longitude},{place.zone},{place.name}"


def _titled(place: Place) -> str:
    return ", ".join(part for part in (place.name, place.region, place.country) if part)


def _degrees(text: str) -> tuple[float, float] | None:
    """Latitude and longitude where that is what was typed."""
    parts = re.sub(r"[°;,]", " ", re.sub(r"(\d),(\d)", r"\1 \2", text)).split()
    try:
        latitude, longitude = (float(part) for part in parts)
    except ValueError:
        return None
    return (latitude, longitude) if abs(latitude) <= 90 and abs(longitude) <= 180 else None


def _bare_place(text: str) -> str:
    """A place's name without "I live near"."""
    words = text.strip(" .!").split()
    start = next((i for i, word in enumerate(words) if word.lower() not in _LEADING), 0)
    return " ".join(words[start:])
