"""One client's card, out of their journal."""

from collections.abc import Iterable, Mapping
from datetime import datetime

from bot.conversation.door import tends
from scheduling.advance.set_up_questions import settings_of
from scheduling.advance.showing import firing, order_line, promised_lines
from scheduling.choice import About, Opening
from scheduling.clients import contacts_of, line_of
from scheduling.firing.session import crown_c
from scheduling.journal import (
    Alerted,
    CaseClosed,
    CaseRung,
    CrackSeen,
    DoorMoved,
    FiringEnded,
    HazardClosed,
    HazardSeen,
    Jotted,
    LookedAfter,
    Measured,
    Noted,
    Order,
    Promised,
    Reached,
    Seen,
    TalkSaid,
    Unheard,
    WoodPutOn,
)
from scheduling.meaning import ClientShown, JournalLine, ReadingShown
from scheduling.ports import InHand, OvenCard, Person, UnitOfWork
from scheduling.record import Record
from scheduling.record.lesson import fires_range
from scheduling.record.live import Numbered
from scheduling.record.need import needs_of
from scheduling.record.orders import standing_orders
from scheduling.record.outlook import cure_of
from scheduling.record.report import report_of

LINES = 14
READINGS = 4

SHOWN = (
    "measured", "fire_lit", "wood_put_on", "fire_died", "firing_ended", "door_moved", "seen",
    "crack_seen", "trouble_closed", "alerted", "case_rung", "silent", "held", "released", "capped",
    "limits_set", "repeat_ordered", "moved", "forbidden", "taken_back", "case_taken",
    "case_handed_back", "case_closed", "jotted", "talk_said", "weather_told", "days_said",
    "finished", "reopened", "repaired", "reached", "noted",
)  # fmt: skip
"""Entries that a card shows; the rest is in the record."""


async def client_shown(
    unit: UnitOfWork,
    person: Person,
    card: OvenCard,
    record: Record,
    now: datetime,
    *,
    part: str = "card",
    hand: InHand | None = None,
) -> ClientShown:
    """The card as ``person`` sees it at ``now``. Nothing is planned anew for it."""
    last = record.sessions[-1] if record.sessions else None
    burning = record.session.aim.number if record.session and record.session.aim else 0
    fresh = record.card(card, now)
    names = await _names(unit, fresh, record)
    since = _looked_after_since(record)
    entries = [one for one in record.live if _is_shown(one, since)][-LINES:]
    cured, needs = cure_of(record, now), needs_of(record, now)
    return ClientShown(
        line=line_of(fresh, names),
        part=Opening.model_validate({"part": part}).part,
        needs=tuple((one.what.value, one.since) for one in needs),
        words=report_of(record, needs[0].what).words if needs else "",
        contacts=contacts_of(fresh, names, person),
        readings=_readings(record),
        firing=firing(last) if last is not None else None,
        plan=promised_lines(
            [one for one in record.promise if one.day >= record.today(now) and one.number > burning]
        ),
        ready_on=None if cured is None else cured.ready_on,
        journal=tuple(journal_line(one, names) for one in entries),
        orders=tuple(journal_line(one, names) for one in standing_orders(record, now)),
        notes=tuple(journal_line(one, names) for one in record.live if _is_note(one, since)),
        held=record.held is not None,
        cap_c=record.lid_c,
        mine=fresh.taken_by == person.id,
        talking=hand is not None and hand.talking and hand.oven == card.id,
        own=tends(person, card),
        learnt=_learnt(record),
        make_up=settings_of(record),
        assumed=_assumed(record),
        model=record.model,
    )


def _learnt(record: Record) -> tuple[int, int, int] | None:
    """From how many ovens, and how many fires such ovens take, where it was promised days."""
    promised = next((len(one.firings) for one in record.all_of(Promised) if one.firings), 0)
    if record.learnt is None or not promised:
        return None
    fires = fires_range(record.learnt, promised)
    return None if fires is None else (record.learnt.ovens, *fires)


def _assumed(record: Record) -> tuple[tuple[About, str], ...]:
    """What its plan goes by although nobody has said it."""
    makeup, answers = record.makeup, record.answers
    if makeup is None:
        return ()
    found: dict[About, str] = {}
    if answers.get(About.SIZE) in (None, "unknown"):
        found[About.SIZE] = f"{makeup.inner_diameter_mm:g}"
    if answers.get(About.THICKNESS) in (None, "unknown"):
        found[About.THICKNESS] = f"{makeup.shell_thickness_mm:g}"
    if About.SHELTER not in answers:
        found[About.SHELTER] = makeup.shelter.value
    return tuple(found.items())


def journal_line(one: Numbered, names: Mapping[str, Person]) -> JournalLine:
    """An entry with what matters in it."""
    entry = one.entry
    who = names.get(entry.by)
    name = who.name if who is not None else getattr(entry, "name", "") if entry.by else ""
    if isinstance(entry, Order):
        return order_line(one).model_copy(update={"who": name})
    told: dict[str, object] = {}
    match entry:
        case Measured():
            told = {"value": crown_c(entry)}
        case WoodPutOn(pieces=pieces):
            told = {"value": pieces}
        case FiringEnded(peak_c=peak_c):
            told = {"value": peak_c}
        case Seen(what=what) | HazardClosed(what=what):
            told = {"name": what}
        case Alerted(needs=needs) | CaseRung(needs=needs):
            told = {"name": needs}
        case HazardSeen(hazard=hazard, words=words):
            told = {"name": hazard.value, "text": words}
        case Unheard(words=words):
            told = {"text": words}
        case CrackSeen(size=size):
            told = {"text": size.value}
        case DoorMoved(on=on):
            told = {"name": "on" if on else "off"}
        case Reached(reached=reached):
            told = {"name": "yes" if reached else "no"}
        case Jotted(text=text) | TalkSaid(text=text) | Noted(text=text) | CaseClosed(why=text):
            told = {"text": "" if text == "over" else text}
        case _:
            pass
    return JournalLine.model_validate(
        {"seq": one.seq, "at": entry.at, "what": entry.kind, "who": name} | told
    )


async def _names(unit: UnitOfWork, card: OvenCard, record: Record) -> Mapping[str, Person]:
    said_by = {one.by for one in record.facts if one.by}
    return await unit.people.several(tuple({*said_by, *card.owners, card.taken_by or ""}))


def _readings(record: Record) -> tuple[ReadingShown, ...]:
    readings: Iterable[Measured] = record.readings[-READINGS:]
    return tuple(
        ReadingShown(
            at=one.at,
            top_c=crown_c(one),
            sides_c=one.sides_c,
            hearth_c=one.hearth_c,
            believed=one.believed,
        )
        for one in readings
    )


def _looked_after_since(record: Record) -> int:
    """Number of the entry from which this builder looks after the oven: a note of the one before
    was not for them."""
    seqs = [one.seq for one in record.live if isinstance(one.entry, LookedAfter)]
    return seqs[-1] if seqs else 0


def _is_shown(one: Numbered, since: int) -> bool:
    if isinstance(one.entry, Jotted | TalkSaid) and one.seq < since:
        return False
    return one.entry.kind in SHOWN


def _is_note(one: Numbered, since: int) -> bool:
    return isinstance(one.entry, Jotted) and one.seq > since
