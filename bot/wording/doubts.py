"""What is asked back when a message could not be told for sure, and the buttons under it."""

from collections.abc import Sequence
from typing import Literal

from scheduling.remark import Available, Doubt, Reading, Remark, Unavailable

Unit = Literal["C", "F"]


def ask(doubt: Doubt, unit: Unit) -> str:
    """The question that clears up ``doubt``, in the owner's unit."""
    heard = doubt.heard.strip()
    quoted = f"“{heard}”" if heard else "that"
    match doubt.why:
        case "which_unit":
            return f"{quoted}: is that °C or °F? Add no wood until I know."
        case "which_number":
            likely = " or ".join(_in_a_sentence(choice, unit) for choice in doubt.choices)
            if likely:
                return (
                    f"I’m not sure of {quoted}, so I have noted nothing. "
                    f"Is it {likely}, or something else? Add no wood until I know."
                )
            return (
                f"I can’t use {quoted} as a reading. What number does the thermometer show at the "
                "top now? Add no wood until I know."
            )
        case "out_of_range":
            return (
                f"{quoted} is outside what the thermometer can show. Add no wood; "
                "read the top once more, from an arm’s length, and send me the number."
            )
        case "which_place":
            return f"{quoted}: which one is the top of the dome? Add no wood until I know."
        case "which_day":
            return f"Which day do you mean by {quoted}?"
        case _:
            return (
                f"I’m not sure what {quoted} means. Send the temperature at the top, "
                "or say in a few words what you see."
            )


def _in_a_sentence(choice: Remark, unit: Unit) -> str:
    said = label(choice, unit)
    return said[:1].lower() + said[1:]


def label(choice: Remark, unit: Unit) -> str:
    """A button for one likely meaning."""
    match choice:
        case Reading():
            return _reading(choice, unit)
        case Unavailable() | Available():
            days = _days(choice)
            return f"Can’t: {days}" if isinstance(choice, Unavailable) else f"Can: {days}"
        case _:
            return choice.kind.replace("_", " ").capitalize()


def _reading(reading: Reading, unit: Unit) -> str:
    parts: list[str] = []
    if reading.top_c is not None:
        parts.append(f"Top {_degrees([reading.top_c], unit)}")
    if reading.sides_c:
        parts.append(f"sides {_degrees(reading.sides_c, unit)}")
    if reading.hearth_c is not None:
        parts.append(f"hearth {_degrees([reading.hearth_c], unit)}")
    text = ", ".join(parts)
    return text[:1].upper() + text[1:]


def _degrees(values: Sequence[float], unit: Unit) -> str:
    shown = [value * 1.8 + 32 if unit == "F" else value for value in values]
    return " and ".join(f"{value:.0f}" for value in shown) + f" °{unit}"


def _days(choice: Unavailable | Available) -> str:
    if choice.first is None:
        return "that day"
    first = f"{choice.first:%a} {choice.first.day} {choice.first:%b}"
    if choice.last is None or choice.last == choice.first:
        return first
    return f"{first} to {choice.last:%a} {choice.last.day} {choice.last:%b}"
