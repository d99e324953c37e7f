"""What a reply answers is found by its message; the last order for many is kept in hand."""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"


def upgrade() -> None:
    """Nothing that was kept before changes."""
    op.create_index("ix_outbox_person_ref", "outbox", ["person", "ref"])
    with op.batch_alter_table("hands") as hands:
        hands.add_column(sa.Column("many", sa.Text()))
