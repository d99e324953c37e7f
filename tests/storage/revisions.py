"""Our own revisions with one more behind them, as the next version would bring."""

import shutil
from importlib.resources import as_file, files
from pathlib import Path
from textwrap import dedent, indent

NEXT = "9001"

REBUILDS = """
with op.batch_alter_table("ovens", recreate="always") as batch:
    batch.add_column(sa.Column("colour", sa.Text(), nullable=False, server_default="plain"))
with op.batch_alter_table("outbox", recreate="always") as batch:
    batch.add_column(sa.Column("weight", sa.Integer(), nullable=True))
"""
"""Rebuilds two tables that others hang on."""

GROWS = REBUILDS.replace('"always"', '"auto"')
"""The same where tables need not be rebuilt."""

KILLS = (
    REBUILDS
    + """
import os, signal
os.kill(os.getpid(), signal.SIGKILL)
"""
)

ORPHANS = """
op.execute("delete from ovens where id = 'barrel'")
"""
"""Forgets what hangs on an oven."""


def our_revisions_and(upgrade: str, folder: Path) -> Path:
    """A folder of revisions that ends in one which does ``upgrade``."""
    scripts = folder / "migrations"
    with as_file(files("storage").joinpath("migrations")) as own:
        shutil.copytree(own, scripts, ignore=shutil.ignore_patterns("__pycache__"))
    last = max(path.name.partition("_")[0] for path in (scripts / "versions").glob("0*.py"))
    head = f"""
    import sqlalchemy as sa
    from alembic import op

    revision = "{NEXT}"
    down_revision = "{last}"


    def upgrade() -> None:
    """
    body = indent(upgrade.strip(), "    ")
    (scripts / "versions" / f"{NEXT}_next.py").write_text(dedent(head).strip() + f"\n{body}\n")
    return scripts
