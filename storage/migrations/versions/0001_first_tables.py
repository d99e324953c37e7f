"""The first tables."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make everything."""
    op.create_table(
        "inbox",
        sa.Column("seq", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("channel", sa.String(length=32), nullable=False),
        sa.Column("key", sa.String(length=255), nullable=False),
        sa.Column("chat", sa.String(length=128), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("received_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("state", sa.String(length=16), nullable=False),
        sa.Column("attempts", sa.Integer(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("seq", name=op.f("pk_inbox")),
        sa.UniqueConstraint("channel", "key", name=op.f("uq_inbox_channel_key")),
    )
    op.create_index(
        "ix_inbox_waiting",
        "inbox",
        ["channel", "seq"],
        unique=False,
        sqlite_where=sa.text("state = 'waiting'"),
        postgresql_where=sa.text("state = 'waiting'"),
    )
    op.create_table(
        "ovens",
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("builder", sa.String(length=64), nullable=True),
        sa.Column("state", sa.String(length=32), nullable=False),
        sa.Column("needs", sa.Text(), nullable=True),
        sa.Column("needs_since", sa.DateTime(timezone=True), nullable=True),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("entries", sa.Integer(), server_default=sa.text("0"), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_ovens")),
    )
    op.create_index(op.f("ix_ovens_builder"), "ovens", ["builder"], unique=False)
    op.create_table(
        "pauses",
        sa.Column("who", sa.String(length=64), nullable=False),
        sa.Column("until", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("who", name=op.f("pk_pauses")),
    )
    op.create_table(
        "people",
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("channel", sa.String(length=32), nullable=False),
        sa.Column("address", sa.String(length=128), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("unit", sa.String(length=1), nullable=False),
        sa.Column("zone", sa.String(length=64), nullable=False),
        sa.Column("builder", sa.String(length=64), nullable=True),
        sa.Column("blocked", sa.Boolean(), nullable=False),
        sa.Column("quiet_from", sa.Float(), nullable=True),
        sa.Column("quiet_until", sa.Float(), nullable=True),
        sa.Column("group", sa.Boolean(), server_default=sa.text("false"), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_people")),
        sa.UniqueConstraint("channel", "address", name=op.f("uq_people_channel_address")),
    )
    op.create_index(op.f("ix_people_builder"), "people", ["builder"], unique=False)
    op.create_table(
        "alarms",
        sa.Column("oven", sa.String(length=64), nullable=False),
        sa.Column("name", sa.String(length=32), nullable=False),
        sa.Column("due", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(
            ["oven"], ["ovens.id"], name=op.f("fk_alarms_oven"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("oven", "name", name=op.f("pk_alarms")),
    )
    op.create_index(
        op.f("ix_alarms_due_oven_name"), "alarms", ["due", "oven", "name"], unique=False
    )
    op.create_table(
        "beliefs",
        sa.Column("oven", sa.String(length=64), nullable=False),
        sa.Column("seq", sa.Integer(), nullable=False),
        sa.Column("packed", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(
            ["oven"], ["ovens.id"], name=op.f("fk_beliefs_oven"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("oven", name=op.f("pk_beliefs")),
    )
    op.create_table(
        "journal",
        sa.Column("oven", sa.String(length=64), nullable=False),
        sa.Column("seq", sa.Integer(), nullable=False),
        sa.Column("entry", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["oven"], ["ovens.id"], name=op.f("fk_journal_oven")),
        sa.PrimaryKeyConstraint("oven", "seq", name=op.f("pk_journal")),
    )
    op.create_table(
        "outbox",
        sa.Column("seq", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("person", sa.String(length=64), nullable=False),
        sa.Column("oven", sa.String(length=64), nullable=True),
        sa.Column("parcel", sa.Text(), nullable=False),
        sa.Column("urgency", sa.String(length=16), nullable=False),
        sa.Column("rank", sa.Integer(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("not_before", sa.DateTime(timezone=True), nullable=False),
        sa.Column("expires", sa.DateTime(timezone=True), nullable=True),
        sa.Column("replaces", sa.Text(), nullable=True),
        sa.Column("slot", sa.Text(), nullable=True),
        sa.Column("state", sa.String(length=16), nullable=False),
        sa.Column("attempts", sa.Integer(), nullable=False),
        sa.Column("repeat_of", sa.String(length=64), nullable=True),
        sa.Column("sent_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("ref", sa.Text(), nullable=True),
        sa.Column("why", sa.Text(), nullable=False),
        sa.Column("button_keys", sa.Text(), nullable=False),
        sa.Column("lease_until", sa.DateTime(timezone=True), nullable=True),
        sa.Column("tried_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(["person"], ["people.id"], name=op.f("fk_outbox_person")),
        sa.PrimaryKeyConstraint("seq", name=op.f("pk_outbox")),
        sa.UniqueConstraint("id", name=op.f("uq_outbox_id")),
    )
    op.create_index(
        "ix_outbox_open",
        "outbox",
        ["person", "rank", "created_at"],
        unique=False,
        sqlite_where=sa.text("state in ('todo', 'sending')"),
        postgresql_where=sa.text("state in ('todo', 'sending')"),
    )
    op.create_index("ix_outbox_person_sent", "outbox", ["person", "sent_at"], unique=False)
    op.create_index("ix_outbox_thread", "outbox", ["person", "replaces"], unique=False)
    op.create_index(op.f("ix_outbox_tried_at"), "outbox", ["tried_at"], unique=False)
    op.create_table(
        "promises",
        sa.Column("oven", sa.String(length=64), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("firing", sa.Integer(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("told_at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(
            ["oven"], ["ovens.id"], name=op.f("fk_promises_oven"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("oven", "position", name=op.f("pk_promises")),
    )
    op.create_table(
        "tenders",
        sa.Column("oven", sa.String(length=64), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("person", sa.String(length=64), nullable=False),
        sa.ForeignKeyConstraint(
            ["oven"], ["ovens.id"], name=op.f("fk_tenders_oven"), ondelete="CASCADE"
        ),
        sa.ForeignKeyConstraint(["person"], ["people.id"], name=op.f("fk_tenders_person")),
        sa.PrimaryKeyConstraint("oven", "position", name=op.f("pk_tenders")),
    )
    op.create_index(op.f("ix_tenders_person"), "tenders", ["person"], unique=False)
    op.create_table(
        "buttons",
        sa.Column("key", sa.String(length=64), nullable=False),
        sa.Column("letter", sa.String(length=64), nullable=False),
        sa.Column("label", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["letter"], ["outbox.id"], name=op.f("fk_buttons_letter"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("key", name=op.f("pk_buttons")),
    )
    op.create_index(op.f("ix_buttons_letter"), "buttons", ["letter"], unique=False)
