"""Sentences of a builder's clients as a file, and the words that stand in such files."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from bot.clientlist.columns import (
    ANSWERS,
    COLUMNS,
    LATITUDE,
    LONGITUDE,
    MODEL,
    NAME,
    PHONE,
    TOWN,
)
from bot.clientlist.writing import PASSED_ON, written
from bot.wording import preparing_buttons as buttons
from bot.wording.asking import reason_refused
from bot.wording.attached import sheet_file
from bot.wording.buttons import invitations
from bot.wording.clients import PHASE_NAMES
from bot.wording.inviting import asks
from bot.wording.measures import Measures, counted, listed
from bot.wording.office_buttons import clients
from bot.wording.speech import Sentences, bold, joined, lines, parcel, quoted, says, theirs
from bot.wording.terms import answer_words
from scheduling.choice import About
from scheduling.firing.answers import place_of
from scheduling.meaning import (
    ClientLine,
    ExportShown,
    ImportDone,
    ImportHow,
    ImportShown,
    RowFault,
)
from scheduling.oven.preset import shipped
from scheduling.ports import Parcel

NAMES = 6
"""Clients who are named of those that a file brings."""

CHOICES = 3


def how(said: ImportHow, _: Measures) -> Parcel:
    """How it is done, with an empty file."""
    models = f" Yours are {listed([theirs(one) for one in said.models])}." if said.models else ""
    return parcel(
        "Send me a file with a line for each client, as a spreadsheet saves it (CSV). Here is an "
        "empty one with two examples. Only “name” is needed.",
        f"“model” is one of your models.{models} What a line leaves out, the owner is asked. "
        "Write sizes with cm or in, dates like 2 May 2026.",
        "First I show what I make of it, and what is wrong in which line. Nobody is invited "
        "before you say so, and nothing is planned before the owner comes and agrees.",
        buttons=[[clients("All clients")]],
        attachments=sheet_file(said.file, "clients.csv", "An empty file of clients to fill in."),
    )


def shown(said: ImportShown, m: Measures) -> Parcel:
    """The dry run."""
    count = len(said.new)
    faults = lines(fault(one, m) for one in said.faults)
    more = f"And {said.more_faults} more faults." if said.more_faults else None
    known = _known(said.known)
    if not count:
        return parcel(
            "Nobody of this file would be invited.",
            faults or None,
            more,
            known,
            "Put it right and send it again." if said.faults else None,
            buttons=[[buttons.import_how()]],
        )
    label = f"Invite the {count}" if count > 1 else "Invite them"
    left = " without the lines that are wrong" if said.faults else ""
    return parcel(
        joined(bold(f"{counted(count, 'client').capitalize()} to invite."), "Nothing is done yet."),
        _new(said.new),
        joined("These lines are wrong:" if faults else None) + ("\n" + faults if faults else ""),
        more,
        known,
        f"Tap to invite them{left}, or put the file right and send it again.",
        buttons=[[buttons.import_them(label, said.text)]],
    )


def _new(new: Sequence[tuple[str, int]]) -> str:
    named = [
        f"{theirs(name)} ({counted(filled, 'answer')} filled in)" if filled else theirs(name)
        for name, filled in new[:NAMES]
    ]
    more = len(new) - len(named)
    return f"{listed([*named, f'{more} more'] if more > 0 else named)}."


def _known(names: Sequence[str]) -> str | None:
    if not names:
        return None
    named = [theirs(one) for one in names[:NAMES]]
    more = len(names) - len(named)
    told = listed([*named, f"{more} more"] if more > 0 else named)
    are, which = ("is", "that") if len(names) == 1 else ("are", "one of them")
    return (
        f"{told} {are} there already and left as they are. If {which} is somebody else, give them "
        "a name that tells them apart."
    )


def fault(one: RowFault, m: Measures) -> str:
    """One fault: the line, the column, and what would do."""
    where = f"Line {one.line}" if one.line is not None else ""
    at = f"{where}, {theirs(one.column)}" if where and one.column else where
    wrong = _wrong(one, m)
    return f"{at}: {wrong}" if at else wrong[:1].upper() + wrong[1:]


def _wrong(one: RowFault, m: Measures) -> str:
    value = quoted(one.value)
    match one.what:
        case "no_header":
            return "the first line has to name the columns, “name” among them"
        case "unknown_column":
            near = f", did you mean “{one.near}”?" if one.near else ""
            return f"I know no such column{near or '; known are ' + ', '.join(COLUMNS)}"
        case "twice" if one.value:
            return f"{value} stands in an earlier line too; give each a name of their own"
        case "twice":
            return "this column is there twice"
        case "no_name":
            return "the name is missing"
        case "too_many":
            return f"at most {one.most} clients in one file; send the rest in another"
        case "too_long":
            return f"at most {one.most} letters in a cell"
        case "cells":
            return f"more cells than the {one.most} columns; quote words that have commas in them"
        case "no_rows":
            return "there is no line with a client in it"
        case "not_text":
            return "this is no text; save it as CSV and send that"
    return _not_answered(one, value, m)


def _not_answered(one: RowFault, value: str, m: Measures) -> str:
    choices = _choices(one, m)
    match one.what:
        case "no_model":
            known = f"; yours are {choices}" if choices else ", and you have none yet; see /ways"
            return f"you have no model {value}{known}"
        case "no_phone":
            return f"nobody can ring {value}; write it with its country, like +44 …"
        case "no_place":
            return f"I know no town {value}; write a larger one nearby, or latitude and longitude"
        case "places":
            return f"{value} could be {choices}; write it so"
        case "degrees":
            return "latitude and longitude belong together, on land, like 53.80 and -1.55"
        case "days":
            return f"{value} could be {choices}; write the month in letters"
        case "several":
            return f"{value} could be: {choices}; say which"
    refused = reason_refused(one.refusal, m) if one.refusal is not None else f"not {value}"
    return refused[:1].lower() + refused[1:].rstrip(".")


def _choices(one: RowFault, m: Measures) -> str:
    if one.what == "days":
        shown = [m.dated(date.fromisoformat(day)) for day in one.choices[:CHOICES]]
    elif one.what == "several" and one.about is not None:
        shown = [answer_words(one.about, choice, m) for choice in one.choices[:CHOICES]]
    else:
        shown = [theirs(choice) for choice in one.choices[:CHOICES]]
    return " or ".join(shown)


def done(said: ImportDone, m: Measures) -> Parcel:
    """They are invited: what to pass on."""
    if not said.invited or said.expires_at is None:
        return parcel(
            "Nobody new is invited: all of this file are there already.",
            buttons=[[invitations()]],
        )
    until = m.dated(said.expires_at.astimezone(m.zone).date())
    return parcel(
        f"{counted(said.invited, 'client').capitalize()} invited, until {until}.",
        "The file has a line for each, with the words to pass on. It is shown this once; for a "
        "single one “Open invitations” makes a new code.",
        "Nothing is planned for anybody before they have come and answered for themselves.",
        buttons=[[invitations(), clients("All clients")]],
        attachments=sheet_file(
            said.file, "invitations.csv", "A file with an invitation in each line, to pass on."
        ),
    )


def exported(said: ExportShown, _: Measures) -> Parcel:
    """The list as a file."""
    if not said.file:
        return parcel(
            "No clients yet, so there is nothing to write down.", buttons=[[buttons.import_how()]]
        )
    invited = f", and {said.invited} invited who have not come yet" if said.invited else ""
    return parcel(
        f"{counted(said.clients, 'client').capitalize()}{invited}.",
        "The file has the columns that /import reads. Treat it as you would your address book.",
        buttons=[[clients("All clients")]],
        attachments=sheet_file(said.file, "clients.csv", "Your clients as a file.", said.ovens),
    )


# ---------------------------------------------------------------- what stands in the files


def empty_sheet(models: Sequence[str]) -> str:
    """The columns, and two lines as an example."""
    known = {MODEL: models[0]} if models else {"built": "Cast dome, dense", "size": "80 cm"}
    first = {NAME: "Example Alder", PHONE: "+44 7700 900123", TOWN: "Leeds"}
    first |= {"finished": "2 May 2026"} | known
    second = {
        NAME: "Example Birch",
        LATITUDE: "53.80",
        LONGITUDE: "-1.55",
        "built": "Brick dome in mortar",
        "size": "32 in",
        "stands": "Under a roof, sides open",
        "door": "Insulated door, a flue",
        "thermometer": "550 °C",
    }
    return written([first, second], COLUMNS)


def sheet_of_clients(rows: Iterable[Mapping[str, str]]) -> str:
    """All of them."""
    return written(rows)


def sheet_of_invitations(
    made: Iterable[tuple[str, str, str | None]], builder: str, until: date
) -> str:
    """A line for each: whom it is for, and the words to pass on. ``made`` are names, codes and
    links."""
    return written(
        (
            {
                "name": name,
                "link": link or "",
                "code": code,
                "good until": until.isoformat(),
                "message": f"{asks('oven', name, builder)} "
                + (f"Open {link} and tap Start." if link else f"Send me this code: {code}"),
            }
            for name, code, link in made
        ),
        PASSED_ON,
    )


def row_of_client(
    client: ClientLine | str,
    answers: Mapping[About, str],
    model: str,
    titles: Mapping[str, str],
    phone: str = "",
) -> dict[str, str]:
    """A client, or the name of who was invited, as a row; ``titles`` are of the builder's own
    constructions; ``phone`` is where who was invited can be rung."""
    row = {MODEL: model}
    if isinstance(client, str):
        row |= {NAME: client, PHONE: phone, "state": PHASE_NAMES["invited"]}
    else:
        row |= {NAME: client.oven, PHONE: client.phone, "owner": client.owner}
        row |= {"state": PHASE_NAMES.get(client.phase, "")}
        row |= {"next fire": client.next_day.isoformat() if client.next_day is not None else ""}
    for key, about in ANSWERS.items():
        if (value := answers.get(about)) is not None:
            row |= _cells(key, about, value, titles)
    return row


def _cells(key: str, about: About, value: str, titles: Mapping[str, str]) -> dict[str, str]:
    """Written so that it is read back as the same answer."""
    match about:
        case About.PLACE:
            place = place_of(value)
            degrees = {LATITUDE: f"{place.latitude:.4f}", LONGITUDE: f"{place.longitude:.4f}"}
            return {TOWN: place.name} | degrees
        case About.CONSTRUCTION:
            preset = shipped().presets.get(value)
            return {key: titles.get(value) or (preset.title if preset is not None else value)}
        case About.SIZE | About.THICKNESS if value != "unknown":
            return {key: f"{value} mm"}
        case About.INSTRUMENT if value not in ("unknown", "none"):
            return {key: f"{value} °C"}
        case _:
            return {key: value}


SENTENCES: Sentences = dict(
    (
        says(ImportHow, how),
        says(ImportShown, shown),
        says(ImportDone, done),
        says(ExportShown, exported),
    )
)
