"""What a person makes of a message: the one thing to do, found as a reader would find it.

Buttons first, then amounts of wood and the plain words of the trade. The wording belongs to
others, so everything that leans on it is here. What is not recognised asks for nothing.
"""

import re
from dataclasses import dataclass

from bot.rehearsal.chat import Heard

NUMBER = r"(\d+(?:[.,]\d+)?)"
_SENTENCE = re.compile(r"(?<=[.?!])\s+")
_TAG = re.compile(r"</?[bi]>")
_QUOTED = re.compile(r"“[^”]*”")
"""Words that could be typed, given as examples."""
_BOLD = re.compile(r"<b>(.*?)</b>", re.DOTALL)
_KG = re.compile(rf"{NUMBER}(?:\s*(?:to|[-–])\s*{NUMBER})?\s*kg")
_PIECES = re.compile(
    rf"{NUMBER}(?:\s*(?:to|[-–])\s*{NUMBER})?\s+(?:[\w-]+\s+)?(?:pieces?|splits?|sticks?|logs?)\b"
)
_WORDS = {
    "one": "1",
    "two": "2",
    "three": "3",
    "four": "4",
    "five": "5",
    "six": "6",
    "seven": "7",
    "eight": "8",
    "nine": "9",
    "half a": "0.5",
}
_THICK_M = (("wrist-thick", 0.06), ("2-thumbs-thick", 0.045), ("thumb-thick", 0.025))
"""How thick the pieces are that somebody takes who is told so (own choice)."""
_SPLIT_THIN = re.compile(r"split thin")
_THIN_M = 0.03
_DEGREES = re.compile(rf"{NUMBER}\s*°\s*([CF])?")

_NO_WOOD = re.compile(
    r"(add|put|lay)\w*\s+(nothing|no\b)|no (more )?wood|nothing (more )?on|"
    r"(do not|don't|don’t|not|never)\s+(yet\s+)?(add|put|stoke|light)|add no|leave it alone|"
    r"let (it|the fire) (fall|die|burn (down|out)|go out|drop)|without adding|"
    r"before (you )?(add|put|stok)"
)  # fmt: skip
_ADD = re.compile(r"\b(add|put|stoke|place|lay|feed|give it)\b")
_LIGHT = re.compile(
    r"\b(light (it|the fire|up|now|your|a small)|you can light|lay and light|"
    r"ready to light|time to light|lit yet|have you lit|is it lit)"
)
_RELIGHT = re.compile(r"see that (it|they) flames?\b")
_LATER = re.compile(
    r"\b(tomorrow|the evening before|this evening|tonight have|for the day|in all\b|altogether)"
)
_READ = re.compile(
    r"(what does|what is|how hot|read(ing)?\b.*\?|take a reading|read the (dome|crown|top)|"
    r"point the thermometer|temperature\?|send (me )?(a|the) (reading|number|temperature)|"
    r"the (dome|crown|top)\b.*\?|measure|a fresh reading|read again|"
    r"read (it|the same spot) (once more|again))"
)
_SIDE = re.compile(r"\b(coldest|coolest)\b.*\bsides?\b")
_DOOR_ON = re.compile(
    r"(shut|close) the door|door (goes )?on\b(?!, noted)|put the door|"
    r"stand the door|door in the mouth|with the door"
)
_DOOR_OFF = re.compile(r"(take|keep|leave) the door off|door off|open the door|door stays off")
_RAKE = re.compile(r"(?<!not )(?<!no )\b(spread|rake) (it|(the )?(fire|burning wood))\b")
_EMBERS = re.compile(r"(spread|rake)\w* (the )?embers")
_STOP = re.compile(
    r"\b(stop (the )?(firing|now|here|for today)|"
    r"no more fires?|call (your|the) builder|stop and call)"
)
_DONE = re.compile(
    r"(break-in is (done|finished|complete|over)|is broken in|oven is (ready|finished|"
    r"yours)|that was the last (fire|firing)|all done|you (can|may) cook (now|anything))"
)
_NOT_YET = re.compile(
    r"\b(not yet|no fire (today|yet|before)|do not light|don't light|"
    r"don’t light|nothing (is|may be|to be) lit|wait until|still curing)\b"
)
_AGAIN_LATER = re.compile(r"\b(read|reading|look|measure) again in \d+ minutes")
"""To be done when it is time, not at once: the bot asks again then."""
_UNCLEAR = re.compile(
    r"(is that °c or °f|did you mean|which (one|of)|not sure (what|which|if|of)|can(not|"
    r"'t|’t) (make out|tell|use)|say that again|is that right|did i read|was that in|"
    r"could not (read|make sense))"
)


