"""A letter is tried until it arrives: how often nobody knew, and since when it has been tried."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"


def upgrade() -> None:
    """What was once repeated as a letter of its own is from now on one letter tried again."""
    with op.batch_alter_table("outbox") as outbox:
        outbox.add_column(
            sa.Column("doubts", sa.Integer(), server_default=sa.text("0"), nullable=False)
        )
        outbox.add_column(sa.Column("first_tried_at", sa.DateTime(timezone=True)))
    op.execute("update outbox set doubts = 1 where state = 'unknown' or repeat_of is not null")
    op.execute("update outbox set first_tried_at = tried_at")
    with op.batch_alter_table("outbox") as outbox:
        outbox.drop_column("repeat_of")
