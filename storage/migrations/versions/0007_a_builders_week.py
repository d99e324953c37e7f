"""A builder's week and calendar, what they fill in of an oven, and what they were asked."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"


def upgrade() -> None:
    """Promised days say what for; they are filled in as the days are told anew."""
    with op.batch_alter_table("promises") as promises:
        promises.add_column(sa.Column("start", sa.DateTime(timezone=True)))
        promises.add_column(sa.Column("session_h", sa.Float()))
        promises.add_column(sa.Column("plateau_c", sa.Float()))
        promises.add_column(sa.Column("hold_h", sa.Float()))
        promises.add_column(
            sa.Column("warm_up", sa.Boolean(), server_default=sa.text("false"), nullable=False)
        )
    with op.batch_alter_table("invitations") as invitations:
        invitations.add_column(
            sa.Column("given", sa.Text(), server_default=sa.text("'[]'"), nullable=False)
        )
        invitations.add_column(
            sa.Column("model", sa.Text(), server_default=sa.text("''"), nullable=False)
        )
    with op.batch_alter_table("hands") as hands:
        hands.add_column(sa.Column("asking", sa.Text()))
    op.create_table(
        "calendars",
        sa.Column("person", sa.String(length=64), nullable=False),
        sa.Column("builder", sa.String(length=64), nullable=False),
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("letter", sa.String(length=64), nullable=True),
        sa.ForeignKeyConstraint(
            ["person"], ["people.id"], name=op.f("fk_calendars_person"), ondelete="CASCADE"
        ),
        sa.ForeignKeyConstraint(
            ["builder"], ["builders.id"], name=op.f("fk_calendars_builder"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("person", name=op.f("pk_calendars")),
        sa.UniqueConstraint("digest", name=op.f("uq_calendars_digest")),
    )
    op.create_index(op.f("ix_calendars_builder"), "calendars", ["builder"], unique=False)
