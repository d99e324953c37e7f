"""``stokewatch check``: can it run here, and what has to be done about each fault."""

import asyncio
import sys

import typer

from bot import logs
from bot.checkup import Finding, findings
from bot.settings import Settings, SettingsError, read_settings


def check() -> None:
    """Look at settings, disk, database, migrations, backups, weather, token and clock.

    Exit code 0 when all is well, 1 when something has to be done.
    """
    try:
        settings = read_settings()
    except SettingsError as error:
        for sentence in error.sentences:
            _tell(Finding("settings", "cannot be used", sentence))
        raise typer.Exit(1) from None
    token = settings.token.get_secret_value() if settings.token else ""
    logs.set_up(settings.log_level, settings.log_json, [token])
    faults = asyncio.run(_look(settings))
    if settings.token is not None and sys.stdout.isatty():
        # Loaded only now: drawing and weather take a second to import.
        from bot.parts import first_words

        for sentence in first_words(settings):
            typer.echo(f"{'':<19}{sentence}")
    if faults:
        raise typer.Exit(1)


async def _look(settings: Settings) -> int:
    """Tell every finding; returns how many are faults."""
    faults = 0
    async for finding in findings(settings):
        _tell(finding)
        faults += finding.is_fault
    return faults


def _tell(finding: Finding) -> None:
    mark = "FAULT" if finding.is_fault else "ok"
    typer.echo(f"{mark:<6} {finding.about:<11} {finding.told}")
    if finding.to_do:
        typer.echo(f"{'':<19}{finding.to_do}")
