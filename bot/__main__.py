"""The ``stokewatch`` command: one subcommand a file in ``bot.commands``."""

import typer

from bot.commands.check import check
from bot.commands.plan import plan
from bot.commands.read import read

app = typer.Typer(
    name="stokewatch",
    help="Coach a new masonry oven through its break-in fires.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)


@app.callback()
def _root() -> None:
    """Keep subcommands even while there is only one."""


app.command("check")(check)
app.command("plan")(plan)
app.command("read")(read)


def main() -> None:
    """Entry point of the installed command."""
    app()


if __name__ == "__main__":
    main()
