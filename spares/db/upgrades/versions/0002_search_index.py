"""Words of parts in SQLite's own index, three letters at a time."""

from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    if op.get_bind().dialect.name != "sqlite":
        return
    op.execute("CREATE VIRTUAL TABLE search_words USING fts5(body, tokenize='trigram')")
    op.execute("INSERT INTO search_words (rowid, body) SELECT id, body FROM search")


def downgrade() -> None:
    """There is no way back: put the copy back that was made before."""
    raise RuntimeError("a store is not taken back a step; restore a backup")
