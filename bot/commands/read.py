"""``stokewatch read``: what a message is understood as, as JSON.

One message as an argument, or ``-`` for a stream: one JSON object a line in, one a line out.
"""

import io
import json
import sys
from collections.abc import Iterable
from datetime import UTC, datetime, time
from typing import Annotated, Any, Literal

import typer
from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, ValidationError

from bot.understanding import understand
from bot.wording import doubts
from scheduling.remark import Expectation, Remark, Setting, Understood

Unit = Literal["C", "F"]

_ALWAYS_SHOWN: dict[str, tuple[str, ...]] = {
    "reading": ("top_c", "sides_c", "hearth_c", "approximate"),
    "lit": ("at",),
    "stoked": ("at", "pieces"),
    "fire_out": ("at",),
    "weather": ("what", "when"),
    "unavailable": ("from", "to"),
    "crack": ("size",),
    "question": ("topic",),
    "later": ("minutes",),
}
"""Fields of each kind that are printed even when nothing was said of them."""


class Line(BaseModel):
    """One message of the stream, with what surrounds it."""

    model_config = ConfigDict(extra="ignore")

    text: str
    unit: Unit = "C"
    at: AwareDatetime | None = None
    expect: Expectation = Expectation.NOTHING
    last_top_c: float | None = None
    judged: bool = False
    instrument_max_c: float | None = Field(default=None, gt=0)

    def setting(self) -> Setting:
        """The setting in which ``text`` is read; without ``at`` it is now."""
        return Setting(
            unit=self.unit,
            now=self.at or datetime.now().astimezone(),
            expect=self.expect,
            last_top_c=self.last_top_c,
            judged=self.judged,
            instrument_max_c=self.instrument_max_c,
        )


def read(
    text: Annotated[str, typer.Argument(help="The message, or - for JSON lines from stdin.")],
    unit: Annotated[str, typer.Option(help="The owner's unit: C or F.")] = "C",
    at: Annotated[
        str | None, typer.Option(help="When it was sent: 2026-05-13T10:00+01:00, or 10:00.")
    ] = None,
    expect: Annotated[
        str,
        typer.Option(help="What was asked last: " + ", ".join(e.value for e in Expectation) + "."),
    ] = "nothing",
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Show what a message from an oven's owner is understood as."""
    if text == "-":
        if isinstance(sys.stdin, io.TextIOWrapper):
            sys.stdin.reconfigure(encoding="utf-8", errors="replace")
        for answer in answers(sys.stdin):
            sys.stdout.write(answer + "\n")
            sys.stdout.flush()
        return
    try:
        line = line_of({"text": text, "unit": unit, "at": at, "expect": expect})
    except ValueError as error:
        raise typer.BadParameter(str(error)) from None
    shown = as_shown(understand(line.text, line.setting()), line.unit)
    typer.echo(json.dumps(shown, ensure_ascii=False) if as_json else _in_words(shown))


def answers(lines: Iterable[str]) -> Iterable[str]:
    """One JSON answer for each line; a line that can't be read is answered with its fault."""
    for raw in lines:
        if not raw.strip():
            continue
        try:
            given = json.loads(raw)
            if not isinstance(given, dict):
                raise ValueError("a line must be one JSON object with a text")
            line = line_of(given)
            shown = as_shown(understand(line.text, line.setting()), line.unit)
        except (ValueError, RecursionError) as error:
            yield json.dumps(
                {"error": f"Can't read this line: {error}", "meanings": [], "ask": None}
            )
            continue
        yield json.dumps(shown)


def line_of(given: dict[str, Any]) -> Line:
    """Check one line's fields.

    Raises:
        ValueError: naming each field that is missing or wrong.
    """
    known = {name: value for name, value in given.items() if value is not None}
    known["unit"] = str(known.get("unit", "C")).strip().lstrip("°").upper()[:1]
    known["expect"] = str(known.get("expect", "nothing")).replace("_", "-") or "nothing"
    if known["expect"] == "none":
        known["expect"] = "nothing"
    if "at" in known:
        known["at"] = _instant(str(known["at"]))
    try:
        return Line.model_validate(known)
    except ValidationError as error:
        faults = "; ".join(
            f"{'.'.join(map(str, fault['loc']))}: {fault['msg']}" for fault in error.errors()
        )
        raise ValueError(faults) from None


def _instant(written: str) -> datetime:
    """An ISO instant (without an offset: UTC), or a time of today."""
    try:
        instant = datetime.fromisoformat(written)
    except ValueError:
        try:
            clock = time.fromisoformat(written)
        except ValueError:
            raise ValueError(
                f"at: {written!r} is no time; write 2026-05-13T10:00+01:00 or 10:00"
            ) from None
        return datetime.combine(datetime.now().astimezone().date(), clock).astimezone()
    return instant if instant.tzinfo else instant.replace(tzinfo=UTC)


def as_shown(understood: Understood, unit: Unit) -> dict[str, Any]:
    """``understood`` as the command prints it."""
    shown: dict[str, Any] = {
        "meanings": [_meaning(remark) for remark in understood.meanings],
        "ask": None,
    }
    if understood.doubt is not None:
        shown["ask"] = doubts.ask(understood.doubt, unit)
        if understood.doubt.choices:
            shown["choices"] = [_meaning(choice) for choice in understood.doubt.choices]
    return shown


def _meaning(remark: Remark) -> dict[str, Any]:
    always = ("kind", *_ALWAYS_SHOWN.get(remark.kind, ()))
    fields = remark.model_dump(mode="json", by_alias=True, exclude={"unit_named", "taken_in"})
    return {name: value for name, value in fields.items() if value is not None or name in always}


def _in_words(shown: dict[str, Any]) -> str:
    rows = []
    for meaning in shown["meanings"]:
        said = ", ".join(
            f"{name} {value}"
            for name, value in meaning.items()
            if name != "kind" and value not in (None, [], False)
        )
        rows.append(f"{meaning['kind']}: {said}" if said else meaning["kind"])
    if shown["ask"]:
        rows.append(f"ask: {shown['ask']}")
    return "\n".join(rows)
