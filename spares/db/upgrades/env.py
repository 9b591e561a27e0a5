"""Run upgrade steps on the engine that is handed in.

Rebuilding a table drops it, so foreign keys are off meanwhile; they are checked
before the commit and on again afterwards, whatever happened.
"""

from alembic import context
from sqlmodel import SQLModel

import spares.db.tables  # noqa: F401  (fills the metadata)
from spares.errors import UpgradeFailed


def include_object(_object: object, name: str | None, type_: str, reflected: bool,
                   _compare_to: object) -> bool:
    """Leave the search index alone: it belongs to the database."""
    return not (reflected and (type_ == "table" and (name or "").startswith("search_words")
                               or type_ == "index" and (name or "").endswith("_trigrams")))


def run() -> None:
    engine = context.config.attributes["engine"]
    sqlite = engine.dialect.name == "sqlite"
    with engine.execution_options(write=True).connect() as connection:
        raw = connection.connection.dbapi_connection
        if sqlite:
            raw.execute("PRAGMA foreign_keys=OFF")
        try:
            context.configure(connection=connection, target_metadata=SQLModel.metadata,
                              render_as_batch=sqlite, transactional_ddl=True,
                              transaction_per_migration=True, include_object=include_object)
            with context.begin_transaction():
                context.run_migrations()
            if sqlite and raw.execute("PRAGMA foreign_key_check").fetchall():
                raise UpgradeFailed("a row names another that is not there")
        finally:
            if sqlite:
                raw.execute("PRAGMA foreign_keys=ON")


run()
