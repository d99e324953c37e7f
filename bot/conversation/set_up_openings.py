"""An oven's door and flue, as people type them.

An answer is a tuple of what the words may mean, in the notation of ``About.OPENINGS``; where they
tell only of the one, each that the other may be.
"""

import re

_DOORS = {
    "insulated": re.compile(r"\b(?:insulat\w*|double(?:[- ]?(?:skin|wall)\w*)?|thermal)\b"),
    "plain": re.compile(
        r"\b(?:plain|steel|metal|iron|wood(?:en)?|simple|single|normal|sheet|boards?|planks?)\b"
    ),
}
_NO_DOOR = re.compile(
    r"\b(?:no|without(?: a| any)?|not got a|haven'?t a|nor)(?: \w+)? door\b|\bdoor(?:less)?:? ?"
    r"(?:none|no|not yet|to come)\b|\bdoorless\b|\bno (?:flue|chimney) (?:or|nor|and no) door\b|"
    r"\bno door\b|\bopen mouth\b"
)
_FLUE = r"(?:flues?|chimn(?:ey|ies|eys)|chimeny|stack|stove ?pipe|smoke ?pipe|cowl|vent)"
_NO_FLUE = re.compile(
    rf"\b(?:no|without(?: a| any)?|not got a|haven'?t a|isn'?t a|nor(?: a)?)(?: \w+)? {_FLUE}\b|"
    rf"\b{_FLUE}:? ?(?:none|no|not)\b|\b(?:no|neither) door (?:or|nor|and no) (?:a )?{_FLUE}\b|"
    r"\bflueless\b|\bout of the (?:mouth|front|door)\b"
)
_NEITHER = re.compile(r"^(?:none|neither|nothing|nowt|no to both)\b")


def openings(said: str) -> tuple[str, ...]:
    """Answers in the notation of ``About.OPENINGS``; both halves of one that tells only one."""
    if re.fullmatch(r"(?:none|plain|insulated)\+(?:no_)?flue", said):
        return (said,)
    if _NEITHER.match(said) and not re.search(rf"\bdoor\b|{_FLUE}", said):
        return ("none+no_flue",)
    door, flue = _door(said), _flue(said)
    has_door = re.search(r"\bdoors?\b", said) is not None
    if said == "both":
        has_door, flue = True, "flue"
    if door is None and flue is None and not has_door:
        return ()
    kinds = ("plain", "insulated") if has_door else ("plain", "insulated", "none")
    doors = (door,) if door is not None else kinds
    flues = (flue,) if flue is not None else ("flue", "no_flue")
    return tuple(f"{one}+{other}" for one in doors for other in flues)


def _door(said: str) -> str | None:
    if _NO_DOOR.search(said):
        return "none"
    without_flue = re.sub(rf"\b(?:\w+ )?{_FLUE}\b", " ", said)
    return next((kind for kind, words in _DOORS.items() if words.search(without_flue)), None)


def _flue(said: str) -> str | None:
    if _NO_FLUE.search(said):
        return "no_flue"
    return "flue" if re.search(rf"\b{_FLUE}\b", said) else None
