"""One happening on its way: what has been written, said and set so far, and the record after it.

A turn is local to one call of ``advance``; what leaves it is a frozen ``Outcome``.
"""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from typing import Any

from scheduling.alarm import Alarm, AlarmName
from scheduling.hazard import Hazard
from scheduling.journal import Advised, Alerted, CaseRung, Entry, Measured
from scheduling.meaning import Alert, Meaning
from scheduling.outcome import BUILDER, FIRE_THREAD, TENDERS, Message, Outcome, Recipient, Urgency
from scheduling.oven.belief import Belief
from scheduling.record import Need, Record
from scheduling.record.need import alerted, at_once
from scheduling.record.report import report_of
from scheduling.record.standing import WAITS_UNLIT
from scheduling.record.wall import believe, physical


class Turn:
    """Collects what follows from one happening."""

    def __init__(
        self,
        record: Record,
        now: datetime,
        by: str = "",
        key: str | None = None,
        at: datetime | None = None,
    ) -> None:
        """``at`` is when it was said, which may be well before ``now``."""
        self.record = record
        self.now = now
        self.by = by
        self.key = key
        self.at = min(at, now) if at is not None else now
        self.words = ""
        """The message at hand as it was written; empty where a button was pressed."""
        self.unheard = ""
        """Words of the message at hand that nobody has understood."""
        self.likely: tuple[Hazard, ...] = ()
        """What they most likely tell of."""
        self._entries: list[Entry] = []
        self._messages: list[Message] = []
        self._to: Recipient = by or TENDERS
        self._urgency = Urgency.ANSWER
        self._alarms: dict[AlarmName, datetime | None] = {}

    def write(self, *entries: Entry) -> None:
        """Append to the journal; each takes the key of the message it came from."""
        marked = [
            entry if entry.key is not None else entry.model_copy(update={"key": self.key})
            for entry in entries
        ]
        self._entries += marked
        self.record = self.record.with_entries(marked)

    def say(
        self,
        meaning: Meaning,
        to: Recipient | None = None,
        urgency: Urgency | None = None,
        *,
        replaces: str | None = None,
        slot: str | None = None,
        expires: datetime | None = None,
        first: tuple[str, ...] = (),
        but: tuple[str, ...] = (),
        amends: bool = False,
    ) -> None:
        """Say it to whoever spoke, else to all who tend the fire."""
        urgency = urgency or self._urgency
        self._messages.append(
            Message(
                to or self._to, meaning, urgency, replaces, slot, expires, first, but, amends=amends
            )
        )

    @contextmanager
    def addressing(self, to: Recipient, urgency: Urgency) -> Iterator[None]:
        """What follows is said to ``to`` and with this urgency, where nothing else is said of it:
        for what somebody did about an oven that others tend."""
        before = self._to, self._urgency
        self._to, self._urgency = to, urgency
        try:
            yield
        finally:
            self._to, self._urgency = before

    @contextmanager
    def quietly(self) -> Iterator[None]:
        """Keep what follows in the journal, and say nothing of it to who told it; alarms and what
        others have to hear go out."""
        said = list(self._messages)
        yield
        passing = [
            one
            for one in self._messages[len(said) :]
            if one.to == BUILDER
            and (one.urgency is Urgency.DANGER or isinstance(one.meaning, Alert))
        ]
        self._messages = [*said, *passing]

    def at_fire(
        self,
        meaning: Meaning,
        *,
        replaces: str | None = FIRE_THREAD,
        expires: datetime | None = None,
    ) -> None:
        """Say it to all who tend a burning fire; a newer word takes the place of an unsent one."""
        self.say(meaning, TENDERS, Urgency.FIRE, replaces=replaces, expires=expires)

    def danger(self, meaning: Meaning) -> None:
        """Say it at once, to everybody at the fire."""
        self.say(meaning, TENDERS, Urgency.DANGER)

    def alert(self, need: Need, since: datetime, **facts: Any) -> bool:
        """Tell the builder's side, once a trouble; True if there is anybody to tell.

        What is no danger waits for the morning's digest, or for the end of quiet hours.
        """
        if alerted(self.record, need, since):
            return self.record.builder is not None
        self.write(Alerted(at=self.now, needs=need.value))
        if at_once(need, lit=self.record.session is not None):
            self.tell_team(need, since, **facts)
        elif need in WAITS_UNLIT:
            self.tell_team(need, since, waits=True, **facts)
        return self.record.builder is not None

    def tell_team(
        self, need: Need, since: datetime, *, everybody: bool = False, **facts: Any
    ) -> None:
        """A need, to the builder's side: to who has the case alone, unless ``everybody`` has to
        hear. A danger passes their quiet hours."""
        record, session = self.record, self.record.session
        report, case = report_of(record, need), record.case
        alone = case is not None and not everybody
        shown: dict[str, object] = {
            "place": record.place,
            "words": report.words,
            "photos": report.photos,
            "held_by": "" if case is None else case.name,
            "alone": alone,
            "needs": need.value,
            "since": since,
            "oven": self.record.name,
            "lit": session is not None,
            "top_c": None if session is None else session.top_c,
            "aim_c": None if session is None or session.aim is None else session.aim.plateau_c,
            "firing": None if session is None or session.aim is None else session.aim.number,
        }
        told = Alert.model_validate(shown | facts)
        slot = self.alert_slot()
        self._messages.append(
            Message(
                BUILDER,
                told,
                Urgency.CALM if told.waits else Urgency.DANGER,
                # A danger must not be kept until the morning with what can wait.
                replaces=f"waits/{record.oven}/{need.value}" if told.waits else slot,
                slot=slot,
                first=(case.by,) if case is not None and alone else (),
                gathers=not told.waits,
            )
        )

    def alert_slot(self) -> str | None:
        """Where the newest alert about this oven was told; None if there was none."""
        told = [one for one in self.record.facts if isinstance(one, Alerted | CaseRung)]
        if not told:
            return None
        return f"alert/{self.record.oven}/{told[-1].needs}/{told[-1].at:%Y%m%dT%H%M%S}"

    def advise(self, advised: Advised) -> None:
        """Keep what was advised, for the record."""
        self.write(advised)

    def set(self, name: AlarmName, due: datetime) -> None:
        """Look again at ``due``."""
        self._alarms[name] = max(due, self.now)

    def in_minutes(self, name: AlarmName, minutes: float) -> datetime:
        """Look again after so many minutes; returns when."""
        due = self.now + timedelta(minutes=minutes)
        self.set(name, due)
        return due

    def drop(self, *names: AlarmName) -> None:
        """Look no more for these reasons."""
        self._alarms |= dict.fromkeys(names)

    @property
    def read_c(self) -> float | None:
        """The crown as this message told it, where it was believed, °C."""
        read = [one for one in self._entries if isinstance(one, Measured) and one.believed]
        return read[-1].top_c if read else None

    @property
    def said_anything(self) -> bool:
        """Whether any message follows so far."""
        return bool(self._messages)

    @property
    def said_urgently(self) -> bool:
        """Whether a danger, or what to do at a fire, is among it."""
        urgent = (Urgency.DANGER, Urgency.FIRE)
        return any(message.urgency in urgent for message in self._messages)

    def said(self, kinds: Iterable[type]) -> bool:
        """Whether a message of one of these kinds follows so far."""
        wanted = tuple(kinds)
        return any(isinstance(message.meaning, wanted) for message in self._messages)

    def outcome(self) -> Outcome:
        """All of it."""
        return Outcome(
            tuple(self._entries),
            tuple(self._messages),
            tuple(Alarm(name, due) for name, due in self._alarms.items() if due is not None),
            tuple(name for name, due in self._alarms.items() if due is None),
            self._belief(),
        )

    def _belief(self) -> Belief | None:
        """The ensemble after this turn, where the wall was told anything new."""
        told = any(physical(entry) for entry in self._entries)
        return believe(self.record, self.now) if told else None
