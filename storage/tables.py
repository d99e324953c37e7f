"""The tables. Text is UTF-8; instants are UTC; what has a shape of its own is JSON text."""

from datetime import UTC, datetime

from sqlalchemy import (
    Boolean,
    Column,
    Date,
    DateTime,
    Dialect,
    Float,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    TypeDecorator,
    UniqueConstraint,
    text,
)


class Instant(TypeDecorator[datetime]):
    """An aware datetime, kept in UTC. SQLite has no zones, so there it is kept without one."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Raises ValueError for a naive datetime: nobody could say which instant is meant."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"an instant needs its zone: {value}")
        utc = value.astimezone(UTC)
        return utc.replace(tzinfo=None) if dialect.name == "sqlite" else utc

    def process_result_value(
        self,
        value: datetime | None,
        dialect: Dialect,  # noqa: ARG002 - the same on both
    ) -> datetime | None:
        """In UTC, whatever zone the server speaks."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


metadata = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "pk": "pk_%(table_name)s",
    }
)

people = Table(
    "people",
    metadata,
    Column("id", String(64), primary_key=True),
    Column("channel", String(32), nullable=False),
    Column("address", String(128), nullable=False),
    Column("name", Text, nullable=False),
    Column("unit", String(1), nullable=False),
    Column("zone", String(64), nullable=False),
    Column("builder", String(64), index=True),
    Column("blocked", Boolean, nullable=False),
    Column("quiet_from", Float),
    Column("quiet_until", Float),
    Column("group", Boolean, nullable=False, server_default=text("false")),
    Column("phone", Text, nullable=False, server_default=text("''")),
    UniqueConstraint("channel", "address"),
)

ovens = Table(
    "ovens",
    metadata,
    Column("id", String(64), primary_key=True),
    Column("name", Text, nullable=False),
    Column("builder", String(64), index=True),
    Column("state", String(32), nullable=False),
    Column("needs", Text),
    Column("needs_since", Instant),
    Column("place", Text, nullable=False),
    Column("entries", Integer, nullable=False, server_default=text("0")),
    Column("rank", Integer, nullable=False, server_default=text("500")),
    Column("last_c", Float),
    Column("last_at", Instant),
    Column("aim_c", Float),
    Column("firing", Integer),
    Column("next_day", Date),
    Column("taken_by", String(64)),
    Column("taken_at", Instant),
    Column("open_needs", Text, nullable=False, server_default=text("''")),
    Column("last_doubted", Boolean, nullable=False, server_default=text("false")),
    Column("find_place", Text, nullable=False, server_default=text("''")),
    Column("find", Text, nullable=False, server_default=text("''")),
    Index("ix_ovens_roster", "builder", "rank"),
)
"""``entries`` is the last number in the journal: what an append is checked against. ``find`` are
the names that an oven is searched by, ``find_place`` the place alone."""

tenders = Table(
    "tenders",
    metadata,
    Column("oven", ForeignKey("ovens.id", ondelete="CASCADE"), primary_key=True),
    Column("position", Integer, primary_key=True),
    Column("person", ForeignKey("people.id"), nullable=False, index=True),
)

journal = Table(
    "journal",
    metadata,
    Column("oven", ForeignKey("ovens.id"), primary_key=True),
    Column("seq", Integer, primary_key=True),
    Column("entry", Text, nullable=False),
)

beliefs = Table(
    "beliefs",
    metadata,
    Column("oven", ForeignKey("ovens.id", ondelete="CASCADE"), primary_key=True),
    Column("seq", Integer, nullable=False),
    Column("packed", LargeBinary, nullable=False),
)

promises = Table(
    "promises",
    metadata,
    Column("oven", ForeignKey("ovens.id", ondelete="CASCADE"), primary_key=True),
    Column("position", Integer, primary_key=True),
    Column("firing", Integer, nullable=False),
    Column("day", Date, nullable=False),
    Column("told_at", Instant, nullable=False),
    Column("start", Instant),
    Column("session_h", Float),
    Column("plateau_c", Float),
    Column("hold_h", Float),
    Column("warm_up", Boolean, nullable=False, server_default=text("false")),
)

alarms = Table(
    "alarms",
    metadata,
    Column("oven", ForeignKey("ovens.id", ondelete="CASCADE"), primary_key=True),
    Column("name", String(32), primary_key=True),
    Column("due", Instant, nullable=False),
    Index(None, "due", "oven", "name"),
)

inbox = Table(
    "inbox",
    metadata,
    Column("seq", Integer, primary_key=True, autoincrement=True),
    Column("channel", String(32), nullable=False),
    Column("key", String(255), nullable=False),
    Column("chat", String(128), nullable=False),
    Column("body", Text, nullable=False),
    Column("received_at", Instant, nullable=False),
    Column("state", String(16), nullable=False),
    Column("attempts", Integer, nullable=False),
    Column("why", Text, nullable=False),
    UniqueConstraint("channel", "key"),
    Index(
        "ix_inbox_waiting",
        "channel",
        "seq",
        sqlite_where=text("state = 'waiting'"),
        postgresql_where=text("state = 'waiting'"),
    ),
    Index(
        "ix_inbox_set_aside",
        "seq",
        sqlite_where=text("state = 'set_aside'"),
        postgresql_where=text("state = 'set_aside'"),
    ),
)

