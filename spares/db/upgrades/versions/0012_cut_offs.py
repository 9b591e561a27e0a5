"""A count no longer reads all that its cell ever saw: only what lies behind the cut-off."""

import sqlalchemy as sa
from alembic import op
from sqlmodel.sql.sqltypes import AutoString as Text

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("effect", sa.Column("seq", sa.BigInteger(), nullable=False,
                                      server_default=sa.text("0")))
    op.execute("UPDATE effect SET seq = COALESCE((SELECT log.seq FROM log "
               "WHERE log.vessel = effect.vessel AND log.id = effect.change_id), 0)")
    op.drop_index("ix_effect_cell", table_name="effect")
    op.create_index("ix_effect_cell", "effect",
                    ["vessel", "part", "locker", "lot", "is_count", "seq"], unique=False)
    # Empty at first: each cell gets its cut-off with the next count.
    op.create_table(
        "cut_off",
        sa.Column("vessel", Text(), nullable=False),
        sa.Column("part", Text(), nullable=False),
        sa.Column("locker", Text(), nullable=False),
        sa.Column("lot", Text(), nullable=False),
        sa.Column("seq", sa.BigInteger(), nullable=False),
        sa.Column("at", Text(), nullable=False),
        sa.Column("made", sa.JSON(), nullable=True),
        sa.PrimaryKeyConstraint("vessel", "part", "locker", "lot", name=op.f("pk_cut_off")))


def downgrade() -> None:
    """There is no way back: put the copy back that was made before."""
    raise RuntimeError("a store is not taken back a step; restore a backup")
