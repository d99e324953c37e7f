"""Answers of the set-up as people type them, turned into the notation of ``About``.

None where nothing can be made of the words: then they may be a question, or have to be asked
again. Nothing is guessed where a wrong guess would make a plan less gentle.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Literal

from rapidfuzz import fuzz, process, utils

from scheduling.choice import About
from scheduling.oven.preset import shipped

Unit = Literal["C", "F"]

ALIKE = 80.0
"""Least similarity, of 100, for a misspelt word to be taken for a known one."""

_NUMBER = r"(\d+(?:[.,]\d+)?)"
_UNKNOWN = re.compile(
    r"\b(don'?t know|dunno|do not know|no idea|not sure|unsure|unknown|can'?t (tell|remember)|"
    r"haven'?t a clue|\?+)|^\?+$"
)
_NO = re.compile(r"^(no|none|nope|nah|nothing|nobody|not any|n|without)\b")
_ALL = re.compile(r"\b(any|every|all|always|whenever|anytime|everyday|flexible|7 days)\b")


@dataclass(frozen=True, slots=True)
class Asked:
    """What surrounds an answer: the person's unit, the local present, the oven's zone, and
    a builder's own constructions."""

    unit: Unit
    now: datetime
    zone: str = "UTC"
    own: tuple[str, ...] = ()

    @property
    def today(self) -> date:
        """The date at the oven."""
        return self.now.date()


def answer(about: About, text: str, asked: Asked) -> str | None:
    """The answer in the notation of ``about``; places are looked up elsewhere."""
    said = " ".join(text.replace("’", "'").lower().split()).strip(" .!")
    if not said:
        return None
    match about:
        case About.UNITS:
            return _unit(said)
        case About.CONSTRUCTION:
            return _construction(said, asked.own)
        case About.WET_WORK:
            return _date(said, asked)
        case About.SIZE | About.THICKNESS:
            return _length(about, said, asked.unit)
        case About.INSTRUMENT:
            return _instrument(said, asked.unit)
        case About.DAYS:
            return _days(said)
        case About.HOURS:
            return _hours(said)
        case About.PLACE:
            return None
        case _:
            return _one_of(about, said)


# ---------------------------------------------------------------- words


_WORDS: Mapping[About, Mapping[str, tuple[str, ...]]] = {
    About.COVER: {
        "roof": ("roof", "pergola", "gazebo", "carport", "porch", "shed", "indoors", "inside",
                 "veranda", "canopy", "under cover", "roofed", "lean-to"),
        "sheet": ("sheet", "tarp", "tarpaulin", "tarped", "plastic", "cover over it", "bag",
                  "blanket", "covered", "cover"),
        "open": ("open", "nothing", "none", "uncovered", "outside", "outdoors", "exposed"),
    },
    About.DOOR: {
        "insulated": ("insulated", "insulating", "double", "thermal"),
        "none": ("none", "nothing", "without"),
        "plain": ("plain", "steel", "metal", "iron", "cast iron", "wood", "wooden", "simple",
                  "single", "yes", "normal"),
    },
    About.SHELTER: {
        "exposed": ("exposed", "open", "windy", "hill", "nothing around"),
        "part": ("part", "partly", "half", "some", "a bit", "somewhat"),
        "sheltered": ("sheltered", "shelter", "walled", "courtyard", "calm", "fence", "walls"),
    },
    About.SECOND: {
        "invite": ("yes", "invite", "wife", "husband", "partner", "son", "daughter", "neighbour",
                   "friend", "someone", "somebody", "brother", "sister", "dad", "mum", "sure",
                   "ok", "okay", "two of us"),
        "none": ("none", "nobody", "no", "just me", "only me", "alone", "myself", "on my own",
                 "by myself", "later", "skip", "no one", "me"),
    },
}  # fmt: skip


