"""How an invented owner answers the questions of the first meeting, from what they were told."""

import re
from dataclasses import dataclass
from datetime import timedelta
from typing import Protocol

from bot.rehearsal.chat import Heard
from bot.rehearsal.reading_the_bot import Wish
from scheduling.oven.makeup import Cover, Door, MakeUp
from scheduling.oven.preset import shipped

FIRST_MEETING = timedelta(hours=4)
"""After this long a question with the same words is about a fire, not about the oven."""


@dataclass(frozen=True, slots=True)
class Told:
    """An answer: words, or a button."""

    text: str | None = None
    press: str | None = None


class Knows(Protocol):
    """Who is asked: what they know of their oven."""

    make_up: MakeUp
    unit: str
    fire_lit: bool

    @property
    def measures(self) -> bool:
        """Whether they have a thermometer."""
        ...


_QUESTIONS: tuple[tuple[str, str], ...] = (
    (r"°c or °f|celsius|fahrenheit|which unit", "unit"),
    (r"(your|a|an infrared) thermometer|how high does it read|highest", "thermometer"),
    (r"which town|which place|nearest (town|place)|share .*location", "place"),
    (r"when (was|did|were)|last wet|which day .*(finish|render|mortar)|date", "date"),
    (r"how (is|was) it built|what kind of (oven|dome)|which construction|made of", "construction"),
    (r"flue", "openings"),
    (r"with what over it|(rain|cover|roof|sheet)", "stands"),
    (r"(how wide|diameter|across)", "diameter"),
    (r"(how thick|thickness)", "thickness"),
    (r"(which hours|what hours|from when to when|what time|between what)", "hours"),
    (r"(which days|what days|when can you|days)", "days"),
    (r"(who else|anyone else|somebody else|second person)", "second"),
    (r"(wind|shelter)", "shelter"),
    (r"(is (this|that|it all) right|all correct|shall i keep|correct\?)", "yes"),
)  # fmt: skip


def answer(owner: Knows, heard: Heard, wish: Wish) -> Told | None:
    """What the owner says to a set-up question; None where it is none."""
    text = heard.text.lower()
    if "?" not in text or owner.fire_lit or wish.light or wish.wood_kg:
        return None
    about = next((name for shape, name in _QUESTIONS if re.search(shape, text)), None)
    if about is None or (wish.read and about != "thermometer"):
        return None
    words, keys = _known(owner, about)
    label = wish.button(*keys) if keys else None
    if label is not None:
        return Told(press=label)
    return Told(text=words) if words is not None else None


def _known(owner: Knows, about: str) -> tuple[str | None, tuple[str, ...]]:
    """Words to type, and words to look for on buttons, most fitting first."""
    oven = owner.make_up
    highest = f"{oven.instrument.max_c:g}" if oven.instrument else "550"
    place = f"{oven.latitude}, {oven.longitude}" if oven.latitude is not None else None
    known: dict[str, tuple[str | None, tuple[str, ...]]] = {
        "unit": ("°C", ("°c", "celsius", "c")),
        "thermometer": (highest, (highest,)) if owner.measures else ("none", ("none", "no")),
        "place": (place, ()),
        "date": (oven.wet_work_ended.isoformat(), ()),
        "construction": (oven.construction, _construction(oven.construction)),
        "stands": _stands(oven),
        "openings": _openings(oven),
        "diameter": (f"{oven.inner_diameter_mm:g} mm", ()),
        "thickness": (f"{oven.shell_thickness_mm:g} mm", ()),
        "days": ("any day", ("any day", "every day", "all")),
        "hours": ("9-18", ("any time", "all day", "9-18")),
        "second": ("no", ("no", "just me", "only me", "nobody")),
        "shelter": (oven.shelter.value, (oven.shelter.value,)),
        "yes": ("yes", ("yes", "right", "all right", "keep")),
    }
    return known[about]


def _stands(oven: MakeUp) -> tuple[str, tuple[str, ...]]:
    """Where it stands; an invented oven has nothing near it that burns."""
    return {
        Cover.OPEN: ("in the open, nothing near it", ("nothing near it",)),
        Cover.SHEET: ("in the open, a tarp over it when it rains", ("sheet for rain",)),
        Cover.ROOF: ("under a roof", ("roof, sides open",)),
    }[oven.cover]


def _openings(oven: MakeUp) -> tuple[str, tuple[str, ...]]:
    """Its door, and that it has no flue: the invented ones smoke out of the mouth."""
    kind = {Door.NONE: "no", Door.PLAIN: "plain", Door.INSULATED: "insulated"}[oven.door]
    return f"{kind} door, no flue", (f"{kind} door, no flue", f"{kind} door yet, no flue")


def _construction(key: str) -> tuple[str, ...]:
    """Words for a construction: its title first, since "cast" alone names several."""
    preset = shipped().presets.get(key)
    title = () if preset is None else (preset.title.lower(),)
    return (*title, key, *key.split("-"))
