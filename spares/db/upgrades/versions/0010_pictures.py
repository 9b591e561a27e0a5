"""Plans of the decks, where lockers are on them, and fit points on photos."""

import sqlalchemy as sa
from alembic import op
from sqlmodel.sql.sqltypes import AutoString as Text

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None

WORDS, LONG, WHOLE, FLAG = Text, sa.Text, sa.Integer, sa.Boolean
TABLES = {
    "deck": {"no": WORDS, "name": WORDS, "position": WHOLE, "note": LONG},
    "deck_line": {"deck": WORDS, "corners": LONG, "closed": FLAG},
    "deck_place": {"locker": WORDS, "deck": WORDS, "x": WHOLE, "y": WHOLE},
    "photo_mark": {"photo": WORDS, "point": WORDS, "x": WHOLE, "y": WHOLE},
}
INDEXED = (("deck", "no"), ("deck_line", "deck"), ("deck_place", "locker"),
           ("photo_mark", "photo"), ("photo_mark", "point"))


def upgrade() -> None:
    for table, columns in TABLES.items():
        op.create_table(
            table,
            sa.Column("id", Text(), nullable=False),
            sa.Column("vessel", Text(), nullable=False),
            sa.Column("gone", sa.Boolean(), nullable=False),
            *(sa.Column(name, kind(), nullable=True) for name, kind in columns.items()),
            sa.PrimaryKeyConstraint("vessel", "id", name=op.f(f"pk_{table}")))
    for table, column in INDEXED:
        op.create_index(f"ix_{table}_{column}", table, [column], unique=False)


def downgrade() -> None:
    """There is no way back: put the copy back that was made before."""
    raise RuntimeError("a store is not taken back a step; restore a backup")
