"""What a rehearsal on a phone says beside the bot: about an oven that is invented."""

from dataclasses import dataclass
from datetime import datetime

from bot.wording.measures import Measures, counted
from bot.wording.speech import bold, joined, lines, parcel
from scheduling.oven.makeup import MakeUp
from scheduling.oven.preset import shipped
from scheduling.ports import Parcel


@dataclass(frozen=True, slots=True)
class Look:
    """What somebody finds who goes to the oven. Temperatures as the display shows them, °C; None
    where it shows no number, or where there is no thermometer."""

    has_thermometer: bool
    top_c: float | None
    sides_c: float | None
    flames: bool
    embers: bool
    flames_out: bool
    """Out of the mouth, or into the flue."""
    damp: bool
    bare: bool
    """The soot has burnt off."""


def opening(oven: MakeUp, pace: float, m: Measures) -> Parcel:
    """The rules of the game, and the oven to be told of in the set-up."""
    preset = shipped().presets.get(oven.construction)
    reads = (
        f"a thermometer up to {m.degrees(oven.instrument.max_c)}"
        if oven.instrument is not None
        else "no thermometer"
    )
    return parcel(
        bold("This is a rehearsal. Nothing burns."),
        joined(
            "The oven and its weather are invented, and you are its owner. What you tell the bot "
            "you did is done there.",
            f"An hour passes in {3600 / pace:.0f} seconds.",
        ),
        "Your oven, for the first questions:\n"
        + lines(
            [
                preset.title if preset is not None else oven.construction,
                f"{m.length(oven.inner_diameter_mm)} wide inside",
                f"last wet work on {m.dated(oven.wet_work_ended)}",
                f"cover: {oven.cover.value}; door: {oven.door.value}; {reads}",
                f"stands at {oven.latitude:g}, {oven.longitude:g}"
                if oven.latitude is not None and oven.longitude is not None
                else "stands wherever you say",
            ]
        ),
        f"Write {bold('look')} to go to the oven and read it, {bold('rake')} when you rake the "
        f"fire flat, {bold('skip')} to leap to what comes next while nothing burns, and "
        f"{bold('truth')} to be told what the bot cannot know. Everything else goes to the bot.",
        "Now answer the question above.",
    )


def found(look: Look, m: Measures) -> Parcel:
    """The display, and what the eye sees."""
    if not look.has_thermometer:
        read = "You have no thermometer."
    elif look.top_c is None:
        read = "Pointed at the top the display shows no number: it is above its range."
    else:
        side = f", {m.degrees(look.sides_c)} at a side" if look.sides_c is not None else ""
        read = f"The display shows {bold(m.degrees(look.top_c))} at the top{side}."
    fire = "Flames." if look.flames else "Embers, no flame." if look.embers else "No fire."
    return parcel(
        read,
        joined(
            fire,
            "Flames come out of the mouth, or go into the flue." if look.flames_out else None,
            "There are damp patches outside." if look.damp else None,
            "The dome is bare: the soot has gone." if look.bare else None,
        ),
    )


def raked(m: Measures) -> Parcel:
    """Done, at that hour."""
    return parcel(f"{m.hour(m.now)}: the fire lies flat. Tell the bot so, if it asked.")


def leapt(to: datetime, m: Measures) -> Parcel:
    """What time it is now."""
    return parcel(f"It is now {m.clock(to)}, {m.dated(m.today)}.")


def stays(m: Measures) -> Parcel:
    """No leap: a fire is not skipped, nor what is just being said."""
    return parcel(f"It is {m.hour(m.now)}. There is something in hand; time goes on by itself.")


def truth(
    crown_c: float, worst_share: float, water_l: float, fires: int, wood_kg: float, m: Measures
) -> Parcel:
    """What the wall really does. ``worst_share`` is the worst steam so far by what the wall can
    stand."""
    harmed = " The wall has been harmed." if worst_share >= 1.0 else ""
    return parcel(
        f"In truth the top is at {m.degrees(crown_c)}. {water_l:.1f} l of water are left in the "
        f"dome, after {counted(fires, 'fire')} and {wood_kg:.1f} kg of wood.",
        f"At its worst, steam had {100 * worst_share:.0f} % of what the wall can stand.{harmed}",
    )
