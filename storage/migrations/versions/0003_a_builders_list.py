"""What a builder's list is made of, and what each of their people has in hand."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"

BY_WHAT_IS_KNOWN = """
    update ovens set
        find = lower(name || ' ' || place),
        rank = case
            when needs in ('unwell', 'popping', 'flue_flames', 'crack', 'lit_early', 'too_hot',
                           'silent') then 0
            when needs is not null then 100
            when state in ('lit', 'embers') then 200
            when state in ('firing_day', 'waiting', 'held') then 300
            when state = 'curing' then 400
            when state = 'done' then 600
            else 500
        end
"""


def upgrade() -> None:
    """Widen the cards; they are brought up to date as things happen to the ovens."""
    with op.batch_alter_table("ovens") as ovens:
        ovens.add_column(
            sa.Column("rank", sa.Integer(), server_default=sa.text("500"), nullable=False)
        )
        ovens.add_column(sa.Column("last_c", sa.Float()))
        ovens.add_column(sa.Column("last_at", sa.DateTime(timezone=True)))
        ovens.add_column(sa.Column("aim_c", sa.Float()))
        ovens.add_column(sa.Column("firing", sa.Integer()))
        ovens.add_column(sa.Column("next_day", sa.Date()))
        ovens.add_column(sa.Column("taken_by", sa.String(length=64)))
        ovens.add_column(sa.Column("taken_at", sa.DateTime(timezone=True)))
        ovens.add_column(sa.Column("find", sa.Text(), server_default=sa.text("''"), nullable=False))
        ovens.create_index("ix_ovens_roster", ["builder", "rank"], unique=False)
    op.execute(BY_WHAT_IS_KNOWN)
    op.create_table(
        "hands",
        sa.Column("person", sa.String(length=64), nullable=False),
        sa.Column("oven", sa.String(length=64), nullable=True),
        sa.Column("opened_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("talking", sa.Boolean(), nullable=False),
        sa.Column("order", sa.Text(), nullable=True),
        sa.Column("order_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("digest", sa.Date(), nullable=True),
        sa.ForeignKeyConstraint(
            ["person"], ["people.id"], name=op.f("fk_hands_person"), ondelete="CASCADE"
        ),
        sa.ForeignKeyConstraint(
            ["oven"], ["ovens.id"], name=op.f("fk_hands_oven"), ondelete="SET NULL"
        ),
        sa.PrimaryKeyConstraint("person", name=op.f("pk_hands")),
    )
    op.create_index(op.f("ix_hands_oven"), "hands", ["oven"], unique=False)
