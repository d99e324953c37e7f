"""``stokewatch plan``: the break-in of one oven, as a table, as JSON, as a picture."""

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated, NoReturn

import typer

from bot.commands.journalfile import JournalError, read_journal
from bot.commands.ovenfile import OvenFile, example, read_oven
from bot.commands.planjson import as_json
from bot.commands.planning import (
    Planned,
    limits_of,
    moment,
    not_taken,
    opened_on,
    plan_for,
    zone_of,
)
from bot.commands.plantable import table
from bot.wording.plans import limit_not_taken
from scheduling.breakin.limits import USUAL
from scheduling.oven.preset import DescriptionError

EXAMPLE_LIMITS = {
    "first_c": (USUAL.first_c, "°C, the hottest that a first fire may get"),
    "step_k": (USUAL.step_k, "°C above the hottest fire before"),
    "cap_c": (USUAL.cap_c, "°C, never above"),
    "session_h": (USUAL.session_h, "hours that somebody can tend a fire"),
    "cure_floor_d": (21, "days before the first fire, at least"),
}


def plan(
    oven: Annotated[
        Path | None, typer.Option(help="Oven file in TOML; --example prints one.")
    ] = None,
    journal: Annotated[
        Path | None, typer.Option(help="What happened so far: one JSON object a line.")
    ] = None,
    at: Annotated[
        str | None, typer.Option(help="Plan as of then: 2026-05-30T09:15; without it, now.")
    ] = None,
    as_data: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
    picture: Annotated[
        Path | None, typer.Option(help="Also draw the plan into this PNG file.")
    ] = None,
    show_example: Annotated[
        bool, typer.Option("--example", help="Print an oven file to start from.")
    ] = False,
) -> None:
    """Plan an oven's break-in fires from its make-up and what has happened to it so far."""
    if show_example:
        typer.echo(example(EXAMPLE_LIMITS), nl=False)
        return
    if oven is None:
        _refuse("Name an oven file with --oven; --example prints one to start from.")
    if picture is not None and picture.suffix.lower() != ".png":
        _refuse(f"The picture is a PNG file; name it like {picture.stem or 'plan'}.png.")
    try:
        told = read_oven(_text(oven, "oven file"))
        planned = _planned(told, journal, at, with_course=picture is not None)
    except (DescriptionError, JournalError) as error:
        _refuse(*error.sentences)
    taken = not_taken(told, planned.limits)
    shown = as_json(planned, [limit_not_taken(name, *values) for name, values in taken.items()])
    if picture is not None:
        _draw(planned, picture)
    typer.echo(
        json.dumps(shown, ensure_ascii=False, indent=2, allow_nan=False)
        if as_data
        else table(shown, planned.make_up.name),
        nl=as_data,
    )


def _planned(told: OvenFile, journal: Path | None, at: str | None, *, with_course: bool) -> Planned:
    limits_of(told)  # a wrong limit is told before any journal is read
    zone = zone_of(told.make_up)
    try:
        now = moment(at, zone, datetime.now(UTC))
    except ValueError as error:
        _refuse(f"--at: {error}.")
    facts = (
        ()
        if journal is None
        else read_journal(_text(journal, "journal"), opened_on(told.make_up, zone), now)
    )
    return plan_for(told, facts, now, zone, with_course=with_course)


def _draw(planned: Planned, picture: Path) -> None:
    # The drawing library takes a second to load, which a table need not wait for.
    from bot.pictures.breakin import draw_plan
    from bot.pictures.course import course_of

    course = None
    if planned.plan is not None:
        course = course_of(planned.plan, planned.make_up, planned.zone)
    if course is None:
        typer.echo("There is no fire to draw, so no picture was written.", err=True)
        return
    try:
        picture.write_bytes(draw_plan(course))
    except OSError as error:
        _refuse(f"Cannot write {picture}: {error.strerror or error}.")


def _text(path: Path, what: str) -> str:
    try:
        return path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        _refuse(f"The {what} {path} is not a text in UTF-8.")
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        _refuse(f"Cannot read the {what} {path}: {why}.")


def _refuse(*sentences: str) -> NoReturn:
    typer.echo("\n".join(sentences), err=True)
    raise typer.Exit(2)
