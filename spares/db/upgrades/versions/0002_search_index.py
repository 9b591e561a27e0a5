"""Words of parts in an index of three letters at a time: the one that the database has."""

from alembic import op
from sqlalchemy.exc import DBAPIError

from spares.errors import UpgradeFailed

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    if op.get_bind().dialect.name == "postgresql":
        index_by_trigrams()
        return
    op.execute("CREATE VIRTUAL TABLE search_words USING fts5(body, tokenize='trigram')")
    op.execute("INSERT INTO search_words (rowid, body) SELECT id, body FROM search")


def index_by_trigrams() -> None:
    try:
        op.execute("CREATE EXTENSION IF NOT EXISTS pg_trgm")
    except DBAPIError as err:
        raise UpgradeFailed(
            "the search needs PostgreSQL's extension pg_trgm (part of its contrib package), and "
            f"it cannot be made here: let somebody who may run CREATE EXTENSION pg_trgm; ({err.orig})"
        ) from err
    op.execute("CREATE INDEX ix_search_body_trigrams ON search USING gin (body gin_trgm_ops)")
    op.execute("CREATE INDEX ix_search_numbers_trigrams ON search USING gin (numbers gin_trgm_ops)")


def downgrade() -> None:
    """There is no way back: put the copy back that was made before."""
    raise RuntimeError("a store is not taken back a step; restore a backup")
