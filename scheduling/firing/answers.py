"""Answers of the set-up: their notation, what is plausible, and the oven that follows.

``checked`` refuses with a reason and a range; ``described`` builds the make-up once enough is
known. An answer of ``unknown`` leaves a thing as the construction has it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, Literal

from pydantic import ValidationError

from scheduling.choice import About
from scheduling.journal import Constructed
from scheduling.oven.makeup import Layer, MakeUp, known_zones
from scheduling.oven.preset import DescriptionError, shipped
from scheduling.oven.stands import Over, Stands

ASKED = (
    About.UNITS,
    About.PLACE,
    About.CONSTRUCTION,
    About.SIZE,
    About.WET_WORK,
    About.STANDS,
    About.OPENINGS,
    About.INSTRUMENT,
    About.DAYS,
    About.HOURS,
    About.SECOND,
)
"""What the plan needs, in the order of asking. Thickness and shelter can be given in the
settings; until then they are the construction's, and half sheltered."""

BUILDERS = (
    About.PLACE,
    About.CONSTRUCTION,
    About.SIZE,
    About.THICKNESS,
    About.WET_WORK,
    About.STANDS,
    About.OPENINGS,
    About.SHELTER,
    About.INSTRUMENT,
)
"""What a builder may fill in of an oven. Degrees, days, hours and who tends it are its owner's own
word: so no fire is ever planned that the owner has not agreed to."""

REPLACED = {About.COVER: About.STANDS, About.DOOR: About.OPENINGS}
"""Questions that ovens were asked before, and what asks for the same and more today."""

USUAL_DIAMETER_MM = 800.0
"""Taken where the owner does not know (own choice: a common garden oven)."""

SHORTEST_WINDOW_H = 5.0
"""A firing takes at least this long."""

OLDEST_D = 3650

RefusedWhy = Literal[
    "not_understood",
    "in_future",
    "too_old",
    "out_of_range",
    "unknown_choice",
    "no_days",
    "too_few_hours",
    "does_not_fit",
]


@dataclass(frozen=True, slots=True)
class Refused(Exception):  # noqa: N818 - it reads as what happened to the answer
    """An answer that cannot be right: why, and the plausible range in the field's own unit."""

    why: RefusedWhy
    low: float | None = None
    high: float | None = None
    sentences: tuple[str, ...] = ()


_CHOICES: Mapping[About, tuple[str, ...]] = {
    About.UNITS: ("C", "F"),
    About.COVER: ("open", "sheet", "roof"),
    About.DOOR: ("none", "plain", "insulated"),
    About.OPENINGS: tuple(
        f"{door}+{flue}" for door in ("none", "plain", "insulated") for flue in ("flue", "no_flue")
    ),
    About.SHELTER: ("exposed", "part", "sheltered"),
    About.SECOND: ("none", "invite"),
}

_RANGES: Mapping[About, tuple[float, float]] = {
    About.SIZE: (300.0, 2500.0),
    About.THICKNESS: (20.0, 300.0),
    About.INSTRUMENT: (100.0, 2000.0),
}


def checked(about: About, value: str, today: date, own: Mapping[str, Constructed]) -> str:
    """The answer in its own notation. Raises Refused. ``own`` are a builder's constructions."""
    said = value.strip()
    if about is About.STANDS:
        return _stands(said)
    if about in _CHOICES:
        return _choice(about, said)
    if about in _RANGES:
        return _number(about, said)
    if about is About.WET_WORK:
        return _day(said, today)
    if about is About.CONSTRUCTION:
        key = said.lower()
        if key not in own and key not in shipped().presets:
            raise Refused("unknown_choice")
        return key
    if about is About.PLACE:
        return _place(said)
    if about is About.DAYS:
        digits = "0123456" if said.lower() == "all" else "".join(sorted(set(said)))
        if not digits:
            raise Refused("no_days")
        if any(digit not in "0123456" for digit in digits):
            raise Refused("not_understood")
        return digits
    return _hours(said)


def _stands(said: str) -> str:
    try:
        return str(Stands.read(said))
    except ValidationError:
        raise Refused("unknown_choice") from None


def _choice(about: About, said: str) -> str:
    for one in _CHOICES[about]:
        if said.lower() == one.lower():
            return one
    raise Refused("unknown_choice")


def _number(about: About, said: str) -> str:
    if said.lower() in ("unknown", "none"):
        return said.lower()
    try:
        number = float(said)
    except ValueError:
        raise Refused("not_understood") from None
    low, high = _RANGES[about]
    if not low <= number <= high:
        raise Refused("out_of_range", low, high)
    return f"{number:g}"


def _day(said: str, today: date) -> str:
    try:
        day = date.fromisoformat(said)
    except ValueError:
        raise Refused("not_understood") from None
    if day > today:
        raise Refused("in_future")
    if (today - day).days > OLDEST_D:
        raise Refused("too_old")
    return day.isoformat()


