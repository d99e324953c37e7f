"""Numbers that are not temperatures: wind, weights, prices, days, telephone numbers.

They are claimed before the thermometer's turn, so that "30 knots", "2 kg" or "day 3" never
become a reading.
"""

import re
from dataclasses import dataclass

from bot.understanding.message import Message
from bot.understanding.patterns import words
from bot.understanding.phrasebook import HOMELY, NOBODYS, TALK_NOUNS, VERBS_IN_S
from bot.understanding.pieces import WOOD
from bot.understanding.stretches import number
from bot.understanding.tokens import Token, TokenKind

_WIND_TO_MS = {
    "knots": 0.514444,
    "knot": 0.514444,
    "kn": 0.514444,
    "kt": 0.514444,
    "kts": 0.514444,
    "mph": 0.44704,
    "kph": 1 / 3.6,
    "kmh": 1 / 3.6,
    "km/h": 1 / 3.6,
    "m/s": 1.0,
    "ms": 1.0,
}
"""Metres a second in one unit: the international knot is 1852 m an hour, the mile 1609.344 m."""
_OTHER_UNITS = words(
    """
    kg kgs kilo kilos g gram grams gm lb lbs pounds stone ton tons tonne mm cm m metre metres
    meter meters inch inches in ft feet foot yard yards km miles mile % percent day days week
    weeks month months year years yr yrs second seconds times x st nd rd th fires firings burns
    k ml l litre litres liter liters gallon gallons psi bar v volts w watts kw kcal hz mb hpa
    o'clock am pm p quid pound dollars euros £ $ € hours minutes oz ounces bags bag barrow
    spot spots places points shots tries attempts logs pieces sticks splits billets
    barrows crate crates hairline hairlines patches nets net trips goes loads people kids guests
    pizzas pizza loaves cracks crack bricks layers courses joints stars star degreeswind
    """
)
_COUNTED_THINGS = words(
    """
    day fire firing burn number no step page stage week chapter version room option model serial
    no. nr phase age aged part figure fig series class type channel item number: size code pin
    """
)


@dataclass(frozen=True, slots=True)
class WindSpeed:
    """A wind speed in metres a second."""

    start: int
    stop: int
    wind_ms: float


def claim_identifiers(message: Message) -> None:
    """Claim telephone numbers, model numbers, prices, footnotes and other long figures."""
    tokens = message.tokens
    for index, token in enumerate(tokens):
        if token.kind is not TokenKind.NUMBER:
            continue
        before = tokens[index - 1] if index else None
        after = tokens[index + 1] if index + 1 < len(tokens) else None
        if (
            token.value != token.value
            or len(re.sub(r"\D", "", token.text)) >= 5
            or (
                token.text.startswith("0")
                and not re.fullmatch(r"0\d[0-5]\d", token.text)
                and len(token.text) > 2
                and "." not in token.text
                and not token.spoken
            )
            or _marked(before, token)
            or (after is not None and (after.text == "¤" or _is_lettered(token, after)))
        ):
            message.claim(index, index + 1)
    _claim_telephone(message)


def _is_lettered(token: Token, after: Token) -> bool:
    """Whether the figure is glued to letters that mean nothing here: "3cd", "200mhz"."""
    return (
        after.glued
        and len(after.text) > 1
        and not token.spoken
        and after.kind is TokenKind.WORD
        and after.text not in HOMELY
        and after.text not in _OTHER_UNITS
        and after.text not in _WIND_TO_MS
        and not WOOD.fullmatch(after.text)
    )


def _marked(before: Token | None, token: Token) -> bool:
    if before is None or token.spoken:
        return False
    if before.text in ("£", "$", "€", "¤", "+"):
        return True
    return token.glued and before.kind is TokenKind.WORD and before.text not in _MAY_BE_GLUED


_MAY_BE_GLUED = words(
    """
    top crown dome side sides left right hearth floor is at lit about now base back wall walls
    stoked read reads reading temperature deg degrees roughly ok yes
    """
)


def _claim_telephone(message: Message) -> None:
    run: list[int] = []
    for index, token in enumerate([*message.tokens, None]):
        if token is not None and (
            (token.kind is TokenKind.NUMBER and not token.spoken and "." not in token.text)
            or (run and token.text in ("-", "(", ")", "+"))
        ):
            run.append(index)
            continue
        digits = "".join(message.word(i) for i in run if message.word(i).isdigit())
        first = message.word(run[0]) if run else ""
        if len(digits) >= 7 and (len(digits) >= 10 or first.startswith("0") or first == "555"):
            message.claim(run[0], run[-1] + 1)
        run = []


def _is_counted(message: Message, index: int) -> bool:
    """Whether a noun in the plural stands there: "3 coffees", but not "150 sides"."""
    word = message.word(index)
    return (
        word.endswith("s")
        and not word.endswith(("ss", "us", "is"))
        and len(word) > _SHORTEST_PLURAL
        and index < len(message.tokens)
        and not message.tokens[index].glued
        and word not in HOMELY
        and word not in VERBS_IN_S
    )


_SHORTEST_PLURAL = 3


def _claim_nobodys(message: Message) -> None:
    """Claim prices, ages, humidities and what else the words beside a number make of it."""
    for clause in message.clauses:
        for match in (m for p in NOBODYS for m in p.regex.finditer(clause.text)):
            first = clause.token_at(match.start() + 1)
            for index in range(first, clause.token_at(match.end() - 2) + 1):
                if message.tokens[index].kind is TokenKind.NUMBER:
                    message.claim(index, index + 1)


def wind_speeds(message: Message) -> list[WindSpeed]:
    """Wind speeds with their unit; their tokens are claimed."""
    found: list[WindSpeed] = []
    for index, token in enumerate(message.tokens):
        if token.kind is not TokenKind.NUMBER or not message.free(index, index + 1):
            continue
        for length in (3, 1):
            unit = "".join(message.word(i) for i in range(index + 1, index + 1 + length))
            if unit in ("minutes/s", "m/sec", "minutes/seconds", "m/seconds"):
                unit = "m/s"
            if unit in _WIND_TO_MS:
                message.claim(index, index + 1 + length)
                found.append(
                    WindSpeed(index, index + 1 + length, round(token.value * _WIND_TO_MS[unit], 1))
                )
                break
    return found


def claim_other_measures(message: Message) -> None:
    """Claim numbers with a unit that is no temperature, ordinals, and counted days and fires."""
    _claim_nobodys(message)
    for index, token in enumerate(message.tokens):
        if token.kind is not TokenKind.NUMBER or not message.free(index, index + 1):
            continue
        before, after = message.word(index - 1), message.word(index + 1)
        measured = after in _OTHER_UNITS and not (after == "in" and message.word(index + 2) != "")
        if after == "st" and not message.tokens[index + 1].glued:
            measured = False
        if measured or (after == "-" and message.word(index + 2) in _OTHER_UNITS):
            message.claim(index, index + 2)
        elif (
            before in _COUNTED_THINGS
            and message.word(index - 2) not in ("on",)
            and not (before in ("fire", "no") and token.value >= 20)
        ):
            message.claim(index - 1, index + 1)
        elif after == "of" and number(message, index + 2) is not None:
            message.claim(index, index + 3)
        elif before == "#" or after in TALK_NOUNS or _is_counted(message, index + 1):
            message.claim(index, index + 1)
        elif before in ("force", "beaufort"):
            message.claim(index - 1, index + 1)
        elif (
            after == "/"
            and token.value < 32
            and number(message, index + 2) is not None
            and message.tokens[index + 2].value < 32
        ):
            message.claim(index, index + 3)