def _one_of(about: About, said: str) -> str | None:
    words = _WORDS.get(about, {})
    if said in words:
        return said
    if _NO.match(said) and about in (About.DOOR, About.SECOND):
        return "none"
    if _NO.match(said) and about is About.COVER:
        return "open"
    for value, names in words.items():
        if any(re.search(rf"\b{re.escape(name)}\b", said) for name in names):
            return value
    by_name = {name: value for value, names in words.items() for name in (value, *names)}
    return _nearest(said, by_name)


def _nearest(said: str, by_name: Mapping[str, str]) -> str | None:
    for word in (said, *said.split()):
        if len(word) < 4:
            continue
        found = process.extractOne(word, list(by_name), scorer=fuzz.ratio, score_cutoff=ALIKE)
        if found is not None:
            return by_name[found[0]]
    return None


def _unit(said: str) -> str | None:
    bare = said.replace("°", "").replace("degrees", "").strip()
    if re.search(r"\b(c|celsius|celcius|centigrade|metric)\b", bare):
        return "C"
    if re.search(r"\b(f|fahrenheit|farenheit|imperial|american)\b", bare):
        return "F"
    return _nearest(bare, {"celsius": "C", "centigrade": "C", "fahrenheit": "F"})


# Words that tell constructions apart, and are no part of their titles.
_TOLD_BY: Mapping[str, tuple[str, ...]] = {
    "brick-mortar": ("brick", "bricks", "firebrick", "firebricks"),
    "brick-perlite": ("brick perlite", "bricks and perlite", "perlite over bricks"),
    "cast-dense": ("cast", "castable", "refractory concrete", "precast", "poured"),
    "cast-fibred": ("fibre", "fiber", "fibres", "fibers"),
    "cast-light": ("vermiculite", "perlite dome", "vermicrete", "perlcrete"),
    "cast-thin": ("thin cast", "small cast", "portable", "movable"),
    "tile-lined": ("tile", "tiles", "tiled"),
}


def _construction(said: str, own: tuple[str, ...]) -> str | None:
    presets = shipped().presets
    for key in (*own, *presets):
        if said == key.lower() or said.replace(" ", "-") == key.lower():
            return key
    names = {key: key for key in own}
    names |= {preset.title: key for key, preset in presets.items()}
    names |= {name: key for key, told in _TOLD_BY.items() if key in presets for name in told}
    exact = {utils.default_process(name): key for name, key in names.items()}
    if (plain := utils.default_process(said)) in exact:
        return exact[plain]
    best = process.extract(
        said, list(names), scorer=fuzz.token_set_ratio, processor=utils.default_process, limit=20
    )
    if not best or best[0][1] < ALIKE:
        return None
    top = [names[name] for name, score, _ in best if score >= best[0][1] - 1]
    keys = list(dict.fromkeys(top))
    if len(keys) == 1:
        return keys[0]
    closest = process.extractOne(
        said, [n for n in names if names[n] in keys], scorer=fuzz.ratio, processor=str.lower
    )
    return names[closest[0]] if closest is not None else None


# ---------------------------------------------------------------- numbers


def _length(about: About, said: str, unit: Unit) -> str | None:
    """Millimetres; a bare number is read in the unit in which it is plausible."""
    if _UNKNOWN.search(said):
        return "unknown"
    feet = re.search(rf"{_NUMBER}\s*(?:ft|feet|foot|')(?:\s*{_NUMBER})?", said)
    if feet:
        return f"{(_n(feet[1]) * 12 + (_n(feet[2]) if feet[2] else 0)) * 25.4:g}"
    found = re.search(rf"{_NUMBER}\s*(mm|millimet\w*|cm|centimet\w*|m|met\w*|in|inch\w*|\")?", said)
    if found is None:
        return None
    number, name = _n(found[1]), found[2] or ""
    if name.startswith(("mm", "milli")):
        return f"{number:g}"
    if name.startswith(("cm", "centi")):
        return f"{number * 10:g}"
    if name.startswith("m"):
        return f"{number * 1000:g}"
    if name:
        return f"{number * 25.4:g}"
    return f"{_bare_length(about, number, unit):g}"


