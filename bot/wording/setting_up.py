"""Sentences of the first meeting: one question at a time, why it matters, and how to answer."""

from bot.wording import buttons
from bot.wording.asking import question, refused
from bot.wording.measures import Measures, count_word, counted, sentence
from bot.wording.preparing import told
from bot.wording.speech import Sentences, bold, joined, lines, parcel, quoted, says, theirs
from bot.wording.terms import (
    FIRE_RULES,
    QUESTION_NAMES,
    answer_words,
)
from scheduling.choice import About, CommandName
from scheduling.meaning import (
    InstrumentShort,
    NoInstrument,
    PersonJoined,
    SecondPersonAsked,
    SettingsShown,
    SetUpNoted,
    SetUpQuestion,
    SetUpRefused,
    Welcome,
)
from scheduling.ports import Parcel


def welcome(said: Welcome, m: Measures) -> Parcel:
    """First words, before the first question."""
    oven = f"“{theirs(said.name)}”" if said.name and not said.by else "your new oven"
    builder = (
        f"{theirs(said.by) or 'Your builder'} can follow along and is told at once if something "
        "is wrong."
        if said.builder
        else None
    )
    ask = (
        f"First come {counted(said.to_ask, 'short question')}: tap an answer, or type it."
        if said.to_ask
        else None
    )
    whose = theirs(said.by) or "Your builder"
    given = f"{whose} has told me of your oven:\n{told(said.given, m)}" if said.given else None
    return parcel(
        joined("Please light nothing until I say so.", ask),
        f"I am here to see {oven} through its first fires. Its wall is full of water and its "
        "mortar is young: small, slow fires over several days let the water out without harm.",
        joined(builder, FIRE_RULES),
        given,
        f"{whose} says: {quoted(said.own)}" if said.own else None,
        buttons=[[buttons.command("Something is not right", CommandName.SETTINGS, "all")]]
        if said.given
        else (),
    )


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
        "Whoever will help comes by an invitation: tap below, and pass on what I send. Once they "
        "have opened it, either of you can answer me.",
        "Later, “/second” and their name makes one too.",
        buttons=[[buttons.invite_second()]],
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
    )
)
