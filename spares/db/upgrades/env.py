"""Run upgrade steps on the engine that is handed in.

Rebuilding a table drops it, so foreign keys are off meanwhile; they are checked
before the commit and on again afterwards, whatever happened.

A log may hold what had no table yet: a newer office, or a phone with a newer app, brought it.
So the tables follow the log anew in the last step.
"""

from typing import Any

from alembic import context
from sqlalchemy import select
from sqlmodel import Session, SQLModel, col

from spares.db.rebuild import make_anew
from spares.db.tables import Logbook
from spares.db.upgrade import LATEST
from spares.errors import UpgradeFailed


def include_object(_object: object, name: str | None, type_: str, reflected: bool,
                   _compare_to: object) -> bool:
    """Leave the search index alone: it belongs to the database."""
    return not (reflected and (type_ == "table" and (name or "").startswith("search_words")
                               or type_ == "index" and (name or "").endswith("_trigrams")))


def follow_logs(*, ctx: Any, step: Any, **_: Any) -> None:
    """Make the tables of every vessel anew, in the transaction of the last step."""
    if step.up_revision_id != LATEST:
        return
    with Session(ctx.connection) as session:
        for vessel in session.execute(select(col(Logbook.vessel))).scalars().all():
            make_anew(session, vessel)
        session.commit()        # into that transaction, which goes on


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
                              transaction_per_migration=True, include_object=include_object,
                              on_version_apply=follow_logs)
            with context.begin_transaction():
                context.run_migrations()
            if sqlite and raw.execute("PRAGMA foreign_key_check").fetchall():
                raise UpgradeFailed("a row names another that is not there")
        finally:
            if sqlite:
                raw.execute("PRAGMA foreign_keys=ON")


run()
