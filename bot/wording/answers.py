"""Sentences that answer, greet and undo."""

from bot.wording import buttons, doubts
from bot.wording.attached import firing_picture, record_forms, record_paper
from bot.wording.buttons import Button
from bot.wording.hazard_texts import text_of
from bot.wording.measures import Measures, counted, sentence
from bot.wording.questions import answer, doing
from bot.wording.speech import Sentences, bold, joined, parcel, says, theirs
from scheduling.choice import CommandName
from scheduling.hazard import HAZARDS
from scheduling.meaning import (
    Answer,
    FireStays,
    Greeted,
    HelpShown,
    LaterNoted,
    NotClear,
    Noted,
    NothingHere,
    NothingToUndo,
    NotUnderstood,
    NowTold,
    NudgesStopped,
    PictureShown,
    RecordShown,
    StaleTap,
    UndoneTold,
)
from scheduling.ports import Parcel


def not_clear(said: NotClear, m: Measures) -> Parcel:
    """A message that could have meant several things."""
    doubt = said.doubt.model_copy(update={"heard": theirs(said.doubt.heard)})
    choices = [[buttons.say(doubts.label(choice, m.unit), choice)] for choice in doubt.choices[:5]]
    if said.lit and doubt.why == "unclear":
        # What could not be read beside a fire may have been a danger.
        choices.append([buttons.all_well(), buttons.something_wrong()])
    return parcel(doubts.ask(doubt, m.unit), buttons=choices)


def nothing_here(_: NothingHere, __: Measures) -> Parcel:
    """Not yours, or not there: the same words."""
    return parcel(
        "There is nothing here for you so far. If you were given a link, a code or a name, check "
        "it, or ask whoever gave it to you."
    )


def now_told(said: NowTold, m: Measures) -> Parcel:
    """What to do at this moment."""
    return parcel(_now(said, m), buttons=_now_buttons(said))


def _now(said: NowTold, m: Measures) -> str:
    if said.phase in ("lit", "embers"):
        read = None
        if said.top_c is not None and said.top_at is not None:
            read = f"Last reading: {bold(m.degrees(said.top_c))} {m.at_clock(said.top_at)}."
        look = (
            f"I’ll ask again {m.at_clock(said.next_at)}."
            if said.next_at is not None and said.next_at > m.now
            else None
        )
        return joined(doing(said.action), read, look)
    if said.phase == "held":
        if said.hazard is not None and HAZARDS[said.hazard].people:
            return "Light nothing. First everybody has to be well and safe again."
        if said.hazard is not None:
            return f"Light nothing. {text_of(said.hazard, said.flue).ask}"
        return "Light nothing: your builder has put all fires on hold."
    if said.phase == "done":
        return "Nothing to do: the break-in is behind you. Keep rain off the oven."
    if said.phase == "set_up":
        return "Answer the open question, please: then I can plan."
    if said.phase == "curing":
        ready = (
            f" before {bold(m.dated(said.ready_on))}" if said.ready_on is not None else " for now"
        )
        return f"Light nothing{ready}. Keep rain and frost off the oven while the mortar hardens."
    if said.phase == "firing_day" and said.next_start is not None:
        return (
            f"The next fire is planned for {bold(m.clock(said.next_start))}. Wait for my message "
            "before you lay it: I first ask for a reading."
        )
    return _waiting(said, m)


def _waiting(said: NowTold, m: Measures) -> str:
    if said.next_day is None:
        return "Nothing to do for now. I’ll write when there is a day for the next fire."
    at = f" at {m.hour(said.next_start)}" if said.next_start is not None else ""
    return (
        f"Nothing to do for now. The next fire is planned "
        f"{bold(m.on_day(said.next_day) + at)}; I’ll write the evening before."
    )


def _now_buttons(said: NowTold) -> list[list[Button]]:
    if said.phase == "embers":
        return [[buttons.door_on(), buttons.fire_out()]]
    if said.phase == "lit":
        return [[buttons.leaving(), buttons.something_wrong()]]
    if said.phase == "set_up":
        return []
    return [[buttons.show_plan(), buttons.show_days()]]


def picture(said: PictureShown, m: Measures) -> Parcel:
    """A picture of the present or last firing."""
    if said.shown is None:
        return parcel("There is no picture yet: it comes with the first fire.")
    state = "as it went" if said.shown.ended_at is not None else "so far"
    return parcel(
        f"Fire {said.shown.aim.number}, {state}.", attachments=firing_picture(said.shown, m)
    )


