"""Packs that were issued."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Make the tables of packs."""
    op.create_table(
        "pack",
        sa.Column("record", sa.String(40), nullable=False),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("at", sa.String(40), nullable=False),
        sa.Column("by", sa.String(80), nullable=False),
        sa.Column("date", sa.String(10), nullable=False),
        sa.PrimaryKeyConstraint("record", "revision", name="pk_pack"),
        sa.ForeignKeyConstraint(["record", "number"], ["state.record", "state.number"], name="fk_pack_record_number"),
    )
    op.create_table(
        "pack_file",
        sa.Column("record", sa.String(40), nullable=False),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("sha256", sa.String(64), nullable=False),
        sa.PrimaryKeyConstraint("record", "revision", "name", name="pk_pack_file"),
        sa.ForeignKeyConstraint(["record", "revision"], ["pack.record", "pack.revision"], name="fk_pack_file_record_revision"),
        sa.ForeignKeyConstraint(["sha256"], ["blob.sha256"], name="fk_pack_file_sha256"),
    )


def downgrade() -> None:
    """Nothing is removed."""
    raise NotImplementedError("A store is never taken back to an older form: restore a backup.")