@dataclass(frozen=True, slots=True)
class Wish:
    """What one message asks of its reader; ``wood_kg`` is to go on at once."""

    wood_kg: float | None = None
    pieces: float | None = None
    thick_m: float | None = None
    light: bool = False
    relight: bool = False
    no_wood: bool = False
    read: bool = False
    side: bool = False
    """The coldest side is to be read too."""
    door_on: bool = False
    door_off: bool = False
    rake: bool = False
    embers: bool = False
    stop: bool = False
    done: bool = False
    not_yet: bool = False
    unclear: bool = False
    named_c: float | None = None
    labels: tuple[str, ...] = ()

    def button(self, *words: str) -> str | None:
        """The first button that holds any of ``words``, tried in their order."""
        for word in words:
            for label in self.labels:
                if re.search(rf"(?<!\w){re.escape(word)}", label.lower()):
                    return label
        return None


def understand(heard: Heard) -> Wish:
    """What ``heard`` asks for."""
    text = _QUOTED.sub("", _TAG.sub("", heard.text)).lower().replace("\n", " ")
    for word, digit in _WORDS.items():
        text = re.sub(rf"\b{word}\b", digit, text)
    no_wood = bool(_NO_WOOD.search(text))
    now = " ".join(part for part in _SENTENCE.split(text) if not _LATER.search(part))
    wood = pieces = None
    if _ADD.search(now) and not no_wood:
        wood, pieces = _amount(_KG, now), _amount(_PIECES, now)
    return Wish(
        wood_kg=wood,
        pieces=pieces,
        thick_m=_thickness(now),
        light=bool(_LIGHT.search(now)) and not _NOT_YET.search(text),
        relight=bool(_RELIGHT.search(now)),
        no_wood=no_wood,
        read=bool(_READ.search(_AGAIN_LATER.sub("", text))),
        side=bool(_SIDE.search(text)),
        door_on=bool(_DOOR_ON.search(now)),
        door_off=bool(_DOOR_OFF.search(now)),
        rake=bool(_RAKE.search(now)),
        embers=bool(_EMBERS.search(now)),
        stop=bool(_STOP.search(text)),
        done=bool(_DONE.search(text)),
        not_yet=bool(_NOT_YET.search(text)),
        unclear=bool(_UNCLEAR.search(text)),
        named_c=_degrees(heard.text),
        labels=tuple(label for row in heard.buttons for label in row),
    )


def _amount(shape: re.Pattern[str], text: str) -> float | None:
    """The first amount of that shape; of a range the upper end, as people do."""
    found = shape.search(text)
    if found is None:
        return None
    return float((found.group(2) or found.group(1)).replace(",", "."))


def _thickness(text: str) -> float | None:
    """How thick the pieces are to be, if it is told."""
    told = next((metres for words, metres in _THICK_M if words in text), None)
    return _THIN_M if told is not None and _SPLIT_THIN.search(text) else told


def _degrees(text: str) -> float | None:
    """The temperature in the message that stands out; where none is bold, the first."""
    found = next((hit for bold in _BOLD.findall(text) if (hit := _DEGREES.search(bold))), None)
    found = found or _DEGREES.search(_TAG.sub("", text))
    if found is None:
        return None
    value = float(found.group(1).replace(",", "."))
    return (value - 32) / 1.8 if found.group(2) == "F" else value
