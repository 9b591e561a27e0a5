"""Gauges and what they showed, test runs, daily runs, what was tightened, counts in doubt, lessons."""

import sqlalchemy as sa
from alembic import op
from sqlmodel.sql.sqltypes import AutoString as Text

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None

WORDS, LONG, WHOLE, BIG = Text, sa.Text, sa.Integer, sa.BigInteger
TABLES = {
    "gauge": {"no": WORDS, "name": WORDS, "machine": WORDS, "unit": WORDS, "place": WORDS,
              "low": WORDS, "high": WORDS, "source": LONG, "by": WORDS, "on": WORDS,
              "cleaned_by": WORDS, "note": LONG},
    "gauge_reading": {"gauge": WORDS, "on": WORDS, "value": WORDS, "minutes": BIG, "rpm": WHOLE,
                      "load_percent": WHOLE, "service": WORDS, "minute": WHOLE, "by": WORDS,
                      "note": LONG},
    "test_run": {"machine": WORDS, "service": WORDS, "on": WORDS, "leaks": LONG,
                 "accepted_by": WORDS, "by": WORDS, "note": LONG},
    "daily_run": {"machine": WORDS, "on": WORDS, "trip": WORDS, "minutes": BIG, "litres": WORDS,
                  "charge_ah": WORDS, "amps": WORDS, "by": WORDS, "note": LONG},
    "joint_record": {"joint": WORDS, "on": WORDS, "torque_used": WORDS, "again_on": WORDS,
                     "again_at_minutes": BIG, "by": WORDS, "note": LONG},
    "count_doubt": {"part": WORDS, "locker": WORDS, "on": WORDS, "by": WORDS, "note": LONG},
    "lesson": {"service": WORDS, "learner": WORDS, "on": WORDS, "seen": LONG,
               "confirmed_by": WORDS, "note": LONG},
}
INDEXED = (("gauge", "no"), ("gauge", "machine"), ("gauge_reading", "gauge"),
           ("test_run", "machine"), ("daily_run", "machine"), ("joint_record", "joint"),
           ("count_doubt", "part"), ("lesson", "service"))


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
