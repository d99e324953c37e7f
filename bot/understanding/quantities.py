"""Numbers that are not temperatures: pieces of wood, wind, weights, days, telephone numbers.

They are claimed before the thermometer's turn, so that "2 bits", "30 knots" or "day 3" never
become a reading.
"""

import re
from dataclasses import dataclass

from bot.understanding.message import Message
from bot.understanding.patterns import words
from bot.understanding.phrasebook import NOBODYS, TALK_NOUNS
from bot.understanding.tokens import Token, TokenKind

_WOOD = re.compile(
    r"(log|bit|piece|stick|split|chunk|billet|lump|length|quarter|bark|branch|twig|handful|armful"
    r"|block|slab|wedge|round|one)(s|es)?|logs?|kindling|woods?|more|bits|pcs|pc|of"
)
_ADJECTIVES = words(
    """
    small little big large thin thick medium good dry short long fresh nice more extra new oak
    birch beech ash decent chunky tiny fat skinny wee of fine split average kiln dried seasoned
    hardwood softwood pine sized size another inch
    """
)
_COUNT_WORDS = {"a": 1, "an": 1, "another": 1, "couple": 2, "pair": 2}
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
    barrows crate crates nets net trips goes loads people kids guests pizzas pizza loaves cracks
    crack bricks layers courses joints stars star degreeswind
    """
)
_COUNTED_THINGS = words(
    """
    day fire firing burn number no step page stage week chapter version room option model serial
    no. nr phase age aged part figure fig series class type channel item number: size code pin
    """
)


@dataclass(frozen=True, slots=True)
class Pieces:
    """So many pieces of wood, at tokens ``start`` to ``stop`` (exclusive)."""

    start: int
    stop: int
    count: int | None


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
            or (after is not None and after.text in ("¤", "%", "/") and after.text == "¤")
        ):
            message.claim(index, index + 1)
    _claim_telephone(message)


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


def pieces(message: Message) -> list[Pieces]:
    """Counts of wood; their tokens are claimed."""
    found: list[Pieces] = []
    for index in range(len(message.tokens)):
        if not message.free(index, index + 1):
            continue
        count = _count_at(message, index)
        if count is None:
            continue
        value, stop = count
        stop_at = _wood_end(message, stop) or _after_a_verb(message, index, stop)
        if stop_at is None:
            continue
        message.claim(index, stop_at)
        found.append(Pieces(index, stop_at, value))
    return found


def _count_at(message: Message, index: int) -> tuple[int | None, int] | None:
    token = message.tokens[index]
    if token.kind is TokenKind.NUMBER:
        if token.value != int(token.value) or not 1 <= token.value <= 40:
            return None
        stop = index + 1
        after = message.word(stop)
        if after in ("-", "or", "to") and _is_number(message, stop + 1):
            return int(message.tokens[stop + 1].value), stop + 2
        if after == "x":
            stop += 1
        return int(token.value), stop
    if token.text in _COUNT_WORDS:
        if token.text == "a" and message.word(index + 1) in (
            "few",
            "couple",
            "bit",
            "load",
            "lot",
            "little",
            "handful",
            "pair",
            "armful",
        ):
            return None
        stop = index + 1 + (message.word(index + 1) == "of")
        if token.text == "another" and (
            _is_number(message, stop) or message.word(stop) in ("couple", "few", "pair")
        ):
            return None
        return _COUNT_WORDS[token.text], stop
    if token.text == "one":
        return 1, index + 1
    return None


def _is_number(message: Message, index: int) -> bool:
    return index < len(message.tokens) and message.tokens[index].kind is TokenKind.NUMBER


_STOKING = words(
    """
    added add put chucked threw popped gave fed loaded bunged slung lobbed tossed another stoked
    with more adding putting
    """
)
_ENDS_A_COUNT = frozenset(
    ["", "on", "in", "more", ".", ",", "!", "now", "and", "at", "just", "there"]
)


def _after_a_verb(message: Message, start: int, stop: int) -> int | None:
    """The index after the "2" of "added 2", "put two on", "another 2 on"."""
    token = message.tokens[start]
    if token.kind is not TokenKind.NUMBER or token.value > 12:
        return None
    if start == message.clause_of(start).start and message.word(stop) in ("on", "in"):
        # "2 on": nothing else stands in the clause
        return stop if message.word(stop + 1) in ("", ".", ",", "!", "and", "\n") else None
    before = [message.word(start - step) for step in (1, 2)]
    led = before[0] in _STOKING or (before[0] in ("on", "in") and before[1] in _STOKING)
    return stop if led and message.word(stop) in _ENDS_A_COUNT else None


def _wood_end(message: Message, start: int) -> int | None:
    """The index after "small dry logs", if wood is what is counted at ``start``."""
    index = start
    while index < start + 4 and message.word(index) in _ADJECTIVES:
        if message.word(index) == "more" and message.word(index + 1) in (
            "minutes",
            "hours",
            "days",
            "degrees",
            "weeks",
        ):
            return None
        index += 1
    word = message.word(index)
    if word and _WOOD.fullmatch(word) and word not in ("of",):
        if word in ("bit", "wood") and index == start and message.word(start - 1) in ("a", "the"):
            return None
        if word == "quarter" or word == "quarters":
            return None
        return index + 1
    if index > start and message.word(index - 1) in ("more",) and index - 1 >= start:
        return index
    return None


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
        elif after == "of" and _is_number(message, index + 2):
            message.claim(index, index + 3)
        elif before == "#" or after in TALK_NOUNS:
            message.claim(index, index + 1)
        elif before in ("force", "beaufort"):
            message.claim(index - 1, index + 1)
        elif (
            after == "/"
            and token.value < 32
            and _is_number(message, index + 2)
            and message.tokens[index + 2].value < 32
        ):
            message.claim(index, index + 3)
