"""Phone numbers in what people type: read by the numbering plans, kept in one notation.

Kept is the international notation with its blanks, which phones turn into a link by themselves.
"""

import re
from dataclasses import dataclass, replace

from phonenumbers import (
    NumberParseException,
    PhoneNumberFormat,
    format_number,
    is_possible_number,
    parse,
)

_DIGITS = r"\+?\(?\d[\d\s().\-/]{5,}\d"
_WHOSE = r"(?:(?P<whose>my|our|their|his|her|the)\s+)?"
_THING = r"(?:(?:mobile|cell|phone|telephone|tel)(?:\s+(?:number|no\.?))?|number)"

_SAID = re.compile(
    rf"(?:it'?s\s+|here(?:'s| is)\s+)?{_WHOSE}{_THING}(?:\s+is|'s)?\s*[:=]?\s*"
    rf"(?P<number>{_DIGITS})[.!]?",
    re.IGNORECASE,
)
_RING = re.compile(
    rf"(?:please\s+|you can\s+|can you\s+)*(?:ring|call|phone|text|reach)\s+me\s+"
    rf"(?:back\s+)?(?:on|at|under)\s*:?\s*(?P<number>{_DIGITS})[.!?]?",
    re.IGNORECASE,
)
_FORGET = re.compile(
    rf"(?:please\s+)?(?:forget|remove|delete|take out)\s+{_WHOSE}{_THING}[.!]?|no {_THING}[.!]?",
    re.IGNORECASE,
)
_ALONE = re.compile(r"(?:\+\d|0\d)[\d\s().\-/]{6,}")
_DATE = re.compile(r"\d{1,2}[\s./-]\d{1,2}[\s./-](?:19|20)\d\d(?!\d)")
_AT_END = re.compile(
    rf"(?P<name>.*?)[\s,;:]*(?:{_THING}\s*[:=]?\s*)?(?P<number>{_DIGITS})\s*", re.I
)

FORMS = (PhoneNumberFormat.INTERNATIONAL, PhoneNumberFormat.NATIONAL, PhoneNumberFormat.E164)

LEAST_DIGITS = 9
"""Fewer are no number that a bot should take for one: a date has eight (own choice)."""

MOST_GROUPS = 5
"""Readings sent in one line come in more pieces than a number that begins with 0 (own choice)."""


@dataclass(frozen=True, slots=True)
class PhoneSaid:
    """A number in the international notation. "" with ``unclear``: without its country nobody can
    know it; "" alone: they want it forgotten. ``mine``: it is said to be their own; ``ring``: they
    ask to be rung there."""

    number: str = ""
    unclear: bool = False
    mine: bool = False
    ring: bool = False


def phone_in(text: str, country: str | None) -> PhoneSaid | None:
    """What a whole message says of a phone number; None if it is about something else. ``country``
    (ISO 3166) is where a number without its own country is read."""
    typed = " ".join(text.split()).replace("’", "'")
    if said := _FORGET.fullmatch(typed):
        return PhoneSaid(mine=_is_own(said["whose"]))
    if (said := _RING.fullmatch(typed)) and _is_one(said["number"]):
        return replace(_read(said["number"], country), mine=True, ring=True)
    if (said := _SAID.fullmatch(typed)) and _is_one(said["number"]):
        return replace(_read(said["number"], country), mine=_is_own(said["whose"]))
    if _ALONE.fullmatch(typed) and _is_one(typed) and not _DATE.match(typed):
        alone = _read(typed, country)
        # What nobody can ring may be readings, one after the other.
        return alone if alone.number else None
    return None


def without_phone(text: str, country: str | None) -> tuple[str, PhoneSaid | None]:
    """A name, and the number typed behind it; None for no number."""
    said = _AT_END.fullmatch(" ".join(text.split()))
    if said is None or not _is_one(said["number"]):
        return text, None
    return said["name"].strip(), _read(said["number"], country)


def phone_of(number: str, country: str | None = None) -> str:
    """A number as a channel hands it on, in the international notation; "" for none."""
    plain = "".join(one for one in number if one.isdigit())
    return _read(f"+{plain}", country).number or _read(number, country).number


def phone_alone(typed: str, country: str | None) -> str:
    """A number that stands alone, as in a cell of a table, in the international notation; "" for
    none. A number without its country is never taken for one of another."""
    plain = typed.strip()
    if not re.fullmatch(_DIGITS, plain) or not _is_one(plain):
        return ""
    return _read(plain, country).number


def written_forms(phone: str) -> tuple[str, ...]:
    """How a number that is kept may have been typed: for blotting it out of texts."""
    try:
        number = parse(phone)
    except NumberParseException:
        return (phone,) if phone else ()
    shown = [format_number(number, form) for form in FORMS]
    plain = [re.sub(r"\D", "", one) for one in shown]
    tight = [re.sub(r"[\s().-]", "", one) for one in shown]
    dashed = [re.sub(r"\s", "-", one) for one in shown]
    return tuple(dict.fromkeys((phone, *shown, *plain, *tight, *dashed)))


def _is_one(number: str) -> bool:
    groups = re.findall(r"\d+", number)
    whole = number.lstrip().startswith("+") or len(groups) <= MOST_GROUPS
    return whole and sum(len(one) for one in groups) >= LEAST_DIGITS


def _is_own(whose: str | None) -> bool:
    return (whose or "").lower() in ("my", "our")


def _read(number: str, country: str | None) -> PhoneSaid:
    try:
        read = parse(number, country)
    except NumberParseException:
        return PhoneSaid(unclear=True)
    if not is_possible_number(read):
        return PhoneSaid(unclear=True)
    return PhoneSaid(format_number(read, PhoneNumberFormat.INTERNATIONAL))