def record(said: RecordShown, m: Measures) -> Parcel:
    """The record, attached: as a paper, or as a file for a spreadsheet or a program."""
    many = counted(said.firings, "fire")
    if said.form == "csv":
        told = f"Here is the oven’s log as a table for a spreadsheet, with {many} in it."
    elif said.form == "json":
        told = f"Here is all of the record, with {many} in it, as data for a program."
    else:
        told = f"Here is the oven’s record, with {many} in it. Keep it with its papers."
    return parcel(
        told,
        attachments=record_paper(m, said.form),
        buttons=[record_forms()] if said.form == "pdf" else [],
    )


_HELP = {
    "set_up": "Answer the open question, by a tap or in your own words.",
    "curing": "Ask “when can I light it” or “what now”. Tell me of frost, or of a soaking.",
    "waiting": "Move days by saying so: “can’t Saturday”, “away 3 to 7 June”, “let’s do Sunday”.",
    "firing_day": "Send the reading, say “lit” when it burns, or “not today”.",
    "held": "Tell me what you see, or ask “what now”. Photos are welcome.",
    "done": "Ask anything about the oven. Tell me of long rests, soakings or repairs.",
}


def help_shown(said: HelpShown, m: Measures) -> Parcel:
    """What can be said and pressed."""
    if said.lit:
        first = (
            f"Send readings as they come, like “{m.example_top}” or “{m.example_top_and_sides}”, "
            "and tell me what you do or see: “put 2 on”, “smoke”, “a crack”, “door on”, “I have "
            "to go”."
        )
    else:
        first = _HELP.get(said.phase, "Tell me what you see, or ask “what now”.")
    return parcel(
        first,
        "If somebody is unwell or burnt, leave the fire, get into fresh air, call your emergency "
        "number, then write “unwell”.",
        "Type / for the menu. “Undo” takes back the last thing you said.",
        buttons=[
            [buttons.what_now(), buttons.show_plan()],
            [buttons.settings(), buttons.take_back()],
        ],
    )


def greeted(said: Greeted, m: Measures) -> Parcel:
    """A greeting or thanks."""
    hello = "You are welcome." if said.thanks else "Hello."
    return parcel(joined(hello, _standing(said, m)), buttons=[[buttons.what_now()]])


def _standing(said: Greeted, m: Measures) -> str:
    match said.phase:
        case "set_up":
            return "There is a question open, whenever you like."
        case "lit":
            return "Your fire is lit; I’ll write when it is time to look."
        case "embers":
            return "Your fire is burning down; I’ll ask about the embers."
        case "held":
            return "Fires are on hold for now."
        case "done":
            return "Your oven is through its break-in."
        case "curing":
            return "The mortar is still gaining strength, so nothing is lit yet."
    if said.next_day is not None:
        return f"The next fire is planned {bold(m.on_day(said.next_day))}."
    return "Nothing to do just now."


_ENTRIES = {
    "measured": "the reading",
    "fire_lit": "that the fire was lit",
    "wood_put_on": "the wood you put on",
    "fire_died": "that the fire is out",
    "firing_ended": "the end of the fire",
    "door_moved": "what you said of the door",
    "seen": "what you told me you saw",
    "trouble_closed": "that it has been looked at",
    "crack_seen": "the crack",
    "weather_told": "what you said of the weather",
    "days_said": "what you said of your days",
    "restriction_said": "the fire restriction",
    "answered": "your last answer",
    "noted": "your last note",
    "settled": "your last answer",
    "hushed": "that I should not ask",
    "repaired": "the repair",
    "reopened": "the new start",
}


def undone(said: UndoneTold, m: Measures) -> Parcel:
    """The last thing said was taken back."""
    what = _ENTRIES.get(said.what, "the last thing you said")
    if said.top_c is not None:
        what = f"the reading of {m.degrees(said.top_c)}"
    elif said.pieces is not None:
        what = f"the {counted(said.pieces, 'piece')} of wood"
    again = (
        "What I made of it no longer holds: add nothing before I have the right number."
        if said.what == "measured"
        else "If it should have been something else, just say it."
    )
    return parcel(f"Taken back: {what}, from {m.clock(said.at)}. {again}")


