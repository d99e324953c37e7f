"""Sentences of a builder's first meeting."""

from bot.wording import preparing_buttons as buttons
from bot.wording.buttons import Button, command, invite
from bot.wording.measures import Measures
from bot.wording.speech import Sentences, bold, joined, lines, parcel, quoted, says, theirs
from scheduling.choice import CommandName
from scheduling.meaning import Introduced, IntroductionAsked
from scheduling.ports import Parcel

NUMBERED = {"team_name": "1 of 3", "own_name": "2 of 3", "town": "3 of 3"}


def asked(said: IntroductionAsked, _: Measures) -> Parcel:
    """One question, with what stays if it is left."""
    question, why = _question(said)
    step = f"<i>{NUMBERED[said.what]}</i>" if said.first else None
    return parcel(
        _strange(said),
        joined(step, bold(question), why),
        _how(said),
        buttons=_answers(said),
    )


def _question(said: IntroductionAsked) -> tuple[str, str]:
    match said.what:
        case "team_name":
            return (
                "What do clients know you by?",
                "It stands in every invitation and on every paper.",
            )
        case "own_name":
            return (
                "And what are you called yourself?",
                "Clients and your team read it beside what you order or say.",
            )
        case "town":
            if said.options:
                return "Which one do you mean?", ""
            return (
                "Which town do you work from?",
                "Your list, your week and the morning’s summary go by its clock.",
            )


def _strange(said: IntroductionAsked) -> str | None:
    if not said.strange:
        return None
    return f"I do not know {quoted(said.strange)}. Try a larger town nearby."


def _how(said: IntroductionAsked) -> str:
    match said.what:
        case "town" if said.options:
            return "Tap it, or type it with its country, like “Perth, Scotland”."
        case "town":
            now = f" Your clock says {theirs(said.known)} now." if said.known else ""
            return f"Type it, like “Leeds” or “Perth, Australia”.{now}"
        case _:
            return f"Type it, or keep {quoted(said.known)}." if said.known else "Type it."


def _answers(said: IntroductionAsked) -> list[list[Button]]:
    towns = [
        [buttons.introduce(one.title or one.value, said.what, one.value, first=said.first)]
        for one in said.options
    ]
    if not said.first:
        return towns
    kept = "Later" if said.what == "town" else "Keep it"
    return [*towns, [buttons.introduce(kept, said.what, first=True)]]


def introduced(said: Introduced, m: Measures) -> Parcel:
    """It is noted; after a first meeting, what to do next."""
    noted = None if said.kept else _noted(said, m)
    if not said.first:
        return parcel(noted or "It stays as it was.", buttons=[[buttons.week()]])
    return parcel(
        noted,
        "This is how to begin:",
        lines(
            (
                "“/invite” and a name makes an invitation to pass on. You can fill in their oven "
                "before they come.",
                "/ways gives you one file for how you break ovens in: limits, words, models and "
                "constructions of your own.",
                "/import brings many clients along in a file.",
                "/week shows all fires to come, /help the rest.",
            )
        ),
        buttons=[
            [invite(), command("My ways", CommandName.WAYS)],
            [buttons.import_how()],
        ],
    )


def _noted(said: Introduced, m: Measures) -> str:
    value = theirs(said.value)
    match said.what:
        case "team_name":
            return f"From now on clients are told of you as {quoted(said.value)}."
        case "own_name":
            return f"From now on you are called {value} here."
        case "town":
            return f"Noted: {value}. It is {m.hour(m.now)} there now; your times go by that."


SENTENCES: Sentences = dict((says(IntroductionAsked, asked), says(Introduced, introduced)))
