"""Answers of the set-up as people type them, turned into the notation of ``About``.

None where nothing can be made of the words: then they may be a question, or have to be asked
again. Nothing is guessed where a wrong guess would make a plan less gentle.
"""

import re
from collections.abc import Mapping

from rapidfuzz import fuzz, process, utils

from bot.conversation.set_up_days import Asked, days, hours
from bot.conversation.set_up_numbers import instrument, length
from scheduling.choice import About
from scheduling.oven.preset import shipped

ALIKE = 80.0
"""Least similarity, of 100, for a misspelt word to be taken for a known one."""

_NO = re.compile(r"^(no|none|nope|nah|nothing|nobody|not any|n|without)\b")


def answer(about: About, text: str, asked: Asked) -> str | None:
    """The answer in the notation of ``about``; what words may mean several of (places, dates, where
    it stands, how it closes) is read elsewhere."""
    said = plain(text)
    if not said:
        return None
    match about:
        case About.UNITS:
            return _unit(said)
        case About.CONSTRUCTION:
            return _construction(said, asked.own)
        case About.SIZE | About.THICKNESS:
            return length(about, said, asked.unit)
        case About.INSTRUMENT:
            return instrument(said, asked.unit)
        case About.DAYS:
            return days(said)
        case About.HOURS:
            return hours(said)
        case About.PLACE | About.WET_WORK | About.STANDS | About.OPENINGS:
            return None
        case _:
            return _one_of(about, said)


def plain(text: str) -> str:
    """Small letters, single spaces, nothing at the ends that is no word."""
    return " ".join(text.replace("’", "'").lower().split()).strip(" .!")


_WORDS: Mapping[About, Mapping[str, tuple[str, ...]]] = {
    About.SHELTER: {
        "exposed": ("exposed", "open", "windy", "hill", "nothing around"),
        "part": ("part", "partly", "half", "some", "a bit", "somewhat"),
        "sheltered": ("sheltered", "shelter", "walled", "courtyard", "calm", "fence", "walls"),
    },
    About.SECOND: {
        "invite": ("yes", "invite", "wife", "husband", "partner", "son", "daughter", "neighbour",
                   "friend", "someone", "somebody", "brother", "sister", "dad", "mum", "two of us"),
        "none": ("none", "nobody", "no", "just me", "only me", "alone", "myself", "on my own",
                 "by myself", "later", "skip", "no one", "me"),
    },
}  # fmt: skip


def _one_of(about: About, said: str) -> str | None:
    words = _WORDS.get(about, {})
    if said in words:
        return said
    if _NO.match(said) and about is About.SECOND:
        return "none"
    for value, names in words.items():
        if any(re.search(rf"\b{re.escape(name)}\b", said) for name in names):
            return value
    by_name = {name: value for value, names in words.items() for name in (value, *names)}
    return _nearest(said, by_name)


def _nearest(said: str, by_name: Mapping[str, str], alike: float = ALIKE) -> str | None:
    for word in (said, *said.split()):
        if len(word) < 4:
            continue
        found = process.extractOne(word, list(by_name), scorer=fuzz.ratio, score_cutoff=alike)
        if found is not None:
            return by_name[found[0]]
    return None


def _unit(said: str) -> str | None:
    bare = said.replace("°", "").replace("degrees", "").strip()
    if re.search(r"\b(c|celsius|celcius|centigrade|metric)\b", bare):
        return "C"
    if re.search(r"\b(f|fahrenheit|farenheit|imperial|american)\b", bare):
        return "F"
    return _nearest(bare, {"celsius": "C", "centigrade": "C", "fahrenheit": "F"}, 70.0)


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


def _construction(said: str, own: Mapping[str, str]) -> str | None:
    presets = shipped().presets
    for key in (*own, *presets):
        if said == key.lower() or said.replace(" ", "-") == key.lower():
            return key
    names = {name: key for key, title in own.items() for name in (key, title)}
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
