"""Words of the record: what was told, advised, ordered and taken back, each in one clause."""

from datetime import date
from typing import Final

from bot.wording.hazard_texts import TEXTS
from bot.wording.measures import Measures, degree_figure
from bot.wording.terms import QUESTION_NAMES, answer_words
from scheduling.breakin.weather import Source
from scheduling.firing.aim import Action
from scheduling.journal import (
    Advised,
    AllWell,
    Answered,
    Capped,
    CrackSeen,
    DaysSaid,
    DoorMoved,
    FireDied,
    FireLit,
    FiringEnded,
    Forbidden,
    HazardClosed,
    HazardSeen,
    Held,
    Hushed,
    Jotted,
    LimitsSet,
    Measured,
    Moved,
    Noted,
    Nudged,
    Order,
    Released,
    Reopened,
    Repaired,
    RepeatOrdered,
    RestrictionSaid,
    Seen,
    Settled,
    Silent,
    TakenBack,
    TalkSaid,
    Unheard,
    WeatherTold,
    WoodPutOn,
    Worded,
    Written,
)
from scheduling.remark import CrackSize, Sky

ADVICE: Final[dict[Action, str]] = {
    Action.WAIT: "wait",
    Action.ADD: "put wood on",
    Action.ADD_NOTHING: "put nothing on",
    Action.SPREAD: "rake the fire apart",
    Action.LET_FALL: "put nothing on, let it fall into the range",
    Action.READ_AGAIN: "read again",
    Action.LOOK_FOR_SOOT: "look for soot",
    Action.HOLD_DONE: "held long enough, let it burn down",
    Action.SHUT_DOOR: "put the door on once no flame is left",
    Action.STOP: "stop, let the fire die",
}

ENDED: Final[dict[str, str]] = {
    "held": "burnt down",
    "stopped": "stopped, as advised",
    "short": "burnt down early",
    "unattended": "no word came of its end",
    "weather": "ended for the weather",
    "time": "the hours of the day were over",
    "too_early": "not of the plan, left to die",
}
LET_DIE: Final = "let burn down, as advised"
"""In place of any other end: no more wood was asked for."""

SIGNS: Final[dict[str, str]] = {
    "steam": "steam",
    "damp": "damp on the wall",
    "smoke": "smoke",
    "flue_flames": "flames in the flue",
    "popping": "popping or flaking",
    "soot_clear": "soot burnt off",
    "too_big": "fire too big",
    "leaving": "left the fire",
    "back": "back at the fire",
    "unwell": "somebody unwell or burnt",
    "wood_out": "out of wood",
    "only_embers": "no wood left, only embers",
    "soot_black": "soot still there",
}

CRACKS: Final[dict[CrackSize, str]] = {
    CrackSize.HAIRLINE: "hairline crack",
    CrackSize.OPEN: "open crack",
    CrackSize.UNSAID: "crack, width not said",
}

SKIES: Final[dict[Sky, str]] = {
    Sky.RAIN: "rain",
    Sky.SOAKED: "the oven wet through",
    Sky.WIND: "wind",
    Sky.GALE: "gale",
    Sky.FROST: "frost",
    Sky.SNOW: "snow",
    Sky.HEAT: "great heat",
    Sky.DRY: "dry",
}

DOUBTS: Final[dict[str, str]] = {
    "not_a_number": "no number",
    "nothing_read": "nothing read",
    "in_the_future": "time not yet come",
    "out_of_order": "older than a reading before it",
    "above_range": "above the instrument’s range",
    "below_range": "below the instrument’s range",
    "below_air": "colder than the air",
    "too_hot": "hotter than wood burns",
    "other_unit": "likely in the other unit",
    "flame_in_spot": "flame in the spot",
    "rose_unlit": "rose without a fire",
    "fell_too_fast": "fell faster than a wall can",
    "two_at_once": "two readings at one time",
    "crown_against_sides": "crown and sides do not agree",
}

SOURCES: Final[dict[Source, str]] = {
    Source.MET_NORWAY: "MET Norway",
    Source.OWNER: "the owner",
    Source.CLIMATE: "usual weather of the place",
    Source.MADE_UP: "invented weather of a rehearsal",
}

