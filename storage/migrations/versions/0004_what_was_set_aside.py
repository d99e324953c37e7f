"""What was set aside is few rows among many, and is counted whenever somebody asks after health."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    """An index over those rows alone."""
    aside = sa.text("state = 'set_aside'")
    op.create_index(
        "ix_inbox_set_aside", "inbox", ["seq"], sqlite_where=aside, postgresql_where=aside
    )
