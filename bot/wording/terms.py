"""Words for things that several messages name: aims, reasons, answers."""

from collections.abc import Iterable, Sequence
from datetime import date

from bot.wording.measures import (
    Measures,
    counted,
    hours,
    kilogram,
    listed,
    percent,
    pieces,
)
from bot.wording.speech import bold, theirs
from scheduling.choice import About
from scheduling.firing.aim import Aim
from scheduling.firing.wood import pieces_of
from scheduling.meaning import PlanLine
from scheduling.oven.preset import shipped

FIRE_RULES = "Your local fire rules and the fire service come before anything I say."


def aim_sentence(aim: Aim, m: Measures) -> str:
    """What a fire is for, gently put."""
    if aim.warm_up:
        return f"It is only a warm-up: the top to about {m.about_degrees(aim.plateau_c)}, no more."
    return (
        f"The aim is the top of the dome at about {m.about_degrees(aim.plateau_c)}, "
        f"reached slowly and kept there for about {hours(aim.hold_h)}."
    )


def band(aim: Aim, m: Measures) -> str:
    """The range that a fire is to stay in."""
    return m.degrees_range(aim.low_c, aim.high_c)


def all_wood(aim: Aim) -> str:
    """The wood of a whole firing: what is likely, and how much more it may come to."""
    count = pieces_of(aim.wood_kg, aim.piece_mm)
    likely = f"{bold(kilogram(aim.wood_kg))} of dry split wood, {about_pieces(count, aim.piece_mm)}"
    if aim.wood_range_kg is None:
        return likely
    return f"{likely}, and some to spare: it may come to {kilogram(aim.wood_range_kg[1])}"


def about_pieces(count: int, piece_mm: float) -> str:
    """A count of pieces that nobody needs to keep exactly."""
    return f"about {pieces(count, piece_mm)} as long as your forearm"


def plan_line(line: PlanLine, m: Measures) -> str:
    """One firing of a plan on one line."""
    day = "day still open" if line.day is None else m.dated(line.day)
    start = "" if line.start is None else f", {m.hour(line.start)}"
    name = "Warm-up fire" if line.warm_up else f"Fire {line.number}"
    doubt = f", weather doubtful ({percent(line.poor)})" if line.poor >= 0.35 else ""
    return (
        f"{name}: {day}{start}, top about {m.about_degrees(line.plateau_c)}, "
        f"about {hours(line.session_h)}{doubt}"
    )


def plan_lines(lines: Iterable[PlanLine], m: Measures) -> str:
    """A plan, a firing a line."""
    return "\n".join(plan_line(line, m) for line in lines)


def fires(count: int) -> str:
    """``one fire``, ``six fires``."""
    return counted(count, "fire")


# ---------------------------------------------------------------- weather and days


def weather_reasons(reasons: Sequence[tuple[str, float]], m: Measures) -> str:
    """What speaks against a day, in one clause; empty where nothing can be named."""
    named = [word for kind, amount in reasons if (word := _weather_reason(kind, amount, m))]
    return listed(named[:3])


def _weather_reason(kind: str, amount: float, m: Measures) -> str | None:
    match kind:
        case "rain":
            return f"rain is likely ({percent(amount)})"
        case "wind":
            return f"it will be windy ({wind(amount)})"
        case "too_windy":
            return f"it will blow too hard for a fire ({wind(amount)})"
        case "gusts":
            return f"there will be gusts of {wind(amount)}"
        case "hard_frost":
            return f"it will freeze hard ({m.degrees(amount)})"
        case "heat":
            return f"it will be very hot ({m.degrees(amount)})"
        case "fire_weather":
            return "it will be hot, dry and windy, so a fire ban may be called"
        case "owners_word":
            return "you told me of bad weather"
        case "short_daylight":
            return "the fire would burn on into the dark"
        case "unknown":
            return None
        case _:
            return None


def wind(metres_per_second: float) -> str:
    """A wind in the units people hear it in (1 m/s is 3.6 km/h and 1.944 knots)."""
    return f"{metres_per_second * 3.6:.0f} km/h, {metres_per_second * 1.944:.0f} knots"


def no_fire_because(why: str) -> str:
    """Why no fire may be lit, as a clause after "because"."""
    return {
        "cure": "the mortar is not strong enough yet",
        "indoors": "I lead no fire indoors",
        "held": "your builder has put all fires on hold",
        "weather": "the weather is against it",
        "restricted": "a local fire restriction holds",
        "forbidden": "your builder wants no fire today",
        "soaked": "the oven got wet through and must dry first",
        "trouble": "something was reported that has to be looked at first",
        "away": "you told me that nobody is free to stay with it",
        "warm": "the oven is still too warm from the last fire",
        "mortar": "the mortar froze in its first days and has to be looked at first",
        "set_up": "I do not know the oven well enough yet",
    }.get(why, "it is not safe just now")


