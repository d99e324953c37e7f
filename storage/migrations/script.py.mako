"""${message}"""

import sqlalchemy as sa
from alembic import op

revision = ${repr(up_revision)}
down_revision = ${repr(down_revision)}


def upgrade() -> None:
    """Forward; there is no way back but a backup."""
    ${upgrades if upgrades else "raise NotImplementedError"}
