"""Sentences after a fire: what it reached, the door, the next aim, and the end of it all."""

from bot.wording import buttons
from bot.wording.attached import firing_picture, record_paper
from bot.wording.buttons import Button
from bot.wording.measures import Measures, counted, held, water
from bot.wording.speech import Sentences, bold, joined, own_words, parcel, says
from bot.wording.terms import fires
from scheduling.choice import CommandName
from scheduling.meaning import (
    BreakInDone,
    DoorNoted,
    FiringDone,
    IdleAsked,
    MorningAfterAsk,
    MorningNoted,
    ReadingKept,
    StoppedForNow,
    UnitSetRight,
)
from scheduling.ports import Parcel
from scheduling.remark import Sign

_ENDED = {
    "held": None,
    "stopped": "It was stopped, and that was right.",
    "short": "It ended short of its time; nothing is spoilt.",
    "unattended": "Nobody could tell me of its end, so I count on less than it may have done.",
    "weather": "The weather ended it.",
    "time": "The day’s hours were over.",
    "too_early": "It was lit before its time.",
}

_CHANGE = {
    "short": "Since this one fell short, that is a smaller step.",
    "hot": "Since this one went hotter than meant, the next is the gentler for it.",
    "unattended": "Since nobody could read to the end, that is a smaller step.",
    "weather": "The weather has made it a smaller step.",
    "steam": "The wall holds more water than I thought, so that is lower than before.",
    "repeat": "That is the same fire once more.",
    "doubt": "I am not sure of some readings, so that is a smaller step.",
}


def firing_done(said: FiringDone, m: Measures) -> Parcel:
    """What a fire reached, the door, and what comes next."""
    shown = said.shown
    peak = f"the top reached {bold(m.degrees(shown.peak_c))}" if shown.peak_c is not None else None
    read = any(one.believed for one in shown.readings)
    hot = shown.peak_c is not None and shown.peak_c > shown.aim.high_c
    in_range = "stayed in its range or above for" if hot else "stayed in its range for"
    stayed = in_range if read else "by the clock it was kept up for"
    kept = f"{stayed} {held(shown.held_h)}" if shown.held_h > 0 else None
    reached = " and ".join(part for part in (peak, kept) if part)
    summary = f"Fire {shown.aim.number} is over" + (f": {reached}." if reached else ".")
    return parcel(
        _to_do(said),
        joined(summary, _ENDED[said.why], _water(said)),
        _following(said, m),
        _soot(said),
        own_words(said.own),
        buttons=[
            [
                buttons.confirm("Soot is gone", "soot", yes=True),
                buttons.confirm("Still black", "soot", yes=False),
            ]
        ]
        if _asks_soot(said)
        else [[buttons.door_on()]]
        if not said.door_on
        else [],
        attachments=firing_picture(shown, m),
    )


def _asks_soot(said: FiringDone) -> bool:
    return said.embers and said.soot_clear is None


def _to_do(said: FiringDone) -> str | None:
    if said.door_on:
        return "The door stays on until morning; let the oven cool by itself."
    embers = "Spread the embers over the floor. " if said.embers else ""
    return f"{embers}When no flame is left, put the door on, if you have one, until morning."


def _water(said: FiringDone) -> str | None:
    if said.water_left_l is None:
        return None
    return f"By my reckoning the wall still holds {water(*said.water_left_l)}."


def _following(said: FiringDone, m: Measures) -> str | None:
    if said.next_aim is None:
        return None
    day = (
        f"planned {m.on_day(said.next_day)}" if said.next_day is not None else "its day still open"
    )
    name = "a warm-up fire" if said.next_aim.warm_up else f"fire {said.next_aim.number}"
    return joined(
        f"Next is {name}, {day}, for about {m.about_degrees(said.next_aim.plateau_c)}.",
        _CHANGE.get(said.change),
    )


def _soot(said: FiringDone) -> str | None:
    if _asks_soot(said) and said.door_on:
        return (
            "When the door comes off in the morning, look in: is the soot burnt off the dome, so "
            "that you see bare wall?"
        )
    if _asks_soot(said):
        return "From the mouth, is the soot burnt off the dome, so that you see bare wall?"
    return "The dome has burnt clean." if said.soot_clear and said.embers else None


def door(said: DoorNoted, _: Measures) -> Parcel:
    """The door is on or off."""
    if said.on and said.early:
        return parcel(
            "Take the door off again for now, standing to the side.",
            "With flames or thick embers in, a closed oven smokes, makes carbon monoxide, and can "
            "flare at you. I’ll tell you when it is time.",
            buttons=[[buttons.only_embers(), buttons.still_flames()]],
        )
    if said.on:
        return parcel("Door on, noted. Leave it so until morning.")
    return parcel("Door off, noted.")


def morning_after(said: MorningAfterAsk, m: Measures) -> Parcel:
    """The reading with no fire, the morning after one."""
    expected = (
        f"I expect around {m.degrees_range(*said.expected_c)}."
        if said.expected_c is not None
        else None
    )
    return parcel(
        "Good morning. What does the top of the dome read now, with no fire?",
        joined("One number tells me how much water is left.", expected),
    )