def _bare_length(about: About, number: float, unit: Unit) -> float:
    if about is About.THICKNESS:
        if unit == "F" and number <= 12:
            return number * 25.4
        return number * 10 if 2 <= number < 20 else number
    if number < 3:
        return number * 1000
    if unit == "F" and 15 <= number <= 60:
        return number * 25.4
    return number * 10 if 45 <= number <= 250 else number


def _instrument(said: str, unit: Unit) -> str | None:
    """Its highest °C."""
    if re.search(
        r"\b(no|none|haven'?t|don'?t have|do not have|without|don'?t own|nope|not got)\b", said
    ) and not re.search(rf"{_NUMBER}", said):
        return "unknown" if _UNKNOWN.search(said) else "none"
    numbers = [
        (_n(hit[1]), hit[2] or "")
        for hit in re.finditer(rf"(?<![\w.,-]){_NUMBER}\s*(?:°|deg\w*)?\s*([cf])?\b", said)
    ]
    if not numbers:
        return "unknown" if _UNKNOWN.search(said) or _one(said, ("yes", "yep")) else None
    # "-50 to 550": the upper end. "550 C (1022 F)": the one with our unit on it.
    named = [(n, u) for n, u in numbers if u == unit.lower()]
    number, name = max(named or numbers)
    fahrenheit = name == "f" or (not name and unit == "F")
    return f"{round((number - 32) / 1.8) if fahrenheit else number:g}"


def _one(said: str, words: tuple[str, ...]) -> bool:
    return any(re.search(rf"\b{word}\b", said) for word in words)


def _n(text: str) -> float:
    return float(text.replace(",", "."))


# ---------------------------------------------------------------- days and hours


_MONTH_FIRST = ("America/", "US/")

_FILLER = re.compile(
    r"\b(it was|we|i|finished|finish|done|was|on|the|about|around|roughly|think|maybe|approx\w*|"
    r"render\w*|plaster\w*|mortar|last|wet|work|day|of|some)\b"
)


def _date(said: str, asked: Asked) -> str | None:
    """An ISO date, not after today where it can be helped."""
    iso = re.search(r"\b(\d{4})-(\d{1,2})-(\d{1,2})\b", said)
    if iso:
        try:
            return date(int(iso[1]), int(iso[2]), int(iso[3])).isoformat()
        except ValueError:
            return None
    if re.search(r"\bday before yesterday\b", said):
        return (asked.today - timedelta(days=2)).isoformat()
    relative = re.search(
        r"\b(\d+|a|an|one|two|three|four|five|six|seven|eight|nine|ten|couple of|few)\s+"
        r"(day|week|fortnight|month)s?\b(?:\s+and a half)?",
        said,
    )
    if relative and ("ago" in said or "since" in said or "back" in said or "old" in said):
        return (asked.today - timedelta(days=_span_days(relative[1], relative[2]))).isoformat()
    return _parsed_date(said, asked)


_COUNTS = {
    "a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7,
    "eight": 8, "nine": 9, "ten": 10, "couple of": 2, "few": 3,
}  # fmt: skip
_DAYS_OF = {"day": 1, "week": 7, "fortnight": 14, "month": 30}


def _span_days(count: str, what: str) -> int:
    """A few is three, a month thirty days: a little short, so that the cure waits longer."""
    return (_COUNTS.get(count) or int(count)) * _DAYS_OF[what]


def _parsed_date(said: str, asked: Asked) -> str | None:
    # Loaded only when a date is typed: it takes a moment.
    import dateparser

    month_first = asked.unit == "F" and asked.zone.startswith(_MONTH_FIRST)
    options = {
        "PREFER_DATES_FROM": "past",
        "RELATIVE_BASE": asked.now.replace(tzinfo=None),
        "DATE_ORDER": "MDY" if month_first else "DMY",
        "REQUIRE_PARTS": ["day"],
    }
    for words in (said, " ".join(_FILLER.sub(" ", said).split())):
        # A lone figure is no date: nobody could say of which month.
        if not words or re.fullmatch(r"\d+", words):
            continue
        found = dateparser.parse(words, languages=["en"], settings=options)
        if found is not None:
            return found.date().isoformat()
    return None


