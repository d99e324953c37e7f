"""``stokewatch replay``: walk through a conversation of JSON lines, as a bug report brings it."""

import asyncio
import io
import json
import sys
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Annotated, TextIO

import typer

from bot import logs
from bot.conversation.chat import Chat
from bot.conversation.replay import LineError, answers, read_line
from bot.wiring import Parts, open_chat
from storage.faults import StorageFault


def replay(
    file: Annotated[str, typer.Argument(help="JSON lines, or - for stdin.")],
    builder: Annotated[
        str | None, typer.Option(help='Who of those in "from" is the builder.')
    ] = None,
    database: Annotated[
        str | None, typer.Option(help="Database URL; without one nothing is kept.")
    ] = None,
    seed: Annotated[int, typer.Option(help="Where chance begins: same seed, same run.")] = 0,
    out: Annotated[Path | None, typer.Option(help="Folder for pictures and papers.")] = None,
) -> None:
    """Replay a conversation: JSON lines in, JSON lines out, on a clock of its own.

    In: {"at": "2026-05-13T09:00:00+01:00", "from": "ana", "text": "top 152"}, or "press",
    "location": \\[lat, lon], "photo": true instead of "text"; "at" alone lets time pass.
    """
    # Loaded only now: drawing and weather take a second to import.
    from bot.parts import shipped

    logs.set_up(level="ERROR")
    if file == "-":
        if isinstance(sys.stdin, io.TextIOWrapper):
            sys.stdin.reconfigure(encoding="utf-8", errors="replace")
        lines = _said(sys.stdin)
        asyncio.run(replay_lines(lines, _print, shipped(), builder, database, seed, out))
        return
    try:
        with Path(file).open(encoding="utf-8", errors="replace") as told:
            lines = _said(told)
            asyncio.run(replay_lines(lines, _print, shipped(), builder, database, seed, out))
    except OSError as error:
        typer.echo(f"Cannot read {file}: {error.strerror}. Give a file, or - for stdin.", err=True)
        raise typer.Exit(2) from None
    except StorageFault as fault:
        typer.echo(str(fault), err=True)
        raise typer.Exit(2) from None


async def replay_lines(
    lines: Iterable[str],
    write: Callable[[str], None],
    parts: Parts,
    builder: str | None = None,
    database: str | None = None,
    seed: int = 0,
    out: Path | None = None,
) -> None:
    """Answer ``lines`` one by one. The first line that can be read sets the clock.

    Raises StorageFault when the database cannot be opened.
    """
    chat: Chat | None = None
    try:
        for raw in lines:
            if not raw.strip():
                write(json.dumps({"ready": None}))
                continue
            if chat is None:
                try:
                    start = read_line(raw).at
                except LineError as error:
                    write(json.dumps({"error": str(error)}, ensure_ascii=False))
                    write(json.dumps({"ready": None}))
                    continue
                chat = await open_chat(
                    start, parts, builder=builder, database_url=database, seed=seed, out=out
                )
            async for answer in answers(chat, raw):
                write(answer)
    finally:
        if chat is not None:
            await chat.close()


def _said(lines: TextIO) -> Iterator[str]:
    """Lines as they come: read one by one, so that a pipe can answer."""
    yield from iter(lines.readline, "")


def _print(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()
