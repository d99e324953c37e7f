"""Where people can be rung, all that stands open at an oven, and who let whom into a team."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"

WORDS = (
    ("people", "phone"),
    ("invitations", "phone"),
    ("ovens", "open_needs"),
    ("ovens", "find_place"),
)


def upgrade() -> None:
    """Cards are brought up to date as things happen to the ovens; until then the most pressing
    need of each is all that is known to stand open."""
    for table, column in WORDS:
        with op.batch_alter_table(table) as batch:
            batch.add_column(
                sa.Column(column, sa.Text(), server_default=sa.text("''"), nullable=False)
            )
    with op.batch_alter_table("ovens") as ovens:
        ovens.add_column(
            sa.Column("last_doubted", sa.Boolean(), server_default=sa.text("false"), nullable=False)
        )
    op.execute("update ovens set open_needs = ' ' || needs || ' ' where needs is not null")
    op.execute("update ovens set find_place = lower(place)")
    op.create_table(
        "team_log",
        sa.Column("seq", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("builder", sa.String(length=64), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("what", sa.String(length=16), nullable=False),
        sa.Column("person", sa.String(length=64), nullable=False),
        sa.Column("by", sa.String(length=64), nullable=False),
        sa.ForeignKeyConstraint(
            ["builder"], ["builders.id"], name=op.f("fk_team_log_builder"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("seq", name=op.f("pk_team_log")),
    )
    op.create_index(op.f("ix_team_log_builder"), "team_log", ["builder"], unique=False)
