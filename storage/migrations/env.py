"""Run by alembic: the connection, and its transaction, are given by ``storage.migrating``."""

from alembic import context

from storage.tables import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    render_as_batch=True,
    transactional_ddl=True,
)
context.run_migrations()
