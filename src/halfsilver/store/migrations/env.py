"""How the migrations meet the database: on the connection that the caller hands over, within its transaction."""

from alembic import context

from halfsilver.store.tables import metadata

connection = context.config.attributes["connection"]
context.configure(connection=connection, target_metadata=metadata, render_as_batch=True)
context.run_migrations()
