"""What shall become of a part that is left over: keep, give or sell, and a note."""

import sqlalchemy as sa
from alembic import op
from sqlmodel.sql.sqltypes import AutoString as Text

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("part", sa.Column("left_over", Text(), nullable=True))
    op.add_column("part", sa.Column("left_over_note", sa.Text(), nullable=True))


def downgrade() -> None:
    """There is no way back: put the copy back that was made before."""
    raise RuntimeError("a store is not taken back a step; restore a backup")
