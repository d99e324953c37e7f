"""What was sent, arrived, was lost and was doubled, looked at from outside.

The bot's database is read through the standard library and compared with what the server showed.
"""

import re
import sqlite3
from collections import Counter
from collections.abc import Sequence
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from bot.wording.again import FIRST
from scheduling.outcome import Urgency
from tests.botapi.server import BotApi

URGENCIES = [one.value for one in Urgency]
_NOTED = "select json_extract(entry, '$.text') from journal"
_ANSWERS = "select json_extract(parcel, '$.text') from outbox"
_AGAIN = [re.sub(r"<[^>]*>", "", first).strip() for first in FIRST.values() if first]


@dataclass
class Tally:
    """Letters of one kind. ``lapsed`` were replaced by a newer one or came to be too late;
    ``waiting`` are calm ones whose hour has not come."""

    letters: int = 0
    arrived: int = 0
    lapsed: int = 0
    waiting: int = 0
    lost: int = 0
    doubled: int = 0
    marked: int = 0
    """As many copies might there be besides, by the marks of what nobody knew."""
    unmarked: int = 0
    """Copies that no mark allows for."""


def tally(file: Path, api: BotApi) -> dict[str, Tally]:
    """By kind. Letters with the same words to the same chat are counted together."""
    with closing(sqlite3.connect(file)) as plain:
        rows = plain.execute(
            "select o.urgency, o.state, o.doubts, o.ref, p.address,"
            " json_extract(o.parcel, '$.text'), o.slot, o.attempts"
            " from outbox o join people p on p.id = o.person where p.channel = 'telegram'"
        ).fetchall()
    shown = Counter((one.chat, _plain(one.text)) for one in api.shown.values())
    told = {urgency: Tally() for urgency in URGENCIES}
    groups: dict[tuple[str, int, str], list[tuple[str, int]]] = {}
    for urgency, state, doubts, ref, address, text, slot, tries in rows:
        one = told[urgency]
        one.letters += 1
        if state in ("cancelled", "expired") and not doubts:
            one.lapsed += 1
        elif state == "todo" and not tries:
            one.waiting += 1
        elif slot is not None:
            # Edited in place: it is where its reference says, or it was lost.
            there = ref is not None and (int(address), int(ref.split(":")[0])) in api.shown
            one.arrived += there
            one.lost += state == "sent" and not there
        else:
            groups.setdefault((urgency, int(address), _plain(text)), []).append((state, doubts))
    for (urgency, chat, text), letters in groups.items():
        one, seen = told[urgency], shown[chat, text]
        due = sum(state not in ("cancelled", "expired") for state, _ in letters)
        marked = sum(doubts for _, doubts in letters)
        one.arrived += min(seen, due)
        one.lapsed += len(letters) - due
        one.lost += max(0, due - seen)
        one.doubled += max(0, seen - len(letters))
        one.marked += marked
        one.unmarked += max(0, seen - due - marked)
    return told


def _plain(text: str) -> str:
    """As its reader sees it, without the line that says that it comes again."""
    plain = re.sub(r"</?[bi]>", "", text).strip()
    for mark, letter in (("&lt;", "<"), ("&gt;", ">"), ("&quot;", '"'), ("&amp;", "&")):
        plain = plain.replace(mark, letter)
    for first in _AGAIN:
        plain = plain.removeprefix(first).strip()
    return plain


def unsettled(file: Path) -> int:
    """What is still to be worked on, or on its way."""
    with closing(sqlite3.connect(file)) as plain:
        (count,) = plain.execute(
            "select (select count(*) from inbox where state = 'waiting')"
            " + (select count(*) from outbox where state in ('todo', 'sending')"
            "    and not_before <= strftime('%Y-%m-%d %H:%M:%f', 'now', '+30 minutes'))"
        ).fetchone()
    return int(count)


def updates_of(file: Path) -> Counter[str]:
    """How many updates from Telegram there are of each state."""
    with closing(sqlite3.connect(file)) as plain:
        query = "select state, count(*) from inbox where channel = 'telegram' group by state"
        return Counter(dict(plain.execute(query)))


def found_of(file: Path, said: Sequence[str]) -> Counter[str]:
    """How often each thing that was said is in a journal, or else was answered with its words."""
    with closing(sqlite3.connect(file)) as plain:
        kept = [text or "" for (text,) in plain.execute(_NOTED)]
        answers = [text or "" for (text,) in plain.execute(_ANSWERS)]
    found = Counter[str]()
    for words in said:
        noted = sum(words in text for text in kept)
        found[words] = noted or sum(words in text for text in answers)
    return found
