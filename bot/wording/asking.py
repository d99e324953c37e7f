"""The questions of the first meeting: why each matters, how to answer, and what cannot be."""

from bot.wording.buttons import Button
from bot.wording.measures import Measures, hours, sentence
from bot.wording.speech import bold, joined, parcel, quoted, theirs
from bot.wording.terms import QUESTION_NAMES, answer_words
from scheduling.choice import About, SetUpAnswer
from scheduling.meaning import SetUpQuestion, SetUpRefused
from scheduling.ports import Parcel


def _question(about: About, m: Measures) -> tuple[str, str, str]:
    """The question, why it matters, and how it can be typed."""
    match about:
        case About.UNITS:
            return (
                "Does your thermometer show °C or °F?",
                "I will speak the same. No thermometer yet? Choose what you cook in.",
                "type C or F",
            )
        case About.PLACE:
            return (
                "Which town is the oven in?",
                "Its weather and its clock follow from that.",
                "share a location, or type the nearest town",
            )
        case About.CONSTRUCTION:
            return (
                "How was it built?",
                "That decides how fast heat goes in and water comes out.",
                "describe it; whoever built it will know",
            )
        case About.WET_WORK:
            return (
                "When was the last wet work on it finished: casting, mortar or render?",
                "Mortar needs weeks to gain strength, and no fire comes before that.",
                "type the day, like 12 May",
            )
        case About.SIZE:
            return (
                "How wide is the oven inside, from wall to wall?",
                "The width sets how much wood a fire takes.",
                "type it, like " + ("33 in" if m.unit == "F" else "85 cm"),
            )
        case About.THICKNESS:
            return (
                "How thick is the wall that faces the fire, without blanket and render?",
                "A thicker wall holds more water and wants more time.",
                "type it, like " + ("3 in" if m.unit == "F" else "75 mm"),
            )
        case About.STANDS | About.COVER:
            return (
                "Where does it stand, with what over it and what within two metres?",
                "Rain gets into a wall, sparks reach what burns, and indoors smoke kills.",
                "say it in your own words",
            )
        case About.OPENINGS | About.DOOR:
            return (
                "What sort of door does it have, and has it a flue or chimney?",
                "The door keeps the warmth in overnight; a flue has to be watched for flames.",
                "say both in your own words",
            )
        case About.SHELTER:
            return (
                "How sheltered from wind is it?",
                "Wind drives a fire and takes sparks along.",
                "say it in your own words",
            )
        case About.INSTRUMENT:
            return (
                "What is the highest your thermometer can show?",
                "No fire goes higher than you can read. It is printed on the thermometer, "
                "or in its leaflet.",
                "type the number",
            )
        case About.DAYS:
            return (
                "On which days of the week can you tend a fire?",
                "Somebody has to stay with it from first to last.",
                "type them, like Fri to Sun",
            )
        case About.HOURS:
            return (
                "Between which hours can you be there?",
                "A fire takes at least five hours in a row, best by daylight.",
                "type them, like 9 to 5",
            )
        case About.SECOND:
            return (
                "Will somebody else tend the fire with you?",
                "Then either of you can answer me, and neither is alone with it.",
                "type yes or no; you can add somebody later as well",
            )


def question(said: SetUpQuestion, m: Measures) -> Parcel:
    """One question, with the usual answers as buttons."""
    asked, why, typed = _question(said.about, m)
    reminder = "One question is still open, whenever you have a minute." if said.reminder else None
    known = (
        f"So far I have: {answer_words(said.about, said.known, m)}."
        if said.known is not None
        else None
    )
    options = "\n".join(
        f"{theirs(option.title)}: {theirs(option.told[:1].lower() + option.told[1:])}"
        for option in said.options
        if option.title and option.told
    )
    return parcel(
        reminder,
        joined(f"<i>{said.step} of {said.steps}</i>", bold(asked), why),
        options,
        joined(known, sentence(f"tap an answer, or {typed}." if said.options else f"{typed}.")),
        buttons=_answers(said, m),
    )


def _answers(said: SetUpQuestion, m: Measures) -> list[list[Button]]:
    options: list[Button] = [
        (
            option.title or answer_words(said.about, option.value, m),
            SetUpAnswer(about=said.about, value=option.value),
        )
        for option in said.options
    ]
    width = 1 if any(len(label) > 14 for label, _ in options) else 2
    return [options[start : start + width] for start in range(0, len(options), width)]


def refused(said: SetUpRefused, m: Measures) -> Parcel:
    """An answer that cannot be right, and what would be."""
    return parcel(reason_refused(said, m))


def reason_refused(said: SetUpRefused, m: Measures) -> str:
    """The same as a sentence, for whoever asks once more."""
    heard = quoted(said.value) if said.value else "that"
    return _refusal(said, heard, QUESTION_NAMES[said.about], m)


def _refusal(said: SetUpRefused, heard: str, name: str, m: Measures) -> str:
    match said.why:
        case "not_understood":
            return f"I could not make sense of {heard}. Please {_question(said.about, m)[2]}."
        case "in_future":
            return (
                f"{sentence(heard)} is still to come. Type the day on which the wet work ended; "
                "if it goes on, come back on the day it ends."
            )
        case "too_old":
            return f"Please check the year: {heard} is more than ten years ago."
        case "out_of_range":
            return _not_likely(said, heard, name, m)
        case "unknown_choice":
            return f"{sentence(heard)} is none of the answers. Tap the one that comes nearest."
        case "no_days":
            return "Choose at least one day: without one I cannot plan a fire."
        case "too_few_hours":
            return (
                f"Choose a longer stretch: a fire takes at least {hours(said.low or 5.0)} from the "
                "first match to the last ember."
            )
        case "does_not_fit":
            told = " ".join(theirs(one) for one in said.sentences)
            return joined("These answers do not fit together.", told, "Please look again.")


def _not_likely(said: SetUpRefused, heard: str, name: str, m: Measures) -> str:
    if said.about is About.PLACE:
        return f"{sentence(heard)} is no place on the map. Share a location, or type a town."
    return f"Please check: {heard} is not likely for “{name}”.{_range(said, m)}"


def _range(said: SetUpRefused, m: Measures) -> str:
    if said.low is None or said.high is None:
        return ""
    match said.about:
        case About.SIZE | About.THICKNESS:
            low, high = m.length(said.low), m.length(said.high)
        case About.INSTRUMENT:
            low, high = m.degrees(said.low), m.degrees(said.high)
        case _:
            low, high = f"{said.low:g}", f"{said.high:g}"
    return f" It should lie between {low} and {high}."