@dataclass(frozen=True, slots=True)
class Place:
    """Where the oven stands."""

    latitude: float
    longitude: float
    zone: str
    name: str = ""


def place_of(said: str) -> Place:
    """Read ``latitude,longitude,zone,name``. Raises Refused."""
    parts = [part.strip() for part in said.split(",", 3)]
    if len(parts) < 3:
        raise Refused("not_understood")
    try:
        latitude, longitude = float(parts[0]), float(parts[1])
    except ValueError:
        raise Refused("not_understood") from None
    if not (-90 <= latitude <= 90 and -180 <= longitude <= 180):
        raise Refused("out_of_range")
    return Place(latitude, longitude, parts[2], parts[3] if len(parts) > 3 else "")


def _place(said: str) -> str:
    place = place_of(said)
    if place.zone not in known_zones():
        raise Refused("not_understood")
    return f"{place.latitude:.4f},{place.longitude:.4f},{place.zone},{place.name}".rstrip(",")


def hours_of(said: str) -> tuple[float, float]:
    """Read ``9-18``, local hours. Raises Refused."""
    first, _, last = said.replace("–", "-").partition("-")
    try:
        begin, end = float(first), float(last)
    except ValueError:
        raise Refused("not_understood") from None
    if not 0 <= begin < end <= 24:
        raise Refused("out_of_range", 0.0, 24.0)
    if end - begin < SHORTEST_WINDOW_H:
        raise Refused("too_few_hours", SHORTEST_WINDOW_H)
    return begin, end


def _hours(said: str) -> str:
    begin, end = hours_of("7-22" if said.lower() == "all" else said)
    return f"{begin:g}-{end:g}"


def described(answers: Mapping[About, str], name: str, own: Mapping[str, Constructed]) -> MakeUp:
    """The oven by its answers. Raises Refused("does_not_fit") with the sentences why not."""
    place = place_of(answers[About.PLACE])
    known: dict[str, Any] = {
        "name": name or "Oven",
        "wet_work_ended": date.fromisoformat(answers[About.WET_WORK]),
        "inner_diameter_mm": _or(answers.get(About.SIZE), USUAL_DIAMETER_MM),
        "latitude": place.latitude,
        "longitude": place.longitude,
        "zone": place.zone,
        **_stood(answers),
        **_opened(answers),
        "shelter": answers.get(About.SHELTER, "part"),
    }
    highest = _or(answers.get(About.INSTRUMENT), 0.0)
    if answers.get(About.INSTRUMENT) == "unknown":
        highest = 330.0  # what the simplest ones read: never trusted beyond
    if highest:
        known["instrument"] = {"max_c": highest}
    key = answers[About.CONSTRUCTION]
    thickness = answers.get(About.THICKNESS)
    shell = None if thickness in (None, "unknown") else {"shell": float(str(thickness))}
    try:
        if key in own:
            mine = own[key]
            known |= {
                "layers": _with_shell(mine.layers, shell),
                "characteristic_strength_mpa": mine.characteristic_strength_mpa,
                "cement_class": mine.cement_class,
            }
            return (
                shipped()
                .make_up(next(iter(shipped().presets)), **known)
                .model_copy(update={"construction": key})
            )
        return shipped().make_up(key, thickness_mm=shell, **known)
    except DescriptionError as error:
        raise Refused("does_not_fit", sentences=error.sentences) from None


def _with_shell(layers: tuple[Layer, ...], shell: Mapping[str, float] | None) -> tuple[Layer, ...]:
    """The layers with all of the shell together as thick as was said, in mm."""
    if shell is None:
        return layers
    usual = sum(one.thickness_mm for one in layers if one.kind == "shell")
    scale = shell["shell"] / usual
    return tuple(
        one.model_copy(update={"thickness_mm": one.thickness_mm * scale})
        if one.kind == "shell"
        else one
        for one in layers
    )


_COVERS = {Over.SKY: "open", Over.SLATS: "open", Over.ROOF: "roof", Over.INDOORS: "roof"}
"""What keeps rain off, by what is over it."""


def _stood(answers: Mapping[About, str]) -> dict[str, Any]:
    """Where it stands, and what that keeps off it."""
    said = answers.get(About.STANDS)
    if said is None:
        return {"cover": answers.get(About.COVER, "open")}
    stands = Stands.read(said)
    cover = _COVERS[stands.over]
    return {"stands": stands, "cover": "sheet" if stands.sheet and cover == "open" else cover}


def _opened(answers: Mapping[About, str]) -> dict[str, Any]:
    """Its door, and whether it has a flue."""
    said = answers.get(About.OPENINGS)
    if said is None:
        return {"door": answers.get(About.DOOR, "plain")}
    door, _, flue = said.partition("+")
    return {"door": door, "flue": flue == "flue"}


def _or(said: str | None, otherwise: float) -> float:
    return otherwise if said in (None, "unknown", "none") else float(str(said))
