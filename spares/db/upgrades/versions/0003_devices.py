"""Devices that come and go: their numbers, rights and tokens; what is held, refused, lost."""

import sqlalchemy as sa
from alembic import op
from sqlmodel.sql.sqltypes import AutoString as Text

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("logbook", sa.Column("own_dev", Text(), nullable=False,
                                       server_default="server00"))
    for name in ("revoked_ms", "until_ms", "last"):
        op.add_column("device", sa.Column(name, sa.BigInteger(), nullable=False,
                                          server_default="0"))
    op.add_column("device", sa.Column("desk", Text(), nullable=False, server_default=""))
    op.add_column("device", sa.Column("turned_away", sa.Integer(), nullable=False,
                                      server_default="0"))
    for name in ("grants", "was", "roles_before"):
        op.add_column("device", sa.Column(name, sa.JSON(), nullable=True, server_default="[]"))
    op.create_index("ix_device_token_hash", "device", ["token_hash"], unique=False)
    op.drop_table("held")           # nothing was ever written to these two
    op.drop_table("refused")
    _create_held()
    _create_used_number()
    _create_lost_range()
    _create_label_code()


def downgrade() -> None:
    """There is no way back: put the copy back that was made before."""
    raise RuntimeError("a store is not taken back a step; restore a backup")


def _vessel(table: str) -> list:
    return [sa.Column("vessel", Text(), nullable=False),
            sa.ForeignKeyConstraint(["vessel"], ["logbook.vessel"],
                                    name=op.f(f"fk_{table}_vessel_logbook"))]


def _create_held() -> None:
    op.create_table(
        "held", *_vessel("held"),
        sa.Column("id", Text(), nullable=False),
        sa.Column("dev", Text(), nullable=False),
        sa.Column("at", Text(), nullable=False),
        sa.Column("g", sa.Integer(), nullable=False),
        sa.Column("raw", sa.Text(), nullable=False),
        sa.Column("why", Text(), nullable=False),
        sa.PrimaryKeyConstraint("vessel", "id", name=op.f("pk_held")))
    op.create_index("ix_held_dev", "held", ["dev"], unique=False)


def _create_used_number() -> None:
    op.create_table(
        "used_number", *_vessel("used_number"),
        sa.Column("dev", Text(), nullable=False),
        sa.Column("n", sa.BigInteger(), nullable=False),
        sa.Column("id", Text(), nullable=False),
        sa.Column("outcome", Text(), nullable=False),
        sa.Column("kind", Text(), nullable=False),
        sa.Column("sha", Text(), nullable=False),
        sa.Column("at", Text(), nullable=False),
        sa.Column("g", sa.Integer(), nullable=False),
        sa.Column("code", Text(), nullable=False),
        sa.Column("say", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("vessel", "dev", "n", name=op.f("pk_used_number")))
    op.create_index("ix_used_number_id", "used_number", ["id"], unique=False)


def _create_lost_range() -> None:
    op.create_table(
        "lost_range", *_vessel("lost_range"),
        sa.Column("dev", Text(), nullable=False),
        sa.Column("first", sa.BigInteger(), nullable=False),
        sa.Column("last", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("vessel", "dev", "first", name=op.f("pk_lost_range")))


def _create_label_code() -> None:
    op.create_table(
        "label_code", *_vessel("label_code"),
        sa.Column("code", Text(), nullable=False),
        sa.Column("dev", Text(), nullable=False),
        sa.PrimaryKeyConstraint("vessel", "code", name=op.f("pk_label_code")))
