"""The last stamp of a phone is found without reading all that it ever wrote."""

from alembic import op

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.drop_index("ix_log_at", table_name="log")
    op.create_index("ix_log_dev_at", "log", ["vessel", "dev", "at"], unique=False)


def downgrade() -> None:
    """There is no way back: put the copy back that was made before."""
    raise RuntimeError("a store is not taken back a step; restore a backup")