def nothing_to_undo(_: NothingToUndo, __: Measures) -> Parcel:
    """There is nothing to take back."""
    return parcel(
        "There is nothing of yours from the last day to take back. Older things can be put right "
        "under “Change an answer”.",
        buttons=[[buttons.settings()]],
    )


def fire_stays(said: FireStays, _: Measures) -> Parcel:
    """A fire that more is known of than its lighting."""
    if not said.lit:
        return parcel(
            "That fire stays in the book, since more is known of it than its lighting.",
            buttons=[[buttons.what_now()]],
        )
    return parcel(
        "I keep this fire in the book: more is known of it than its lighting.",
        "If it is out, or was never lit, tap “Fire is out”. If only the time was wrong, write when "
        "it was lit. If a number was wrong, send the right one.",
        buttons=[[buttons.fire_out(), buttons.what_now()]],
    )


def stale_tap(said: StaleTap, _: Measures) -> Parcel:
    """The button had its time."""
    if said.newer:
        return parcel(
            "That button belongs to an older message, so I have done nothing. To take back what "
            "you said last, write “undo”.",
            buttons=[[buttons.what_now()]],
        )
    return parcel(
        "That button belongs to something that has passed, so I have done nothing.",
        buttons=[[buttons.what_now()]],
    )


def later(said: LaterNoted, m: Measures) -> Parcel:
    """The next nudge comes later."""
    at = bold(m.at_clock(said.next_at))
    if said.shortened:
        return parcel(
            f"I’ll ask again {at}: a fire should not go longer without a look. Add nothing "
            "until then."
        )
    return parcel(f"All right, I’ll ask again {at}. If a fire burns, add nothing until then.")


def hushed(said: NudgesStopped, _: Measures) -> Parcel:
    """No more nudges."""
    if said.lit:
        return parcel(
            "All right, I stop asking. Add nothing more, let it burn down, and stay until only "
            "embers are left; about those I’ll ask once. Write at any time and I am back.",
            buttons=[[buttons.fire_out(), buttons.something_wrong()]],
        )
    return parcel("All right, I stop asking. Write at any time and I am back.")


_NOTED = {
    "photo": "The photo is kept.",
    "note": "Written down.",
    "not_lit": "No fire yet, noted. I’ll ask again in an hour.",
    "yes": "Noted. No question of mine is open just now.",
    "no": "Noted. Nothing changes.",
    "weather": "Noted.",
    "to_light": "Good. Tell me when it burns: tap “Lit”, or type it.",
    "back": "Good that you are back.",
    "fire_out": "Noted, the fire is out. Leave the mouth open as long as anything smokes or glows "
    "in there.",
    "lit": "Noted. Start small for half an hour, and enjoy it.",
}


def noted(said: Noted, m: Measures) -> Parcel:
    """Heard and written down."""
    following = (
        f"The next fire is planned {m.on_day(said.next_day)}."
        if said.next_day is not None
        else None
    )
    return parcel(joined(_NOTED.get(said.what, "Noted."), following))


def not_understood(said: NotUnderstood, m: Measures) -> Parcel:
    """Nothing could be made of the message."""
    if said.lit:
        wanted = "Say what you see: flames, embers or out?"
        if said.read:
            wanted = f"Send the top of the dome as a number, like “{m.example_top}”, or say what "
            wanted += "you see."
        return parcel(
            f"I could not read that. {wanted} Add nothing meanwhile.",
            buttons=[
                [buttons.what_now(), buttons.fire_out()],
                [buttons.leaving(), buttons.something_wrong()],
            ],
        )
    hint = _HELP.get(said.phase, "Tell me what you see, or ask “what now”.")
    return parcel(
        f"I could not read that, so I have done nothing. {sentence(hint)}",
        buttons=[[buttons.what_now(), buttons.command("Help", CommandName.HELP)]],
    )


SENTENCES: Sentences = dict(
    (
        says(NotClear, not_clear),
        says(NothingHere, nothing_here),
        says(Answer, answer),
        says(NowTold, now_told),
        says(PictureShown, picture),
        says(RecordShown, record),
        says(HelpShown, help_shown),
        says(Greeted, greeted),
        says(UndoneTold, undone),
        says(NothingToUndo, nothing_to_undo),
        says(FireStays, fire_stays),
        says(StaleTap, stale_tap),
        says(LaterNoted, later),
        says(NudgesStopped, hushed),
        says(Noted, noted),
        says(NotUnderstood, not_understood),
    )
)
