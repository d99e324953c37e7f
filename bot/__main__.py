"""The ``stokewatch`` command: one subcommand a file in ``bot.commands``."""

import sys
from collections.abc import Sequence
from importlib import import_module

import typer

COMMANDS = (
    "run",
    "rehearse",
    "plan",
    "read",
    "record",
    "statistics",
    "replay",
    "check",
    "aside",
    "backup",
    "restore",
)
"""In the order in which help shows them; each is a function in the module of its name."""


def app_for(arguments: Sequence[str]) -> typer.Typer:
    """The command line. Where the first argument names a command only that one is loaded:
    drawing, the wall and Telegram take seconds to import, and most commands need but one."""
    app = typer.Typer(
        name="stokewatch",
        help="Coach a new masonry oven through its break-in fires.",
        no_args_is_help=True,
        add_completion=False,
        pretty_exceptions_enable=False,
    )
    app.callback()(_root)
    asked = [name for name in COMMANDS if [name] == list(arguments[:1])]
    for name in asked or COMMANDS:
        app.command(name)(getattr(import_module(f"bot.commands.{name}"), name))
    return app


def _root() -> None:
    """Keep subcommands even while there is only one."""


def main() -> None:
    """Entry point of the installed command."""
    app_for(sys.argv[1:])()


if __name__ == "__main__":
    main()
