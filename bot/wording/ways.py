"""Sentences about a builder's own ways."""

from bot.wording.attached import ways_file
from bot.wording.measures import Measures, counted, listed
from bot.wording.papers import LIMITS, limit_value
from bot.wording.speech import Sentences, joined, lines, parcel, says, theirs
from scheduling.choice import Applying
from scheduling.meaning import (
    WaysApplied,
    WaysKept,
    WaysOutrun,
    WaysRefused,
    WaysShown,
    WaysUnchanged,
)
from scheduling.meaning.ways import ModelShown, WayFault
from scheduling.ports import Parcel


def _how(said: WaysShown, m: Measures) -> str:
    """How to change them; of the head of a record only where it has none, for the file has that."""
    hottest = "final_c = 380" if m.unit == "C" else "final_f = 715"
    head = (
        "At the head of your records: “address = …”, and your logo, sent as a picture with the "
        "word “logo” under it."
    )
    return joined(
        "The file has it all, models and constructions too. Send it back, changed, or type a line: "
        f"“{hottest}”, “cautions = Keep the dog inside”. “none” takes one back.",
        None if said.head else head,
    )


HEAD_OF_PAPERS = frozenset({"name", "address", "logo"})
"""What stands at the head of a record, and changes nothing for any fire."""


def shown(said: WaysShown, m: Measures) -> Parcel:
    """The ways as they stand, and how to change them."""
    if not said.version:
        return parcel(
            "You have no ways of your own yet: your clients go by mine.",
            _learning(said, m),
            _how(said, m),
            attachments=ways_file(said.file),
        )
    made = "" if said.made_at is None else f", kept {m.clock(said.made_at)}"
    by = f" by {theirs(said.by)}" if said.by else ""
    told = [f"{LIMITS[name]} {limit_value(name, value, m)}" for name, value in said.limits]
    if said.greeting:
        told.append("a greeting of your own")
    if said.cautions:
        told.append(counted(said.cautions, "caution"))
    if said.checks:
        told.append(f"{counted(said.checks, 'line')} of checklists")
    if said.presets:
        told.append(f"constructions: {listed([theirs(one) for one in said.presets])}")
    if said.models:
        told.append(f"models: {listed([theirs(one) for one in said.models])}")
    if said.head:
        told.append(f"at the head of every record: {listed(said.head)}")
    return parcel(
        f"Your ways, version {said.version}{made}{by}.",
        lines(told) if told else "They change nothing." if said.learn else None,
        _learning(said, m),
        _how(said, m),
        attachments=ways_file(said.file),
    )


def _learning(said: WaysShown, m: Measures) -> str | None:
    """What finished ovens teach, with counts, and how to stop it."""
    if not said.learn:
        return "Finished ovens teach the next ones nothing. “learn = yes” changes that."
    if not said.teaching:
        return None
    told = lines(_model(one, m) for one in said.teaching)
    return (
        "Finished ovens teach the next of their model how well wood heats it and how fast it "
        "cools:\n"
        f"{told}\nThe limits stay what they are. “learn = no” stops it."
    )


def _model(one: ModelShown, m: Measures) -> str:
    low, high = one.fires
    took = counted(low, "fire") if low == high else f"{low} to {high} fires"
    done = f"{theirs(one.title)}, {m.length(one.diameter_mm)}: {one.ovens} done in {took}"
    if one.ovens < one.least:
        return f"{done}; the next learns from {one.least} on"
    return f"{done}; the next learns from them"


def refused(said: WaysRefused, _: Measures) -> Parcel:
    """What is wrong, line by line."""
    return parcel(
        "Nothing of it is kept. Please put this right and send it again.",
        lines(fault(one) for one in said.faults),
    )


def fault(one: WayFault) -> str:
    """One fault: the line, what is wrong with it, and what would be plausible."""
    where = f"Line {one.line}: " if one.line is not None else ""
    return where + _wrong(one)