def morning_noted(said: MorningNoted, m: Measures) -> Parcel:
    """That reading, and what follows."""
    noted = f"Noted: {m.degrees(said.top_c)}."
    if said.next_aim is None:
        return parcel(joined(noted, "Nothing to do for now."))
    day = m.on_day(said.next_day) if said.next_day is not None else "on a day still open"
    aim = bold(m.about_degrees(said.next_aim.plateau_c))
    if said.before_c is not None:
        change = f"instead of {m.about_degrees(said.before_c)}, by what the wall shows."
        return parcel(
            joined(noted, f"Fire {said.next_aim.number} {day} now aims for about {aim}, {change}")
        )
    return parcel(
        joined(noted, f"All stays as planned: fire {said.next_aim.number} {day}, about {aim}.")
    )


def reading_kept(said: ReadingKept, m: Measures) -> Parcel:
    """A reading with no fire burning."""
    shown = "" if said.top_c is None else f": {m.degrees(said.top_c)}"
    return parcel(
        f"Noted{shown}. Nothing to do now.", buttons=[[buttons.take_back(), buttons.what_now()]]
    )


def unit_set_right(said: UnitSetRight, _: Measures) -> Parcel:
    """Numbers that were in the other unit."""
    if said.readings == 1:
        return parcel("Then the number before it was in the other unit too: I have put it right.")
    return parcel(
        f"Then the {said.readings} numbers before it were in the other unit too: I have put them "
        "right."
    )


def break_in_done(said: BreakInDone, m: Measures) -> Parcel:
    """Done: what now."""
    peak = f", the hottest at {bold(m.degrees(said.peak_c))}" if said.peak_c is not None else ""
    soot = "" if said.soot_clear else " Some soot may stay; later fires will take it."
    days = counted(said.days, "day")
    return parcel(
        f"Your break-in is done: {fires(said.firings)} in {days}{peak}. You can cook now, "
        f"whatever you like.{soot}",
        "Treat it kindly: a small fire for half an hour before each big one, rain kept off, the "
        "door on while it cools. Hairlines may open when hot and close when cold.",
        "Come back to me before its next fire if it has stood unused for two months, has got wet "
        "through, or has been repaired. Its record is attached, to keep.",
        buttons=[[buttons.command("Send the record again", CommandName.RECORD)]],
        attachments=record_paper(m),
    )


def stopped_for_now(said: StoppedForNow, _: Measures) -> Parcel:
    """No more days until somebody says so."""
    stop = "Let us stop here for now: light nothing, and I plan no fire until you tap “Go on”."
    if said.days:
        return parcel(
            f"{stop} {counted(said.days, 'fire day').capitalize()} in a row went by without a "
            "fire. Nothing is spoilt: the oven can wait, with the rain kept off and the mouth open "
            "to the air.",
            "If the days or the hours are in the way, tell me which would suit, or let a second "
            "person take turns.",
            buttons=_go_on(said),
        )
    if said.attended:
        return parcel(
            f"{stop} {counted(said.firings, 'fire').capitalize()} in a row did not come up to "
            "their aim or stay there, though you were with them. Nothing is spoilt, and nobody is "
            "to blame.",
            "Wood that is damp or too thick is the usual cause: it hisses and smokes, and gives "
            "little heat. A door left in the mouth or a strong wind can do it too. Ask whoever "
            "built it before you go on.",
            buttons=_go_on(said),
        )
    return parcel(
        f"{stop} {counted(said.firings, 'fire').capitalize()} in a row ended before their time: "
        "nothing is spoilt and nobody is to blame, but fires so short do not dry the wall.",
        "A fire wants somebody beside it from the match to the embers, who reads the top each time "
        "I ask. Is there a day like that, or a second person to take turns? If something else is "
        "in the way, ask whoever built it.",
        buttons=_go_on(said),
    )


def _go_on(said: StoppedForNow) -> list[list[Button]]:
    return [
        [buttons.confirm("Go on", said.proposal, yes=True)],
        [buttons.command("Ask a second person", CommandName.SECOND)],
    ]


_IDLE = {
    "idle": "It has stood unused for {days}, and walls draw water when they rest.",
    "soaked": "It has got wet through.",
    "repaired": "It has fresh mortar in it.",
}


def idle(said: IdleAsked, m: Measures) -> Parcel:
    """Gentle fires before real ones."""
    first = f", the first {m.on_day(said.first)}" if said.first is not None else ""
    why = _IDLE[said.why].format(days=counted(said.days, "day"))
    return parcel(
        f"Shall I plan {bold(counted(said.firings, 'gentle fire'))} before you next cook{first}?",
        f"{why} Please light nothing before that is settled.",
        buttons=[
            [
                buttons.say("Yes, plan it", Sign(kind="yes")),
                buttons.say("Not now", Sign(kind="no")),
            ]
        ],
    )


SENTENCES: Sentences = dict(
    (
        says(FiringDone, firing_done),
        says(DoorNoted, door),
        says(MorningAfterAsk, morning_after),
        says(MorningNoted, morning_noted),
        says(ReadingKept, reading_kept),
        says(UnitSetRight, unit_set_right),
        says(BreakInDone, break_in_done),
        says(StoppedForNow, stopped_for_now),
        says(IdleAsked, idle),
    )
)
