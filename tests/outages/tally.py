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
_NOTED = "select entry from journal"
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
    """By kind. A letter arrived if the message that it names is there; copies are told among
    letters of the same words to the same chat."""
    with closing(sqlite3.connect(file)) as plain:
        rows = plain.execute(
            "select o.urgency, o.state, o.doubts, o.ref, p.address,"
            " json_extract(o.parcel, '$.text'), o.slot, o.attempts"
            " from outbox o join people p on p.id = o.person where p.channel = 'telegram'"
        ).fetchall()
    shown = Counter((one.chat, _plain(one.text)) for one in api.shown.values())
    told = {urgency: Tally() for urgency in URGENCIES}
    groups: dict[tuple[int, str], _Group] = {}
    for urgency, state, doubts, ref, address, text, slot, tries in rows:
        one, chat = told[urgency], int(address)
        # One that was edited in place has no copies of its own.
        group = groups.setdefault((chat, _plain(text)), _Group(urgency))
        group.edited |= slot is not None
        group.marked += doubts
        one.letters += 1
        one.marked += doubts
        if state == "sent" and ref and (chat, int(ref.partition(":")[0])) in api.shown:
            one.arrived += 1
            group.arrived += 1
        elif state in ("cancelled", "expired"):
            one.lapsed += 1
        elif state == "todo" and not tries:
            one.waiting += 1
        else:
            one.lost += 1
    for words, group in groups.items():
        copies = 0 if group.edited else max(0, shown[words] - group.arrived)
        told[group.urgency].doubled += copies
        told[group.urgency].unmarked += max(0, copies - group.marked)
    return told


@dataclass
class _Group:
    """Letters of the same words to the same chat."""

    urgency: str
    arrived: int = 0
    marked: int = 0
    edited: bool = False


def _plain(text: str) -> str:
    """As its reader sees it, without the line that says that it comes again."""
    plain = re.sub(r"</?[bi]>", "", text).strip()
    for mark, letter in (("&lt;", "<"), ("&gt;", ">"), ("&quot;", '"'), ("&amp;", "&")):
        plain = plain.replace(mark, letter)
    for first in _AGAIN:
        plain = plain.removeprefix(first).strip()
    return plain


def unsettled(file: Path) -> list[str]:
    """What is still to be worked on, or on its way; not what waits for its hour."""
    with closing(sqlite3.connect(file)) as plain:
        rows = plain.execute(
            "select 'inbox ' || key || ' ' || chat from inbox where state = 'waiting'"
            " union all select 'letter ' || id || ' ' || state || ' ' || urgency || ' '"
            "    || attempts || ' ' || not_before || ' ' || why"
            " from outbox where state = 'sending' or (state = 'todo' and"
            "    (attempts > 0 or not_before <= strftime('%Y-%m-%d %H:%M:%f', 'now')))"
        ).fetchall()
    return [told for (told,) in rows]


def updates_of(file: Path) -> Counter[str]:
    """How many updates from Telegram there are of each state."""
    with closing(sqlite3.connect(file)) as plain:
        query = "select state, count(*) from inbox where channel = 'telegram' group by state"
        return Counter(dict(plain.execute(query)))


def found_of(file: Path, said: Sequence[str]) -> Counter[str]:
    """How often each thing that was said is in a journal, or else was answered with its words. (One
    that is in a journal may be asked about again, with its words.)"""
    with closing(sqlite3.connect(file)) as plain:
        kept = [text or "" for (text,) in plain.execute(_NOTED)]
        answers = [text or "" for (text,) in plain.execute(_ANSWERS)]
    found = Counter[str]()
    for words in said:
        noted = sum(words in text for text in kept)
        found[words] = noted or sum(words in text for text in answers)
    return found
