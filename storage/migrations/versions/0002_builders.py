"""Builders and their ways, invitations, and who asked to be forgotten."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Make the tables; whoever was of a team before has founded one."""
    builders = op.create_table(
        "builders",
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("founder", sa.String(length=64), nullable=True),
        sa.Column("founded_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_builders")),
    )
    op.create_table(
        "ways",
        sa.Column("builder", sa.String(length=64), nullable=False),
        sa.Column("version", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("made_by", sa.String(length=64), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["builder"], ["builders.id"], name=op.f("fk_ways_builder"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("builder", "version", name=op.f("pk_ways")),
    )
    op.create_table(
        "invitations",
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("opens", sa.String(length=16), nullable=False),
        sa.Column("builder", sa.String(length=64), nullable=True),
        sa.Column("oven", sa.String(length=64), nullable=True),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("made_by", sa.String(length=64), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("expires_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("letter", sa.String(length=64), nullable=True),
        sa.Column("used_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("used_by", sa.String(length=64), nullable=True),
        sa.Column("revoked_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("revoked_by", sa.String(length=64), nullable=True),
        sa.ForeignKeyConstraint(
            ["builder"], ["builders.id"], name=op.f("fk_invitations_builder"), ondelete="CASCADE"
        ),
        sa.ForeignKeyConstraint(
            ["oven"], ["ovens.id"], name=op.f("fk_invitations_oven"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_invitations")),
        sa.UniqueConstraint("digest", name=op.f("uq_invitations_digest")),
    )
    op.create_index(op.f("ix_invitations_builder"), "invitations", ["builder"], unique=False)
    op.create_index(op.f("ix_invitations_oven"), "invitations", ["oven"], unique=False)
    op.create_index(
        "ix_invitations_with_letter",
        "invitations",
        ["letter"],
        unique=False,
        sqlite_where=sa.text("letter is not null"),
        postgresql_where=sa.text("letter is not null"),
    )
    op.create_table(
        "erasures",
        sa.Column("person", sa.String(length=64), nullable=False),
        sa.Column("asked_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("done_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("kept", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("person", name=op.f("pk_erasures")),
    )
    people = sa.table("people", sa.column("id"), sa.column("name"), sa.column("builder"))
    founders = (
        sa.select(people.c.builder, sa.func.min(people.c.id).label("founder"))
        .where(people.c.builder.is_not(None))
        .group_by(people.c.builder)
        .subquery()
    )
    op.execute(
        builders.insert().from_select(
            ["id", "name", "founder"],
            sa.select(founders.c.builder, people.c.name, founders.c.founder).join(
                people, people.c.id == founders.c.founder
            ),
        )
    )