def _wrong(one: WayFault) -> str:
    name, value = theirs(one.field), theirs(one.value)
    low, high = _number(one.low), _number(one.high)
    match one.what:
        case "not_toml":
            return (
                f"I cannot read “{value}”. Words stand in quotation marks, lists in [ ]."
                if value
                else "I cannot read this as a file of ways. Ask for yours with /ways."
            )
        case "unknown":
            near = f" Did you mean {theirs(one.near)}?" if one.near else ""
            return f"I know nothing called {name}.{near}"
        case "out_of_range":
            return f"{name} cannot be {value}; {low} to {high} would be plausible."
        case "not_number":
            plausible = f"; {low} to {high} would be plausible" if low else ""
            return f"{name} is a number, and {value} is none that I can take{plausible}."
        case "no_window":
            return (
                f"Stoking after at least {low} and at most {high} minutes leaves no time to stoke "
                "in; 30 to 60 is usual."
            )
        case "less_gentle":
            return (
                f"{name} = {value} allows more than the usual {low}. If you mean it, say it twice, "
                f"with “less_gentle.{name} = {value}” and a reason; every record will name you."
            )
        case "no_reason":
            return (
                f"{name} = {value} allows more than the usual {low}, so every record gives your "
                "reason. Write one, like reason = “…”."
            )
        case "both":
            return f"{name} and {theirs(one.near)} are the same in two units. Leave one out."
        case "no_construction":
            return f"I know no construction {value}. Use one of: {theirs(one.near)}."
        case "taken":
            return f"There is a construction {name} already. Give yours another name."
        case "description":
            return value or f"{name} does not fit."
    return _shape(one, name, value)


def _shape(one: WayFault, name: str, value: str) -> str:
    match one.what:
        case "too_long":
            most = _number(one.high)
            return f"{name or 'The file'} is too long; at most {most} letters would do."
        case "too_many":
            return f"{name}: at most {_number(one.high)}, so that they are read."
        case "empty":
            return f"{name} has an empty line in it. Leave it out."
        case "not_text":
            return f"{name} is words in quotation marks, and {value} is none."
        case "not_yes_no":
            return f"{name} is yes or no, and {value} is neither."
        case "not_list":
            return f'{name} is a list, like ["one", "two"].'
        case _:
            return f"{name} is a part of its own, headed [{name}]."


def kept(said: WaysKept, _: Measures) -> Parcel:
    """A version is kept; shall it be applied to the running ones?"""
    if set(said.changed) <= HEAD_OF_PAPERS:
        return parcel(f"Version {said.version} is kept. Every record has this head from now on.")
    names = listed([theirs(one) for one in said.changed])
    changed = f"Changed: {names}." if names else None
    told = joined(f"Version {said.version} is kept. New clients begin with it.", changed)
    if not said.running:
        return parcel(told)
    return parcel(
        told,
        f"Shall your {counted(said.running, 'running client')} have it too? Of each limit the "
        "gentler holds; they are told, and every record names you.",
        buttons=[
            [
                ("Apply to them too", Applying(version=said.version)),
                ("Only new clients", Applying(version=said.version, running=False)),
            ]
        ],
    )


def applied(said: WaysApplied, _: Measures) -> Parcel:
    """Applied, or left to new clients."""
    if not said.clients:
        return parcel(f"Version {said.version} stays with new clients. Nobody else has it changed.")
    gentler = (
        f"{counted(said.kept_gentler, 'client').capitalize()} had a gentler limit of their own, "
        "which stays."
        if said.kept_gentler
        else None
    )
    clients = counted(said.clients, "running client")
    return parcel(joined(f"Version {said.version} now holds for {clients}.", gentler))


def unchanged(said: WaysUnchanged, _: Measures) -> Parcel:
    """The same as before."""
    return parcel(f"That is version {said.version} as it stands. Nothing is changed.")


def outrun(_: WaysOutrun, __: Measures) -> Parcel:
    """Somebody of the team was quicker."""
    return parcel(
        "Nothing is kept: somebody of your team changed the ways at the same time. Look at them "
        "with /ways, then send yours again."
    )


def _number(value: float | None) -> str:
    return "" if value is None else f"{value:g}"


SENTENCES: Sentences = dict(
    (
        says(WaysShown, shown),
        says(WaysRefused, refused),
        says(WaysKept, kept),
        says(WaysApplied, applied),
        says(WaysUnchanged, unchanged),
        says(WaysOutrun, outrun),
    )
)
