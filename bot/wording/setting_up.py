"""Sentences of the first meeting: one question at a time, why it matters, and how to answer."""

from bot.wording import buttons
from bot.wording.attached import plan_picture
from bot.wording.buttons import Button
from bot.wording.measures import Measures, count_word, counted, hours, percent, sentence
from bot.wording.speech import Sentences, bold, joined, lines, parcel, quoted, says, theirs
from bot.wording.terms import (
    FIRE_RULES,
    QUESTION_NAMES,
    answer_words,
    fires,
    plan_lines,
)
from scheduling.choice import About, CommandName, SetUpAnswer
from scheduling.meaning import (
    CureCountdown,
    CureDone,
    InstrumentShort,
    MortarInDoubt,
    NoInstrument,
    PersonJoined,
    PlanTold,
    SecondPersonAsked,
    SettingsShown,
    SetUpNoted,
    SetUpQuestion,
    SetUpRefused,
    Welcome,
)
from scheduling.ports import Parcel


def welcome(said: Welcome, _: Measures) -> Parcel:
    """First words, before the first question."""
    oven = f"“{theirs(said.name)}”" if said.name else "your new oven"
    builder = (
        "Your builder can follow along and is told at once if something is wrong."
        if said.builder
        else None
    )
    ask = (
        f"Then {counted(said.to_ask, 'short question')}: tap an answer, or type it."
        if said.to_ask
        else None
    )
    return parcel(
        joined("Please light nothing until I say so.", ask),
        f"I am here to see {oven} through its first fires. Its wall is full of water and its "
        "mortar is young: small, slow fires over several days let the water out without harm.",
        joined(builder, FIRE_RULES),
    )


