"""Records, their states and their files."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make the tables of records."""
    op.create_table(
        "blob",
        sa.Column("sha256", sa.String(64), nullable=False),
        sa.Column("size", sa.Integer, nullable=False),
        sa.Column("data", sa.LargeBinary, nullable=False),
        sa.PrimaryKeyConstraint("sha256", name="pk_blob"),
    )
    op.create_table(
        "record",
        sa.Column("id", sa.String(40), nullable=False),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("head", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_record"),
    )
    op.create_table(
        "state",
        sa.Column("record", sa.String(40), nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("at", sa.String(40), nullable=False),
        sa.Column("by", sa.String(80), nullable=False),
        sa.Column("what", sa.String(16), nullable=False),
        sa.Column("words", sa.Text, nullable=False),
        sa.Column("token", sa.String(80)),
        sa.Column("title", sa.Text, nullable=False),
        sa.Column("client", sa.Text, nullable=False),
        sa.Column("stage", sa.String(24), nullable=False),
        sa.Column("due_on", sa.String(10), nullable=False),
        sa.PrimaryKeyConstraint("record", "number", name="pk_state"),
        sa.ForeignKeyConstraint(["record"], ["record.id"], name="fk_state_record"),
        sa.UniqueConstraint("token", name="uq_state_token"),
    )
    op.create_index("ix_state_stage", "state", ["stage"])
    op.create_table(
        "state_file",
        sa.Column("record", sa.String(40), nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("sha256", sa.String(64), nullable=False),
        sa.PrimaryKeyConstraint("record", "number", "name", name="pk_state_file"),
        sa.ForeignKeyConstraint(["record", "number"], ["state.record", "state.number"], name="fk_state_file_record_number"),
        sa.ForeignKeyConstraint(["sha256"], ["blob.sha256"], name="fk_state_file_sha256"),
    )


def downgrade() -> None:
    """Nothing is removed."""
    raise NotImplementedError("A store is never taken back to an older form: restore a backup.")