outbox = Table(
    "outbox",
    metadata,
    Column("seq", Integer, primary_key=True, autoincrement=True),
    Column("id", String(64), nullable=False, unique=True),
    Column("person", ForeignKey("people.id"), nullable=False),
    Column("oven", String(64)),
    Column("parcel", Text, nullable=False),
    Column("urgency", String(16), nullable=False),
    Column("rank", Integer, nullable=False),
    Column("created_at", Instant, nullable=False),
    Column("not_before", Instant, nullable=False),
    Column("expires", Instant),
    Column("replaces", Text),
    Column("slot", Text),
    Column("state", String(16), nullable=False),
    Column("attempts", Integer, nullable=False),
    Column("doubts", Integer, nullable=False, server_default=text("0")),
    Column("first_tried_at", Instant),
    Column("sent_at", Instant),
    Column("ref", Text),
    Column("why", Text, nullable=False),
    Column("button_keys", Text, nullable=False),
    Column("lease_until", Instant),
    Column("tried_at", Instant, index=True),
    # What is on its way is little; what was once sent grows for ever and is not searched here.
    Index(
        "ix_outbox_open",
        "person",
        "rank",
        "created_at",
        sqlite_where=text("state in ('todo', 'sending')"),
        postgresql_where=text("state in ('todo', 'sending')"),
    ),
    Index("ix_outbox_person_sent", "person", "sent_at"),
    Index("ix_outbox_person_ref", "person", "ref"),
    Index("ix_outbox_thread", "person", "replaces"),
)
"""``rank`` orders urgencies; ``lease_until`` is set while sending; ``tried_at`` is for pacing."""

buttons = Table(
    "buttons",
    metadata,
    Column("key", String(64), primary_key=True),
    Column("letter", ForeignKey("outbox.id", ondelete="CASCADE"), nullable=False, index=True),
    Column("label", Text, nullable=False),
)

pauses = Table(
    "pauses",
    metadata,
    Column("who", String(64), primary_key=True),
    Column("until", Instant, nullable=False),
)

builders = Table(
    "builders",
    metadata,
    Column("id", String(64), primary_key=True),
    Column("name", Text, nullable=False),
    Column("founder", String(64)),
    Column("founded_at", Instant),
)
"""A builder's team; its members are the people whose ``builder`` it is."""

team_log = Table(
    "team_log",
    metadata,
    Column("seq", Integer, primary_key=True, autoincrement=True),
    Column("builder", ForeignKey("builders.id", ondelete="CASCADE"), nullable=False, index=True),
    Column("at", Instant, nullable=False),
    Column("what", String(16), nullable=False),
    Column("person", String(64), nullable=False),
    Column("by", String(64), nullable=False),
)
"""Who came to a team and who let them in. No key to ``people``: a row outlives them."""

ways = Table(
    "ways",
    metadata,
    Column("builder", ForeignKey("builders.id", ondelete="CASCADE"), primary_key=True),
    Column("version", Integer, primary_key=True, autoincrement=False),
    Column("made_at", Instant, nullable=False),
    Column("made_by", String(64), nullable=False),
    Column("body", Text, nullable=False),
)

invitations = Table(
    "invitations",
    metadata,
    Column("id", String(64), primary_key=True),
    Column("digest", String(64), nullable=False, unique=True),
    Column("opens", String(16), nullable=False),
    Column("builder", ForeignKey("builders.id", ondelete="CASCADE"), index=True),
    Column("oven", ForeignKey("ovens.id", ondelete="CASCADE"), index=True),
    Column("name", Text, nullable=False),
    Column("phone", Text, nullable=False, server_default=text("''")),
    Column("made_by", String(64), nullable=False),
    Column("made_at", Instant, nullable=False),
    Column("expires_at", Instant, nullable=False),
    Column("given", Text, nullable=False, server_default=text("'[]'")),
    Column("model", Text, nullable=False, server_default=text("''")),
    Column("letter", String(64)),
    Column("used_at", Instant),
    Column("used_by", String(64)),
    Column("revoked_at", Instant),
    Column("revoked_by", String(64)),
    Index(
        "ix_invitations_with_letter",
        "letter",
        sqlite_where=text("letter is not null"),
        postgresql_where=text("letter is not null"),
    ),
)
"""``digest`` stands for the code, which is kept nowhere; ``letter`` still shows it. ``given`` is
what is filled in of the oven, as pairs."""

calendars = Table(
    "calendars",
    metadata,
    Column("person", ForeignKey("people.id", ondelete="CASCADE"), primary_key=True),
    Column("builder", ForeignKey("builders.id", ondelete="CASCADE"), nullable=False, index=True),
    Column("digest", String(64), nullable=False, unique=True),
    Column("made_at", Instant, nullable=False),
    Column("letter", String(64)),
)
"""Addresses of calendars; the same of ``digest`` and ``letter``."""

erasures = Table(
    "erasures",
    metadata,
    Column("person", String(64), primary_key=True),
    Column("asked_at", Instant, nullable=False),
    Column("done_at", Instant),
    Column("kept", Text, nullable=False),
)
"""Who asked to be forgotten. No key to ``people``: the row outlives the person's."""

hands = Table(
    "hands",
    metadata,
    Column("person", ForeignKey("people.id", ondelete="CASCADE"), primary_key=True),
    Column("oven", ForeignKey("ovens.id", ondelete="SET NULL"), index=True),
    Column("opened_at", Instant),
    Column("talking", Boolean, nullable=False),
    Column("order", Text),
    Column("order_at", Instant),
    Column("many", Text),
    Column("digest", Date),
    Column("asking", Text),
)