WHY_DAYS: Final[dict[str, str]] = {
    "first": "the first plan",
    "set_up": "an answer put right",
    "cure": "how the mortar hardens",
    "ended": "what a fire reached",
    "done": "the last fire",
    "order": "an order of the builder",
    "reading": "a reading",
    "repair": "a repair",
    "repaired": "a repair",
    "restricted": "a local fire restriction",
    "soaked": "the oven got wet through",
    "too_early": "a fire lit before its time",
    "forecast": "the forecast",
    "weather": "the weather",
    "gale": "a gale told of",
    "idle": "the oven stood unused",
    "slipped": "a day that went by without a fire",
    "barred": "a day on which no fire might be lit",
    "unavailable": "days on which nobody was free",
    "wanted": "a day that was asked for",
}

LIMITS: Final[dict[str, str]] = {
    "step_k": "step above the heat reached before, at most",
    "climb_low_k_h": "climb while cool, at most",
    "climb_high_k_h": "climb when hot, at most",
    "stoke_min_minutes": "between two stokings, at least",
    "stoke_max_minutes": "between two stokings, at most",
    "cure_floor_d": "from the last wet work to the first fire, at least",
    "session_h": "one firing, at most",
    "final_c": "last firing, at most",
}


def advised(entry: Advised) -> str:
    """What was advised."""
    words = ADVICE[entry.action]
    if entry.action is Action.HOLD_DONE and entry.why == "session":
        words = "burnt long enough for one day, let it burn down"
    if entry.action is Action.ADD:
        words = f"put on {charge(entry.pieces, entry.kg)}"
    if entry.minutes:
        words += f"; look in {entry.minutes:.0f} min"
    return words


def ended(why: str, *, let_die: bool) -> str:
    """How a fire ended; ``let_die`` if it had been advised to let it."""
    return LET_DIE if let_die and why in ("held", "short") else ENDED[why]


def whole(text: str) -> str:
    """Words of a person in quotation marks, to the last: a paper leaves nothing out."""
    return "“" + " ".join(text.replace("<", "‹").replace(">", "›").split()) + "”"


def _in_words(said: str) -> str:
    """The words of whoever told it, behind what it was taken for."""
    return f": {whole(said)}" if said else ""


def charge(pieces: int | None, kg: float | None) -> str:
    """An amount of wood as counted and as weighed; what was not told is left out. To 10 g, so
    that charges add up to what stands beside them."""
    weighed = "" if kg is None else f"{kg:.2f} kg"
    if pieces is None:
        return weighed or "wood"
    count = f"{pieces} piece" if pieces == 1 else f"{pieces} pieces"
    return f"{count}, {weighed}" if weighed else count


def told(entry: Written, m: Measures) -> str:
    """What happened or was said, in a clause; "" where the record has no words for it."""
    match entry:
        case FireLit():
            return "lit, against the advice" if entry.too_early else "lit"
        case FireDied():
            return "no flame left"
        case DoorMoved():
            return "door on" if entry.on else "door off"
        case FiringEnded():
            # How it ended stands beside what was planned; of the soot, in the words of who looked.
            return "fire over"
        case Seen():
            return SIGNS[entry.what]
        case HazardSeen():
            return TEXTS[entry.hazard].name + _in_words(entry.words)
        case AllWell():
            return "all well"
        case CrackSeen():
            photo = ", photo" if entry.photo else ""
            return CRACKS[entry.size] + photo + _in_words(entry.words)
        case Silent():
            silent = {
                "told": "no answer yet, others told",
                "unattended": "still no answer, asked less often",
            }
            return silent[entry.step]
        case Nudged():
            return "asked again" if entry.repeat else "asked"
        case Unheard():
            return (
                f"not understood, and asked back: {whole(entry.words.strip(' ,;'))}"
                if entry.words
                else "a message came that could not be worked on; more was asked"
            )
        case Hushed():
            return "asked not to be reminded"
        case HazardClosed():
            what = "the mortar" if entry.what == "mortar" else TEXTS[entry.what].name
            return f"looked at and settled: {what}"
        case WeatherTold():
            return f"weather told: {SKIES[entry.what]}"
        case Order():
            return f"order: {order(entry, m)}"
        case _:
            return _of_days(entry, m)