# ---------------------------------------------------------------- the questions


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
                "Where does the oven stand?",
                "Its weather and its clock follow from that.",
                "share a location, or type the nearest town",
            )
        case About.CONSTRUCTION:
            return (
                "How was it built?",
                "That decides how fast heat goes in and water comes out.",
                "describe it; your builder will know",
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
        case About.COVER:
            return (
                "What keeps the rain off it?",
                "A wall that gets wet again wants gentler fires.",
                "say it in your own words",
            )
        case About.DOOR:
            return (
                "What sort of door does it have?",
                "Once only embers are left, it keeps the warmth in overnight.",
                "say it in your own words",
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
    heard = quoted(said.value) if said.value else "that"
    name = QUESTION_NAMES[said.about]
    return parcel(_refusal(said, heard, name, m))


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
    return f"Please check the number: {heard} is not a likely {name}.{_range(said, m)}"


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


def noted(said: SetUpNoted, m: Measures) -> Parcel:
    """An answer was corrected."""
    value = answer_words(said.about, said.value, m)
    name = sentence(QUESTION_NAMES[said.about])
    return parcel(f"Noted. {name}: {value}.", buttons=[[buttons.take_back(), buttons.show_plan()]])


def settings(said: SettingsShown, m: Measures) -> Parcel:
    """All that is known, each to be corrected."""
    known = [
        f"{sentence(QUESTION_NAMES[about])}: {answer_words(about, value, m)}"
        for about, value in said.answers
    ]
    change = [
        buttons.command(
            f"Change {QUESTION_NAMES[about]}" if about is not About.CONSTRUCTION else "Change make",
            CommandName.SETTINGS,
            about.value,
        )
        for about, _ in said.answers
    ]
    return parcel(
        "Tap what you want to change. This is what I know:",
        lines(known),
        buttons=[change[start : start + 2] for start in range(0, len(change), 2)],
    )


def instrument_short(said: InstrumentShort, m: Measures) -> Parcel:
    """The thermometer stops short of the last fires."""
    on = "" if said.needed_on is None else f" on {m.dated(said.needed_on)}"
    return parcel(
        f"Please get a thermometer that shows at least {bold(m.about_degrees(said.needed_c))} "
        f"before fire {said.firing}{on}.",
        f"Yours ends at {m.degrees(said.max_c)}. Until you have another, no fire goes higher than "
        "yours can read. Tell me when it is there.",
        buttons=[
            [buttons.command("I have a new one", CommandName.SETTINGS, About.INSTRUMENT.value)]
        ],
    )


def no_instrument(said: NoInstrument, _: Measures) -> Parcel:
    """No thermometer: smaller fires, and more of them."""
    return parcel(
        "If you can, get an infrared thermometer that reads to at least 450 °C (840 °F): it is "
        "how you and I know what the wall is doing.",
        f"Without one the fires are kept smaller, and there are {bold(count_word(said.firings))} "
        "of them. I go by the clock and by what you see.",
        buttons=[[buttons.command("I have one now", CommandName.SETTINGS, About.INSTRUMENT.value)]],
    )


def second_asked(_: SecondPersonAsked, __: Measures) -> Parcel:
    """An invitation for somebody else."""
    return parcel(
        "Pass the invitation that follows on to whoever will help. Once they open it, either of "
        "you can answer me."
    )


def joined_in(said: PersonJoined, _: Measures) -> Parcel:
    """One more at the fire, or one fewer."""
    if said.left:
        return parcel(
            "One person no longer tends this oven. Please agree who stays with the next fire."
        )
    return parcel(
        "One more person tends this oven now. I’ll write to all of you, and whoever answers first "
        "counts."
    )


# ---------------------------------------------------------------- the plan and the cure

_CHANGED = {
    "reading": "Your reading has changed the plan.",
    "soaked": "The wall got wet, so the plan goes back a step.",
    "gap": "After the gap the oven starts lower, so the plan has changed.",
    "order": "Your builder has changed the plan.",
    "repair": "Fresh mortar has to gain strength first, so the plan starts later.",
    "set_up": "With that answer the plan has changed.",
    "moved": "The days have moved.",
    "short": "The last fire fell short, so the next step is smaller.",
    "hot": "The last fire went hotter than meant, so the plan has changed.",
    "unattended": "Nobody could read the last fire to its end, so the next step is smaller.",
    "idle": "After the long rest the oven wants gentle fires first.",
}


def plan(said: PlanTold, m: Measures) -> Parcel:
    """The plan in a few lines and a picture."""
    if not said.lines:
        return parcel(
            joined(_CHANGED.get(said.why), "There is no fire to plan at the moment."),
            buttons=[[buttons.what_now()]],
        )
    opening = _CHANGED.get(said.why) or (
        f"Here is your plan: {fires(len(said.lines))}, each a small step on from the one before."
    )
    ready = (
        f"Light nothing before {m.dated(said.ready_on)}: the mortar needs until then."
        if said.ready_on is not None
        else None
    )
    done = (
        f"If weather and wall agree, you are through on {bold(m.dated(said.done_by))}."
        if said.done_by is not None
        else None
    )
    usual = (
        "I have used the usual sizes of such an oven; give me yours and the plan gets better."
        if said.preset
        else None
    )
    return parcel(
        joined(opening, ready),
        plan_lines(said.lines, m),
        joined(done, "I’ll write the evening before each one.", usual),
        buttons=[[buttons.show_days(), buttons.settings()]],
        attachments=plan_picture(said.lines, m),
    )


_HELD_BY = {
    "strength": "It is still gaining strength, faster in mild weather than in cold.",
    "floor": "It has its shortest resting time still to run, whatever the weather.",
    "frost": "Frost in its first days has set it back.",
    "cold": "It is too cold for mortar to harden.",
}


def cure(said: CureCountdown, m: Measures) -> Parcel:
    """How the mortar stands."""
    if said.ready_on is None:
        first = "No fire yet, and I cannot name a day: it is too cold for the mortar to harden."
        why = None
    else:
        left = "" if said.days_left is None else f", {_days_left(said.days_left)}"
        first = f"No fire before {bold(m.dated(said.ready_on))}{left}."
        why = _HELD_BY[said.held_by]
    frost = (
        f"The hardest frost was {m.degrees(said.frost_c)} on {m.dated(said.frost_on)}."
        if said.frost_c is not None and said.frost_on is not None
        else None
    )
    return parcel(
        joined(first, why, frost),
        f"The mortar has about {percent(said.strength)} of its full strength. Until then keep "
        "rain and frost off it, and the mouth open to the air.",
    )


def _days_left(days: int) -> str:
    return "tomorrow" if days == 1 else f"{counted(days, 'day')} from now"


def cured(said: CureDone, m: Measures) -> Parcel:
    """The mortar is strong enough."""
    when = (
        f"Your first fire is planned for {bold(m.day(said.first))}; I’ll write the evening before."
        if said.first is not None
        else "I am still looking for a day for the first fire, and will write."
    )
    return parcel(f"The mortar is strong enough. {when}", buttons=[[buttons.show_plan()]])


def mortar(said: MortarInDoubt, m: Measures) -> Parcel:
    """Hard frost in the first days."""
    return parcel(
        "Light no fire yet: somebody who builds ovens has to look at the mortar first.",
        f"It had {bold(m.degrees(said.frost_c))} on {m.dated(said.frost_on)}, while it was still "
        "full of water. Frost then can break it inside where nobody sees it; joints that crumble "
        "under a nail are not sound.",
    )


SENTENCES: Sentences = dict(
    (
        says(Welcome, welcome),
        says(SetUpQuestion, question),
        says(SetUpRefused, refused),
        says(SetUpNoted, noted),
        says(SettingsShown, settings),
        says(InstrumentShort, instrument_short),
        says(NoInstrument, no_instrument),
        says(SecondPersonAsked, second_asked),
        says(PersonJoined, joined_in),
        says(PlanTold, plan),
        says(CureCountdown, cure),
        says(CureDone, cured),
        says(MortarInDoubt, mortar),
    )
)
