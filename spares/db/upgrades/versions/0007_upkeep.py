"""What was found aboard and by whom, the baseline, joint sheets, drain points and their records."""

import sqlalchemy as sa
from alembic import op
from sqlmodel.sql.sqltypes import AutoString as Text

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

WORDS, LONG, WHOLE, FLAG = Text, sa.Text, sa.Integer, sa.Boolean
TABLES = {
    "finding": {"about": WORDS, "question": WORDS, "origin": WORDS, "answer": LONG, "by": WORDS,
                "on": WORDS, "note": LONG},
    "joint": {"no": WORDS, "name": WORDS, "point": WORDS, "service": WORDS, "pieces": LONG,
              "fasteners": WHOLE, "rows": WHOLE, "passes": WHOLE, "pattern": WORDS,
              "thread": WORDS, "strength": WORDS, "surface": WORDS, "torque": LONG, "page": WORDS,
              "note": LONG},
    "drain_point": {"no": WORDS, "name": WORDS, "machine": WORDS, "walk": WHOLE, "way": WORDS,
                    "plug": WORDS, "cock": WORDS, "note": LONG},
    "drain_record": {"point": WORDS, "turn": WORDS, "on": WORDS, "done": WORDS,
                     "seen_to_run": FLAG, "protects_to_c": WORDS, "cock": WORDS, "plug_in": FLAG,
                     "seal_renewed": FLAG, "no_leak": FLAG, "by": WORDS, "note": LONG},
}
INDEXED = (("finding", "about"), ("joint", "no"), ("joint", "point"),
           ("drain_point", "no"), ("drain_point", "machine"), ("drain_record", "point"))


def upgrade() -> None:
    op.add_column("vessel", sa.Column("baseline_on", Text(), nullable=True))
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
