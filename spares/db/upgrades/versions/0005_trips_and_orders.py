"""What a trip is planned from, why parts came out, failures by point, orders."""

import sqlalchemy as sa
from alembic import op
from sqlmodel.sql.sqltypes import AutoString as Text

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

LISTS = ("legs", "at_anchor", "energy", "water", "fuel", "stops", "prices")
DAYS = ("wanted_on", "ordered_on", "promised_on", "arrived_on", "stowed_on", "cancelled_on")


def upgrade() -> None:
    for name in LISTS:
        op.add_column("trip", sa.Column(name, sa.JSON(), nullable=True))
    op.add_column("trip", sa.Column("crew", sa.Integer(), nullable=True))
    op.add_column("trip", sa.Column("count_failures", sa.Boolean(), nullable=True))
    op.add_column("machine", sa.Column("burns", sa.JSON(), nullable=True))
    op.add_column("failure", sa.Column("point", Text(), nullable=True))
    op.add_column("failure", sa.Column("origin", sa.JSON(), nullable=True))
    op.add_column("failure", sa.Column("renewed_by", Text(), nullable=True))
    op.add_column("fitting", sa.Column("why", Text(), nullable=False, server_default=""))
    op.add_column("service_record", sa.Column("failed", sa.JSON(), nullable=True,
                                              server_default="[]"))
    _create_order_line()


def downgrade() -> None:
    """There is no way back: put the copy back that was made before."""
    raise RuntimeError("a store is not taken back a step; restore a backup")


def _create_order_line() -> None:
    op.create_table(
        "order_line",
        sa.Column("id", Text(), nullable=False),
        sa.Column("vessel", Text(), nullable=False),
        sa.Column("gone", sa.Boolean(), nullable=False),
        *(sa.Column(name, Text(), nullable=True) for name in ("no", "part", "trip")),
        sa.Column("q", sa.BigInteger(), nullable=True),
        sa.Column("seller", Text(), nullable=True),
        sa.Column("price", sa.JSON(), nullable=True),
        *(sa.Column(name, Text(), nullable=True) for name in (*DAYS, "locker")),
        sa.Column("note", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("vessel", "id", name=op.f("pk_order_line")))
    for name in ("no", "part"):
        op.create_index(f"ix_order_line_{name}", "order_line", [name], unique=False)
