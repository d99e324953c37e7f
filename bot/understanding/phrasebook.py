"""How owners say things: the shelves of ``book/``, read once and compiled.

The phrases stand as plain text in ``book/*.txt``, in the language of ``patterns``; short forms
are already spelt out there ("cant" reads "can not", "its" reads "it is"). To teach the chat a
new way of saying something, add a line to the right section; nothing here changes.
"""

import re

from bot.understanding.patterns import Pattern, pattern
from bot.understanding.shelf import joined_lines, shelf, word_list

_WORDS = shelf("words")
_CLASSES = {
    f"@{name}": "|".join(word_list(_WORDS[name]))
    for name in ("people", "body", "clothes", "days", "things", "flammable", "alight")
}
"""Words that many phrases share: "@people" within a choice stands for all of that section."""


def _phrases(name: str) -> dict[str, tuple[Pattern, ...]]:
    return {
        title: tuple(pattern(spelt_out(line)) for line in joined_lines(lines))
        for title, lines in shelf(name).items()
    }


def spelt_out(line: str) -> str:
    """A line with the words that its classes stand for."""
    for name, written in _CLASSES.items():
        line = line.replace(name, written)
    return line


_MOODS = _phrases("moods")
NEW_START = _MOODS["new start"]
AFTER_A_FIGURE = _MOODS["after a figure"]
IDIOMS = _MOODS["idioms"]
REASONS = _MOODS["reasons"]
(COUNTED_WOOD,) = _MOODS["counted wood"]
ASKING = _MOODS["asking"]
SUPPOSING = _MOODS["supposing"]
TOLD = _MOODS["told"]
IF = _MOODS["if"]
WHAT_IF = _MOODS["what if"]
OVER_NOW = _MOODS["over now"]
OVER_BEFORE = _MOODS["over before"]
ESTRANGING = _MOODS["estranging"]
DISTRUST = _MOODS["distrust"]
NOBODYS = _phrases("figures")["nobody's reading"]
OTHER_PEOPLE = _MOODS["other people"]
CORRECTING = _MOODS["correcting"]
SAME_AGAIN = _MOODS["same again"]

_DEEDS = _phrases("deeds")
LIT = _DEEDS["lit"]
LIGHTING_WORD_OTHER = _DEEDS["lighting word other"]
NOT_LIT = _DEEDS["not lit"]
STOKED = _DEEDS["stoked"]
STOKED_IS_OTHER = _DEEDS["stoked is other"]
FIRE_OUT = _DEEDS["fire out"]
FIRE_OUT_IS_OTHER = _DEEDS["fire out is other"]
ONLY_EMBERS = _DEEDS["only embers"]
ONLY_EMBERS_IS_OTHER = _DEEDS["only embers is other"]
DOOR_ON = _DEEDS["door on"]
DOOR_OFF = _DEEDS["door off"]
LEAVING = _DEEDS["leaving"]
A_MOMENT = _DEEDS["a moment"]
NOT_LEAVING = _DEEDS["not leaving"]
BACK = _DEEDS["back"]
NOT_BACK = _DEEDS["not back"]
BACK_LATER = _DEEDS["back later"]
WOOD_OUT = _DEEDS["wood out"]
WOOD_OUT_IS_OTHER = _DEEDS["wood out is other"]
NO_THERMOMETER = _DEEDS["no thermometer"]
NO_THERMOMETER_IS_OTHER = _DEEDS["no thermometer is other"]

_SIGHTS = _phrases("sights")
CRACK = _SIGHTS["crack"]
CRACK_IS_SOUND = _SIGHTS["crack is sound"]
HAIRLINE = _SIGHTS["hairline"]
OPEN_CRACK = _SIGHTS["open crack"]
STEAM = _SIGHTS["steam"]
DAMP = _SIGHTS["damp"]
DAMP_IS_OTHER = _SIGHTS["damp is other"]
SMOKE = _SIGHTS["smoke"]
SMOKE_IS_OTHER = _SIGHTS["smoke is other"]
SOOT_CLEAR = _SIGHTS["soot clear"]
SOOT_BLACK = _SIGHTS["soot black"]
TOO_BIG = _SIGHTS["too big"]
OVERLOAD = _SIGHTS["overload"]
VAGUE_HEAT = _SIGHTS["vague heat"]
SIZE_MM = re.compile(r"(?<!\S)(\d[\d.,]*) ?(mm|cm|millimet\S*|centimet\S*)(?!\S)")
IS_WIDE = re.compile(r"\s*(?:or so |about )?(?:wide|width|in width|across|open|gap|apart)\b")
IS_LONG = re.compile(r"\s*(?:or so |about )?(?:in )?(?:long|length|high|tall|deep)\b")
LONG_BEFORE = re.compile(
    r"\b(?:length|long|runs|running|over|along|for)(?: of| is| about| some)*\s*$"
)

_TALK = _phrases("talk")
STOP_NUDGES = _TALK["stop nudges"]
GREETING = _TALK["greeting"]
THANKS = _TALK["thanks"]
THANKS_IS_OTHER = _TALK["thanks is other"]
UNDO = _TALK["undo"]
YES = _TALK["yes"]
NO = _TALK["no"]
NOT_YET = _TALK["not yet"]
LATER = _TALK["later"]
LOOKED = _TALK["looked"]
UNSURE = _TALK["unsure"]
FOUND_WELL = _TALK["found well"]
FOUND_ILL = _TALK["found ill"]

_DAYS = _phrases("days")
CANNOT = _DAYS["cannot"]
CANNOT_IS_OTHER = _DAYS["cannot is other"]
CAN = _DAYS["can"]
ONLY = _DAYS["only"]
EVENINGS = _DAYS["evenings"]
MORNINGS = _DAYS["mornings"]
FIRE_BAN = _DAYS["fire ban"]
WITHOUT_END = _DAYS["without end"]
FIRE_BAN_IS_OVER = _DAYS["fire ban is over"]
WISHED = _DAYS["wished"]

_SKY = _phrases("sky")
SKY_IS_OTHER = _SKY.pop("other")
SKY = tuple(_SKY.items())

_TOPICS = _phrases("topics")
TOPICS = tuple((title.removeprefix("first "), phrases) for title, phrases in _TOPICS.items())
"""Topics of a question with their phrases, in the order in which they are tried."""

PLACES: dict[str, str] = {
    word: place
    for place in ("top", "sides", "hearth", "elsewhere")
    for word in word_list(_WORDS[place])
}
ABOUT = frozenset(word_list(_WORDS["about"]))
_CHATTER = word_list(_WORDS["chatter"])
FRIENDLY_BEFORE = frozenset([*word_list(_WORDS["friendly before"]), *_CHATTER])
FRIENDLY_AFTER = frozenset([*word_list(_WORDS["friendly after"]), *_CHATTER])
UNITS: dict[str, str] = {"c": "C", "celsius": "C", "f": "F", "fahrenheit": "F"}
DEGREES = frozenset(["degrees", "°"])
HOMELY = frozenset(
    [
        *word_list(_WORDS["homely"]),
        *FRIENDLY_BEFORE,
        *FRIENDLY_AFTER,
        *ABOUT,
        *PLACES,
        *UNITS,
        *DEGREES,
    ]
)
"""Words among which a number may be our thermometer's; beside any other it is asked about."""
VERBS_IN_S = frozenset(word_list(_WORDS["verbs in s"]))
TALK_NOUNS = frozenset(word_list(_WORDS["talk nouns"]))
NEGATORS = frozenset(word_list(_WORDS["negators"]))
