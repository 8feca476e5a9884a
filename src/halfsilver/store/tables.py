"""The tables, described once; migrations build them and a test holds both together."""

from __future__ import annotations

from sqlalchemy import Column, ForeignKey, ForeignKeyConstraint, Index, Integer, LargeBinary, MetaData, String, Table, Text

# Every constraint has a name, so that a later migration can take hold of it on every engine.
NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}
metadata = MetaData(naming_convention=NAMES)

blob = Table(
    "blob",
    metadata,
    Column("sha256", String(64), primary_key=True),
    Column("size", Integer, nullable=False),
    Column("data", LargeBinary, nullable=False),
)

record = Table(
    "record",
    metadata,
    Column("id", String(40), primary_key=True),
    Column("kind", String(16), nullable=False),
    Column("head", Integer, nullable=False),
)

state = Table(
    "state",
    metadata,
    Column("record", String(40), ForeignKey("record.id"), primary_key=True),
    Column("number", Integer, primary_key=True),
    Column("at", String(40), nullable=False),
    Column("by", String(80), nullable=False),
    Column("what", String(16), nullable=False),
    Column("words", Text, nullable=False),
    Column("token", String(80), unique=True),
    Column("title", Text, nullable=False),
    Column("client", Text, nullable=False),
    Column("stage", String(24), nullable=False),
    Column("due_on", String(10), nullable=False),
    Index("ix_state_stage", "stage"),
)

state_file = Table(
    "state_file",
    metadata,
    Column("record", String(40), primary_key=True),
    Column("number", Integer, primary_key=True),
    Column("name", String(200), primary_key=True),
    Column("sha256", String(64), ForeignKey("blob.sha256"), nullable=False),
    ForeignKeyConstraint(["record", "number"], ["state.record", "state.number"]),
)

pack = Table(
    "pack",
    metadata,
    Column("record", String(40), primary_key=True),
    Column("revision", Integer, primary_key=True),
    Column("number", Integer, nullable=False),
    Column("at", String(40), nullable=False),
    Column("by", String(80), nullable=False),
    Column("date", String(10), nullable=False),
    ForeignKeyConstraint(["record", "number"], ["state.record", "state.number"]),
)

pack_file = Table(
    "pack_file",
    metadata,
    Column("record", String(40), primary_key=True),
    Column("revision", Integer, primary_key=True),
    Column("name", String(200), primary_key=True),
    Column("sha256", String(64), ForeignKey("blob.sha256"), nullable=False),
    ForeignKeyConstraint(["record", "revision"], ["pack.record", "pack.revision"]),
)