# ---------------------------------------------------------------- answers of the set-up

QUESTION_NAMES: dict[About, str] = {
    About.UNITS: "degrees",
    About.PLACE: "place",
    About.CONSTRUCTION: "how it was built",
    About.WET_WORK: "last wet work",
    About.SIZE: "inner width",
    About.THICKNESS: "wall thickness",
    About.STANDS: "where it stands",
    About.COVER: "rain cover",
    About.OPENINGS: "door and flue",
    About.DOOR: "door",
    About.SHELTER: "wind shelter",
    About.INSTRUMENT: "thermometer",
    About.DAYS: "firing days",
    About.HOURS: "firing hours",
    About.SECOND: "second person",
}

_VALUES: dict[tuple[About, str], str] = {
    (About.UNITS, "C"): "°C",
    (About.UNITS, "F"): "°F",
    (About.STANDS, "sky"): "Open sky, nothing near it",
    (About.STANDS, "sky+sheet"): "Open sky, a sheet for rain",
    (About.STANDS, "sky+beside"): "By a fence, hedge or shed",
    (About.STANDS, "sky+beside+sheet"): "By a fence, a sheet for rain",
    (About.STANDS, "slats"): "Pergola or tree: rain gets in",
    (About.STANDS, "slats+sheet"): "Pergola, a sheet for rain",
    (About.STANDS, "slats+beside"): "Pergola and a fence or shed",
    (About.STANDS, "slats+beside+sheet"): "Pergola, fence, rain sheet",
    (About.STANDS, "roof"): "Under a roof, sides open",
    (About.STANDS, "roof+sheet"): "Under a roof, with a sheet",
    (About.STANDS, "roof+beside"): "Roof and a fence or shed",
    (About.STANDS, "roof+beside+sheet"): "Roof, fence and a sheet",
    (About.STANDS, "indoors"): "Indoors, garage, shed or tent",
    (About.COVER, "open"): "Nothing, open to the sky",
    (About.COVER, "sheet"): "A sheet when it rains",
    (About.COVER, "roof"): "A roof over it",
    (About.OPENINGS, "none+flue"): "No door yet, a flue",
    (About.OPENINGS, "none+no_flue"): "No door yet, no flue",
    (About.OPENINGS, "plain+flue"): "Plain door, a flue",
    (About.OPENINGS, "plain+no_flue"): "Plain door, no flue",
    (About.OPENINGS, "insulated+flue"): "Insulated door, a flue",
    (About.OPENINGS, "insulated+no_flue"): "Insulated door, no flue",
    (About.DOOR, "none"): "None yet",
    (About.DOOR, "plain"): "Plain metal or wood",
    (About.DOOR, "insulated"): "Insulated",
    (About.SHELTER, "exposed"): "Exposed",
    (About.SHELTER, "part"): "Partly",
    (About.SHELTER, "sheltered"): "Well sheltered",
    (About.INSTRUMENT, "none"): "None yet",
    (About.DAYS, "0123456"): "Any day",
    (About.DAYS, "56"): "Weekends",
    (About.DAYS, "01234"): "Weekdays",
    (About.SECOND, "none"): "Just me",
    (About.SECOND, "invite"): "Somebody else too",
}

_DAY_NAMES = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def answer_words(about: About, value: str, m: Measures) -> str:
    """An answer of the set-up as its giver would say it."""
    known = _VALUES.get((about, value))
    if known is not None:
        return known
    if value == "unknown":
        return "Not sure"
    try:
        return _computed(about, value, m)
    except (ValueError, IndexError):
        return theirs(value)


def _computed(about: About, value: str, m: Measures) -> str:
    match about:
        case About.CONSTRUCTION:
            preset = shipped().presets.get(value)
            return preset.title if preset is not None else theirs(value)
        case About.SIZE | About.THICKNESS:
            return m.length(float(value))
        case About.INSTRUMENT:
            return f"Up to {m.degrees(float(value))}"
        case About.WET_WORK:
            return m.dated(date.fromisoformat(value))
        case About.DAYS:
            return listed([_DAY_NAMES[int(digit)] for digit in value])
        case About.HOURS:
            first, _, last = value.partition("-")
            return f"{_hour(float(first))} to {_hour(float(last))}"
        case About.PLACE:
            parts = value.split(",", 3)
            return theirs(parts[3] if len(parts) > 3 and parts[3] else ", ".join(parts[:2]))
        case _:
            return theirs(value)


def _hour(hour: float) -> str:
    return f"{int(hour)}:{round(hour % 1 * 60):02d}"