def _of_days(entry: Written, m: Measures) -> str:
    match entry:
        case Measured():
            return f"reading: {reading(entry, m)}"
        case WoodPutOn():
            return f"{charge(entry.pieces, entry.kg)} put on"
        case Noted() | Jotted():
            return f"note: {whole(entry.text)}" if entry.text else "photo"
        case TalkSaid():
            other = "the builder" if entry.side == "owner" else "the owner"
            return f"said to {other}: {whole(entry.text) if entry.text else 'a photo'}"
        case Answered():
            return f"{QUESTION_NAMES[entry.about]}: {answer_words(entry.about, entry.value, m)}"
        case Repaired():
            return f"repaired, wet work ended {m.dated(entry.wet_work_ended)}"
        case Reopened():
            return "gentle fires again: " + {
                "idle": "stood unused", "soaked": "got wet through",
                "repaired": "was repaired", "ordered": "by order",
            }[entry.why]  # fmt: skip
        case DaysSaid():
            free = "free" if entry.free else "not free"
            return f"days told as {free}: {_days(entry.first, entry.last, m)}"
        case RestrictionSaid():
            over = "over" if entry.over else _days(entry.first, entry.last, m)
            return f"local fire restriction: {over}"
        case Settled():
            return "an answer" if entry.yes is None else f"answered {'yes' if entry.yes else 'no'}"
        case _:
            return "a matter of people"


def reading(entry: Measured, m: Measures) -> str:
    """The numbers of a reading, in the reader's unit."""
    parts = [] if entry.top_c is None else [f"crown {m.degrees(entry.top_c)}"]
    if entry.sides_c:
        parts.append("sides " + ", ".join(m.degrees(one) for one in entry.sides_c))
    if entry.hearth_c is not None:
        parts.append(f"hearth {m.degrees(entry.hearth_c)}")
    return ", ".join(parts) or "no number"


def doubt(entry: Measured) -> str:
    """Why a reading counts for nothing; "" for one that counts."""
    return "" if entry.doubt is None else DOUBTS.get(entry.doubt.value, entry.doubt.value)


def order(entry: Order, m: Measures) -> str:
    """What was ordered."""
    match entry:
        case Held():
            return "no fires until further word"
        case Released():
            return "fires may go on"
        case Capped():
            lifted = entry.cap_c is None
            return "cap lifted" if lifted else f"no fire above {m.degrees(entry.cap_c or 0.0)}"
        case LimitsSet():
            return "limits: " + "; ".join(limits(entry, m))
        case RepeatOrdered():
            return f"last fire once more, no higher than {m.degrees(entry.cap_c)}"
        case Moved():
            return f"next fire not before {m.dated(entry.not_before)}"
        case Forbidden():
            on = "on " if entry.first == entry.last else ""
            return f"no fire {on}{_days(entry.first, entry.last, m)}"
        case Worded():
            return "own words for this oven"
        case TakenBack():
            return "an earlier order taken back"
        case _:
            raise ValueError(f"no words for an order of the kind {type(entry).__name__}")


def limits(entry: LimitsSet, m: Measures) -> tuple[str, ...]:
    """The limits that are set, each in a clause."""
    return tuple(
        f"{words} {limit_value(name, float(value), m)}"
        for name, words in LIMITS.items()
        if (value := getattr(entry, name)) is not None
    )


def limit_value(name: str, value: float, m: Measures) -> str:
    """A limit with its unit, as its reader measures."""
    scale = 1.0 if m.unit == "C" else 1.8
    if name == "final_c":
        return m.degrees(value)
    if name.endswith("_k_h"):
        return f"{degree_figure(value * scale)} °{m.unit}/h"
    if name.endswith("_k"):
        return f"{degree_figure(value * scale)} °{m.unit}"
    unit = {"minutes": "min", "d": "days", "h": "h"}[name.rpartition("_")[2]]
    return f"{value:g} {unit}"


def _days(first: date, last: date, m: Measures) -> str:
    return m.dated(first) if first == last else f"{m.dated(first)} to {m.dated(last)}"
