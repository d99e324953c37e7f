"""What owners do about a letter: one function for each kind of meaning that asks for something."""

from collections.abc import Awaitable, Callable

from scheduling.firing.aim import Action
from scheduling.meaning import (
    Advice,
    DoorNoted,
    Doubtful,
    FiringDone,
    HowToLay,
    Nudge,
    SetUpQuestion,
    Unattended,
    WelcomeBack,
)
from scheduling.oven.reading import Ask
from tests.trials.unmet_ovens.introduction import answer
from tests.trials.unmet_ovens.letters import Letter
from tests.trials.unmet_ovens.owner import Owner

LATEST_LIGHTING_H = 19.0
ONLY_EMBERS_KG = 0.12
EMBERS_SEEN_KG = 0.03
LOOK_AGAIN_MIN = 25.0

Deed = Callable[[Owner, Letter], Awaitable[None]]

AT_THE_FIRE = frozenset(
    ("advice", "nudge", "doubtful", "unattended", "welcome_back", "back_asked", "not_heard")
)
"""Of these only the newest is acted on."""


async def do(owner: Owner, letters: list[Letter]) -> None:
    """Act on what was read, oldest first; at the fire only on the last word."""
    last = max((i for i, one in enumerate(letters) if one.kind in AT_THE_FIRE), default=-1)
    for index, letter in enumerate(letters):
        if letter.kind not in AT_THE_FIRE or index == last:
            await DEEDS.get(letter.kind, _yes_if_asked)(owner, letter)


async def _yes_if_asked(owner: Owner, letter: Letter) -> None:
    """Whatever is proposed is fine with them; what they cannot answer is kept for the report."""
    if (yes := letter.button(kind="confirm", yes=True)) is not None:
        await owner.say(None, yes)
    elif "?" in letter.text:
        unknown = owner.course.unknown
        unknown[letter.kind] = unknown.get(letter.kind, 0) + 1


async def _nothing(_: Owner, __: Letter) -> None:
    """It tells, and asks for nothing."""


# ---------------------------------------------------------------- before a fire


async def _introduce(owner: Owner, letter: Letter) -> None:
    assert isinstance(letter.meaning, SetUpQuestion)
    told = answer(owner.knows, letter, letter.meaning)
    await owner.say(told.say, told.press)


async def _morning(owner: Owner, _: Letter) -> None:
    owner.morning_of_fire()
    await owner.say(owner.number(), None)


async def _number(owner: Owner, _: Letter) -> None:
    if owner.habits.measures:
        await owner.say(owner.number(), None)


async def _light(owner: Owner, letter: Letter) -> None:
    """As told; a question whether it is lit yet reminds those who forgot."""
    if isinstance(letter.meaning, HowToLay):
        owner.laying = letter.meaning
    burning = owner.course.burning is not None
    if owner.laying is None or burning or owner.hour > LATEST_LIGHTING_H:
        return
    owner.light(owner.laying.aim)
    owner.fire_burns()
    await owner.say(*_button_or(letter, "lit", kind="lit"))


# ---------------------------------------------------------------- at a fire


async def _nudge(owner: Owner, letter: Letter) -> None:
    asked = letter.meaning
    assert isinstance(asked, Nudge)
    if asked.read and owner.habits.measures:
        await owner.say(owner.number(side=asked.side), None)
    elif asked.kg is not None:
        await _put_on(owner, letter, asked.kg, asked.piece_mm or asked.aim.piece_mm)
    else:
        await _how_it_looks(owner, letter)


async def _how_it_looks(owner: Owner, letter: Letter) -> None:
    """Flames, embers, or out."""
    if owner.oven.fire.flames:
        await owner.say(*_button_or(letter, "flames, it burns calmly", kind="back"))
    elif owner.oven.fire.embers_kg > EMBERS_SEEN_KG:
        await owner.say("only embers", None)
    else:
        await owner.say(*_button_or(letter, "out", kind="fire_out"))


async def _put_on(
    owner: Owner, letter: Letter, kg: float, piece_mm: float, *, paper: bool = False
) -> None:
    owner.stoke(kg, piece_mm, paper=paper)
    await owner.say(*_button_or(letter, "done, it is on", kind="stoked"))


async def _advice(owner: Owner, letter: Letter) -> None:
    told = letter.meaning
    assert isinstance(told, Advice)
    match told.action:
        case Action.ADD:
            await _add(owner, letter, told)
        case Action.SPREAD:
            owner.oven.fire.rake_flat()
        case Action.READ_AGAIN if owner.habits.measures:
            await owner.say(owner.number(with_care=True), None)
        case Action.LOOK_FOR_SOOT:
            await _tell_soot(owner, letter)
        case Action.SHUT_DOOR:
            if told.look:
                await _tell_soot(owner, letter)
            await _door(owner, letter)
        case _:
            pass


