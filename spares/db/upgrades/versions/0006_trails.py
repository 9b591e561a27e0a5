"""Trails of broken pieces: what is missing, and the places downstream."""

import sqlalchemy as sa
from alembic import op
from sqlmodel.sql.sqltypes import AutoString as Text

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    _create("trail", [
        *(sa.Column(name, Text(), nullable=True) for name in ("no", "machine", "point", "what")),
        *(sa.Column(name, sa.Integer(), nullable=True) for name in ("of_pieces", "missing")),
        *(sa.Column(name, Text(), nullable=True) for name in ("began_on", "by")),
        *(sa.Column(name, sa.JSON(), nullable=True) for name in ("accepted", "first_run"))], ["no", "machine"])
    _create("trail_place", [
        *(sa.Column(name, Text(), nullable=True) for name in ("no", "trail")),
        sa.Column("position", sa.Integer(), nullable=True),
        *(sa.Column(name, Text(), nullable=True)
          for name in ("name", "opens", "seal", "point", "part")),
        sa.Column("look", sa.JSON(), nullable=True)], ["no", "trail"])


def downgrade() -> None:
    """There is no way back: put the copy back that was made before."""
    raise RuntimeError("a store is not taken back a step; restore a backup")


def _create(table: str, columns: list[sa.Column], indexed: list[str]) -> None:
    op.create_table(
        table,
        sa.Column("id", Text(), nullable=False),
        sa.Column("vessel", Text(), nullable=False),
        sa.Column("gone", sa.Boolean(), nullable=False),
        *columns,
        sa.Column("note", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("vessel", "id", name=op.f(f"pk_{table}")))
    for name in indexed:
        op.create_index(f"ix_{table}_{name}", table, [name], unique=False)
