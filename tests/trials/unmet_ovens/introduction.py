"""How an owner answers the questions of the first meeting: honestly, of an oven as it was built."""

from dataclasses import dataclass
from datetime import date

from scheduling.choice import About
from scheduling.meaning import SetUpQuestion
from tests.trials.unmet_ovens.habits import Habits, Kind
from tests.trials.unmet_ovens.letters import Letter
from tests.trials.unmet_ovens.make import Make
from tests.trials.unmet_ovens.sky import PLACE


@dataclass(frozen=True, slots=True)
class Knowledge:
    """What an owner knows."""

    make: Make
    habits: Habits
    wet_work_ended: date
    insulated_door: bool
    hours: str
    knows_size: bool


@dataclass(frozen=True, slots=True)
class Answer:
    """Words, or a button."""

    say: str | None = None
    press: str | None = None


def answer(knows: Knowledge, letter: Letter, asked: SetUpQuestion) -> Answer:
    """The button for it if there is one, else the words."""
    value, words = _known(knows, asked.about)
    if label := letter.button(value=value):
        return Answer(press=label)
    return Answer(say=words or value)


def _known(knows: Knowledge, about: About) -> tuple[str, str]:
    """In the notation of ``About``, and as somebody would type it."""
    make, habits = knows.make, knows.habits
    size_cm = 5 * round(make.diameter_m * 20)
    match about:
        case About.UNITS:
            return "C", "°C"
        case About.PLACE:
            return "", f"{PLACE[0]}, {PLACE[1]}"
        case About.CONSTRUCTION:
            return make.construction.key, make.construction.title
        case About.WET_WORK:
            return "", f"{knows.wet_work_ended:%d %B %Y}"
        case About.SIZE:
            return ("", f"{size_cm} cm") if knows.knows_size else ("unknown", "not sure")
        case About.THICKNESS:
            return "", f"{make.shell_m * 1e3:.0f} mm"
        case About.STANDS:
            return ("sky+sheet" if habits.kind is Kind.AFTER_RAIN else "roof"), ""
        case About.OPENINGS:
            return ("insulated" if knows.insulated_door else "plain") + "+no_flue", ""
        case About.INSTRUMENT:
            return ("550" if habits.measures else "none"), ""
        case About.DAYS:
            return "0123456", "any day"
        case About.HOURS:
            return knows.hours, knows.hours
        case About.SECOND:
            return "none", "no"
        case _:
            return "", "not sure"
