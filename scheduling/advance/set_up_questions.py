"""The questions of the set-up: which are left, their usual answers, and what was answered."""

from collections.abc import Mapping

from scheduling.choice import About
from scheduling.firing.answers import ASKED, REPLACED
from scheduling.journal import Constructed
from scheduling.meaning import Option, SetUpQuestion
from scheduling.oven.preset import shipped
from scheduling.record import Record

_VALUES: dict[About, tuple[str, ...]] = {
    About.UNITS: ("C", "F"),
    About.SIZE: ("700", "800", "900", "1000", "unknown"),
    About.STANDS: ("sky", "sky+sheet", "sky+beside", "slats", "roof", "roof+beside", "indoors"),
    About.COVER: ("open", "sheet", "roof"),
    About.OPENINGS: (
        "plain+flue",
        "plain+no_flue",
        "insulated+flue",
        "insulated+no_flue",
        "none+flue",
        "none+no_flue",
    ),
    About.DOOR: ("none", "plain", "insulated"),
    About.SHELTER: ("exposed", "part", "sheltered"),
    About.INSTRUMENT: ("330", "400", "550", "800", "none", "unknown"),
    About.DAYS: ("0123456", "56", "01234"),
    About.HOURS: ("7-22", "9-18", "8-14", "12-20"),
    About.SECOND: ("none", "invite"),
}


def left_to_ask(record: Record) -> list[About]:
    """Questions of the set-up that nobody has answered, in the order of asking."""
    return [about for about in ASKED if about not in record.answers]


def question_of(record: Record, about: About, reminder: bool = False) -> SetUpQuestion:
    """One question, with its usual answers and the answer so far."""
    options = options_of(about, record.own_constructions)
    left = len(left_to_ask(record))
    known = record.answers.get(about)
    return SetUpQuestion(
        about=about,
        options=options,
        step=min(len(ASKED), len(ASKED) - left + 1),
        steps=len(ASKED),
        known=None if known is None else as_told(record, about, known),
        reminder=reminder,
    )


def options_of(about: About, own: Mapping[str, Constructed]) -> tuple[Option, ...]:
    """The usual answers to a question; ``own`` are a builder's constructions by their keys."""
    if about is not About.CONSTRUCTION:
        return tuple(Option(value=value) for value in _VALUES.get(about, ()))
    mine = [Option(value=key, title=one.name, told=one.told or None) for key, one in own.items()]
    presets = shipped().presets.items()
    return (*mine, *(Option(value=key, title=one.title, told=one.told) for key, one in presets))


def settings_of(record: Record) -> tuple[tuple[About, str], ...]:
    """All answers that count, a construction of the builder's own by its title; of a question that
    took another's place the newer one, which is also offered where only the older was ever asked.
    """
    answers = record.answers
    shown: dict[About, str] = {}
    for about, value in answers.items():
        newer = REPLACED.get(about)
        if newer is None or newer not in answers:
            shown[about] = as_told(record, about, value)
    return tuple(shown.items())


def as_told(record: Record, about: About, value: str) -> str:
    """An answer to be shown: a construction of the builder's own by its title."""
    own = record.own_constructions.get(value) if about is About.CONSTRUCTION else None
    return value if own is None else own.name