async def _add(owner: Owner, letter: Letter, told: Advice) -> None:
    embers = letter.button(kind="only_embers")
    if embers is not None and owner.oven.fire.unburnt_kg < ONLY_EMBERS_KG:
        await owner.say(None, embers)
        return
    kg = told.kg if told.kg is not None else told.aim.charge_kg
    lit = told.why.what in ("not_burning", "burnt_down")
    await _put_on(owner, letter, kg, told.piece_mm or told.aim.piece_mm, paper=lit)


async def _doubtful(owner: Owner, letter: Letter) -> None:
    """They look at the display again, and at what stands on it."""
    doubt = letter.meaning
    assert isinstance(doubt, Doubtful)
    if not owner.habits.measures:
        return
    match doubt.ask:
        case Ask.WHICH_UNIT:
            was_fahrenheit = letter.button(kind="reading") if owner.on_fahrenheit else None
            if was_fahrenheit is not None:
                owner.notice_unit()
                await owner.say(None, was_fahrenheit)
            else:
                owner.notice_unit()
                await owner.say(f"{owner.number()} °C", None)
        case Ask.IS_IT_LIT:
            kind = "lit" if owner.course.burning is not None else "not_lit"
            await owner.say(*_button_or(letter, "lit" if kind == "lit" else "no fire", kind=kind))
        case _:
            await owner.say(owner.number(with_care=True), None)


async def _here_again(owner: Owner, letter: Letter) -> None:
    """After a silence: what the dome reads, or that somebody is there."""
    asked = letter.meaning
    if isinstance(asked, Unattended | WelcomeBack) and asked.read and owner.habits.measures:
        await owner.say(owner.number(), None)
    elif isinstance(asked, WelcomeBack):
        return  # they have just said so
    elif owner.oven.fire.out and letter.button(kind="fire_out"):
        await owner.say(None, letter.button(kind="fire_out"))
    else:
        await owner.say(*_button_or(letter, "I am back", kind="back"))


async def _all_well(owner: Owner, letter: Letter) -> None:
    await owner.say(*_button_or(letter, "all is well", kind="all_well"))


# ---------------------------------------------------------------- after a fire


async def _tell_soot(owner: Owner, letter: Letter) -> None:
    kind = "soot_clear" if owner.soot_gone() else "soot_black"
    words = "the soot is gone" if owner.soot_gone() else "still black"
    await owner.say(*_button_or(letter, words, kind=kind))


async def _door(owner: Owner, letter: Letter) -> None:
    if owner.shut_door():
        await owner.say(*_button_or(letter, "door is on", kind="door_on"))
        return
    later = letter.button(kind="later")
    if later is not None:
        await owner.say(None, later)
    else:
        owner.look_again(letter, LOOK_AGAIN_MIN)


async def _fire_done(owner: Owner, letter: Letter) -> None:
    told = letter.meaning
    assert isinstance(told, FiringDone)
    soot = letter.button(kind="confirm", proposal="soot", yes=owner.soot_gone())
    if soot is not None:
        await owner.say(None, soot)
    if not owner.oven.door_on:
        if owner.shut_door():
            await owner.say(*_button_or(letter, "door is on", kind="door_on"))
        else:
            owner.look_again(letter, LOOK_AGAIN_MIN)


async def _door_noted(owner: Owner, letter: Letter) -> None:
    """Taken off again where the bot thinks it too early; then what is to be seen is told."""
    told = letter.meaning
    assert isinstance(told, DoorNoted)
    if not told.early:
        return
    owner.oven.door_on = False
    kind = "later" if owner.oven.fire.flames else "fire_out"
    if (label := letter.button(kind=kind)) is not None:
        await owner.say(None, label)


def _button_or(letter: Letter, words: str, **wanted: object) -> tuple[str | None, str | None]:
    """The button, or words where there is none."""
    label = letter.button(**wanted)
    return (None, label) if label is not None else (words, None)


DEEDS: dict[str, Deed] = {
    "set_up_question": _introduce,
    "morning_ask": _morning,
    "morning_after_ask": _number,
    "how_to_lay": _light,
    "still_waiting": _light,
    "nudge": _nudge,
    "advice": _advice,
    "doubtful": _doubtful,
    "unattended": _here_again,
    "welcome_back": _here_again,
    "back_asked": _here_again,
    "not_heard": _all_well,
    "firing_done": _fire_done,
    "door_noted": _door_noted,
    "firing_status": _nothing,
    "lit_noted": _nothing,
    "plan_told": _nothing,
    "welcome": _nothing,
    "break_in_done": _nothing,
}