_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_DAY_WORD = r"(mon|tue|tues|wed|weds|thu|thur|thurs|fri|sat|satur|sun)(?:day|nesday|sday|rsday)?s?"


def _days(said: str) -> str | None:
    """Weekday digits, Monday 0."""
    if re.fullmatch(r"[0-6]{1,7}", said):
        return said
    left = set(range(7)) if _ALL.search(said) else set()
    but = re.split(r"\b(?:except|but not|not|bar|apart from|without|never)\b", said, maxsplit=1)
    named = _named_days(but[0])
    excluded = _named_days(but[1]) if len(but) > 1 else set()
    chosen = named or left or (set(range(7)) if excluded else set())
    days = sorted(chosen - excluded)
    if days:
        return "".join(map(str, days))
    return "0123456" if re.fullmatch(r"(yes|yep|ok|okay|fine|sure)", said) else None


def _named_days(said: str) -> set[int]:
    days: set[int] = set()
    if re.search(r"\bweek ?ends?\b", said):
        days |= {5, 6}
    if re.search(r"\b(week ?days?|in the week|working days)\b", said):
        days |= {0, 1, 2, 3, 4}
    for span in re.finditer(
        rf"\b{_DAY_WORD}\s*(?:-|–|to|till|until|through|thru)\s*{_DAY_WORD}\b", said
    ):
        first, last = (_WEEKDAYS.index(name[:3]) for name in span.groups())
        days |= {(first + step) % 7 for step in range((last - first) % 7 + 1)}
    days |= {_WEEKDAYS.index(hit[1][:3]) for hit in re.finditer(rf"\b{_DAY_WORD}\b", said)}
    return days


_CLOCK = r"(\d{1,2})(?:[:.](\d{2}))?\s*(am|pm|a\.m|p\.m|o'?clock)?"
_OFTEN = {
    "morning": "7-13",
    "mornings": "7-13",
    "afternoon": "12-18",
    "afternoons": "12-18",
    "evening": "16-22",
    "evenings": "16-22",
    "daytime": "8-18",
    "office hours": "9-17",
}


def _hours(said: str) -> str | None:
    """Local hours as 9-18."""
    said = said.replace("noon", "12pm").replace("midday", "12pm").replace("midnight", "24")
    span = re.search(rf"{_CLOCK}\s*(?:-|–|to|till|til|until|and)\s*{_CLOCK}", said)
    if span:
        end = _hour(span[4], span[5], span[6])
        begin = _hour(span[1], span[2], span[3])
        if end <= begin and not span[6] and end <= 12:
            end += 12
        if begin > end and span[6] and not span[3] and begin > 12:
            begin -= 12
        return f"{begin:g}-{end:g}"
    after = re.search(rf"\b(?:after|from|past)\s+{_CLOCK}", said)
    if after:
        begin = _hour(after[1], after[2], after[3])
        if begin <= 6 and not after[3]:
            begin += 12
        return f"{begin:g}-22"
    before = re.search(rf"\b(?:before|until|till|til|by)\s+{_CLOCK}", said)
    if before:
        end = _hour(before[1], before[2], before[3])
        return f"7-{end + 12 if end <= 6 and not before[3] else end:g}"
    if _ALL.search(said) or re.fullmatch(r"(yes|yep|ok|okay|fine|sure)", said):
        return "7-22"
    return next((hours for word, hours in _OFTEN.items() if re.search(rf"\b{word}\b", said)), None)


def _hour(hour: str, minute: str | None, half: str | None) -> float:
    value = int(hour) + (int(minute) / 60 if minute else 0)
    if half and half.startswith("p") and value < 12:
        value += 12
    if half and half.startswith("a") and value >= 12:
        value -= 12
    return value
