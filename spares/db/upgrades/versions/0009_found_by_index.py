"""Found without reading all: what touches a cell, its counts, a part by its number."""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("effect", sa.Column("is_count", sa.Boolean(), nullable=False,
                                      server_default=sa.false()))
    op.execute("UPDATE effect SET is_count = true WHERE EXISTS (SELECT 1 FROM log "
               "WHERE log.vessel = effect.vessel AND log.id = effect.change_id "
               "AND log.kind = 'counted')")
    op.create_index("ix_effect_cell", "effect", ["vessel", "part", "locker", "lot", "is_count"],
                    unique=False)
    op.create_index("ix_part_no_upper", "part", ["vessel", sa.text("upper(no)")], unique=False)


def downgrade() -> None:
    """There is no way back: put the copy back that was made before."""
    raise RuntimeError("a store is not taken back a step; restore a backup")
