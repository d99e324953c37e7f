"""What the rows of a file of clients mean: towns, models and answers looked up, faults by line."""

import asyncio
from collections.abc import Collection, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from bot.clientlist.columns import ANSWERS, LATITUDE, LONGITUDE, MODEL, PHONE, TOWN
from bot.clientlist.reading import Row, Sheet
from bot.conversation.incoming import Incoming
from bot.conversation.setting_up import SettingUp
from bot.understanding.phones import phone_alone
from bot.ways.models import answers_of, model_called
from bot.ways.shape import OwnWays
from scheduling.choice import About, SetUpAnswer
from scheduling.emergency import country_of
from scheduling.firing.answers import Refused, checked
from scheduling.meaning import RowFault, SetUpQuestion, SetUpRefused
from scheduling.ports import Person
from scheduling.record import Record

Answer = SetUpAnswer | SetUpQuestion | None

PLAIN_DAYS = ("%Y-%m-%d", "%d %B %Y", "%d %b %Y", "%B %d, %Y", "%b %d, %Y")
"""Dates as spreadsheets write them where they cannot be misread."""


@dataclass(frozen=True, slots=True)
class NewClient:
    """Somebody to be invited, where they can be rung, and what is filled in of their oven."""

    name: str
    given: tuple[tuple[About, str], ...] = ()
    model: str = ""
    phone: str = ""


@dataclass(frozen=True, slots=True)
class Looked:
    """``new`` are to be invited; ``known`` are names that are there already."""

    new: tuple[NewClient, ...]
    known: tuple[str, ...]
    faults: tuple[RowFault, ...]


class RowReader:
    """Looks up one file; ``record`` knows the builder's constructions and nothing else."""

    def __init__(
        self,
        setting_up: SettingUp,
        incoming: Incoming,
        person: Person,
        record: Record,
        ways: OwnWays,
        today: date,
    ) -> None:
        self._setting_up = setting_up
        self._incoming = incoming
        self._person = person
        self._record = record
        self._ways = ways
        self._today = today
        self._read: dict[tuple[About, str], Answer] = {}

    async def look(self, sheet: Sheet, there: Collection[str]) -> Looked:
        """``there`` are names, in small letters, of clients and of who was invited."""
        new: list[NewClient] = []
        known: list[str] = []
        faults = list(sheet.faults)
        for row in sheet.rows:
            if row.name.casefold() in there:
                known.append(row.name)
                continue
            found, wrong = await self._client(row)
            faults += wrong
            if not wrong:
                new.append(found)
            # A long file must not keep the others waiting.
            await asyncio.sleep(0)
        faults.sort(key=lambda one: one.line or 0)
        return Looked(tuple(new), tuple(known), tuple(faults))

    async def _client(self, row: Row) -> tuple[NewClient, list[RowFault]]:
        answers: dict[About, str] = {}
        faults: list[RowFault] = []
        model = ""
        if typed := row.cells.get(MODEL):
            called = model_called(self._ways, typed)
            if called is None:
                titles = tuple(one.title for one in self._ways.models.values())
                faults.append(_fault(row, MODEL, "no_model", choices=titles))
            else:
                model = self._ways.models[called].title
                answers |= dict(answers_of(self._ways.models[called]))
        phone = ""
        if typed := row.cells.get(PHONE):
            phone = phone_alone(typed, country_of(self._person.zone))
            if not phone:
                faults.append(_fault(row, PHONE, "no_phone"))
        if place := await self._located(row):
            told, wrong = place
            answers |= told
            faults += wrong
        for key, about in ANSWERS.items():
            if key not in row.cells or (key == TOWN and about in answers):
                continue
            read = await self._answer(row, key, about)
            if isinstance(read, RowFault):
                faults.append(read)
            else:
                answers[about] = read
        return NewClient(row.name, tuple(answers.items()), model, phone), faults

    async def _located(self, row: Row) -> tuple[dict[About, str], list[RowFault]] | None:
        """A place by its degrees, called by the town that stands beside them."""
        if LATITUDE not in row.cells and LONGITUDE not in row.cells:
            return None
        try:
            latitude, longitude = (float(row.cells[key]) for key in (LATITUDE, LONGITUDE))
        except (KeyError, ValueError):
            return {}, [_fault(row, LATITUDE, "degrees")]
        answer = await self._setting_up.at(latitude, longitude)
        named = f"{answer.value.rstrip(',')},{row.cells.get(TOWN, '')}"
        refusal = self._refused(About.PLACE, named)
        if refusal is not None:
            return {}, [_fault(row, LATITUDE, "degrees")]
        return {About.PLACE: named.rstrip(",")}, []

    async def _answer(self, row: Row, key: str, about: About) -> str | RowFault:
        typed = row.cells[key]
        if about is About.WET_WORK and (day := _plain_day(typed)) is not None:
            value = day
        else:
            match await self._read_once(about, typed):
                case SetUpQuestion(options=options):
                    what = {About.PLACE: "places", About.WET_WORK: "days"}.get(about, "several")
                    choices = tuple(one.title or one.value for one in options)
                    return _fault(row, key, what, about=about, choices=choices)
                case SetUpAnswer(value=value):
                    pass
                case _:
                    what = "no_place" if about is About.PLACE else "answer"
                    refusal = SetUpRefused(about=about, value=typed, why="not_understood")
                    return _fault(row, key, what, about=about, refusal=refusal)
        refusal_of = self._refused(about, value)
        if refusal_of is not None:
            told = refusal_of.model_copy(update={"value": typed})
            return _fault(row, key, "answer", about=about, refusal=told)
        return value

    async def _read_once(self, about: About, typed: str) -> Answer:
        """Most rows of a file have the same towns and sizes as others."""
        if (about, typed) not in self._read:
            line = replace(self._incoming, text=typed, photo=None, file=None)
            read = await self._setting_up.read(about, line, self._person, self._record)
            self._read[about, typed] = read
        return self._read[about, typed]

    def _refused(self, about: About, value: str) -> SetUpRefused | None:
        try:
            checked(about, value, self._today, self._record.own_constructions)
        except Refused as refused:
            return SetUpRefused(
                about=about, value=value, why=refused.why, low=refused.low, high=refused.high
            )
        return None


def _plain_day(typed: str) -> str | None:
    """A date that can be only one, without asking who reads all others."""
    for pattern in PLAIN_DAYS:
        with suppress(ValueError):
            return datetime.strptime(typed, pattern).date().isoformat()  # noqa: DTZ007 - a date
    return None


def _fault(row: Row, column: str, what: str, **more: Any) -> RowFault:
    known: Mapping[str, object] = {
        "what": what, "line": row.line, "column": column, "value": row.cells.get(column, ""),
    }  # fmt: skip
    return RowFault.model_validate({**known, **more})
