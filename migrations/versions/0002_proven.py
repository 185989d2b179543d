"""A shop's own proven speeds; the facing head's limit of tangential speed.

Revision: 0002, after 0001.
"""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

SORTED = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")

# What was proven stays on record: a wrong entry is marked as withdrawn, its figures are never changed.
# On SQLite a "replace" would drop a row without firing the delete trigger: the insert trigger stops that.
KEPT = (
    "at, by_id, material, tool_material, operation, cut, conditions, vc_m_min, f_mm, ap_mm, machine_id, "
    "note, result"
)
SQLITE = (
    "CREATE TRIGGER proven_no_delete BEFORE DELETE ON proven "
    "BEGIN SELECT RAISE(ABORT, 'proven speeds are withdrawn, never deleted'); END",
    f"CREATE TRIGGER proven_no_update BEFORE UPDATE OF id, {KEPT} ON proven "
    "BEGIN SELECT RAISE(ABORT, 'proven speeds are withdrawn, never changed'); END",
    "CREATE TRIGGER proven_no_replace BEFORE INSERT ON proven "
    "WHEN EXISTS (SELECT 1 FROM proven WHERE id = NEW.id) "
    "BEGIN SELECT RAISE(ABORT, 'proven speeds are withdrawn, never changed'); END",
)
POSTGRESQL = (
    "CREATE FUNCTION proven_refuse() RETURNS trigger LANGUAGE plpgsql "
    "AS $$ BEGIN RAISE EXCEPTION 'proven speeds are withdrawn, never changed or deleted'; END $$",
    f"CREATE TRIGGER proven_no_change BEFORE DELETE OR UPDATE OF id, {KEPT} ON proven "
    "FOR EACH ROW EXECUTE FUNCTION proven_refuse()",
    "CREATE TRIGGER proven_no_truncate BEFORE TRUNCATE ON proven "
    "FOR EACH STATEMENT EXECUTE FUNCTION proven_refuse()",
)


def upgrade() -> None:
    op.add_column("machine", sa.Column("head_tangential_limit_m_min", sa.Double()))
    op.create_table(
        "proven",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("by_id", sa.Integer()),
        sa.Column("material", SORTED, nullable=False),
        sa.Column("tool_material", SORTED, nullable=False),
        sa.Column("operation", SORTED, nullable=False),
        sa.Column("cut", SORTED),
        sa.Column("conditions", SORTED, nullable=False),
        sa.Column("vc_m_min", sa.Double(), nullable=False),
        sa.Column("f_mm", sa.Double()),
        sa.Column("ap_mm", sa.Double()),
        sa.Column("machine_id", sa.Integer()),
        sa.Column("note", SORTED),
        sa.Column("result", SORTED),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True)),
        sa.Column("withdrawn_by_id", sa.Integer()),
        sa.Column("withdrawn_why", SORTED),
        sa.CheckConstraint("vc_m_min > 0", name=op.f("ck_proven_vc_m_min_more_than_zero")),
        sa.CheckConstraint("f_mm > 0", name=op.f("ck_proven_f_mm_more_than_zero")),
        sa.CheckConstraint("ap_mm > 0", name=op.f("ck_proven_ap_mm_more_than_zero")),
        sa.ForeignKeyConstraint(["by_id"], ["party.id"], name=op.f("fk_proven_by_id")),
        sa.ForeignKeyConstraint(["machine_id"], ["machine.place_id"], name=op.f("fk_proven_machine_id")),
        sa.ForeignKeyConstraint(["withdrawn_by_id"], ["party.id"], name=op.f("fk_proven_withdrawn_by_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_proven")),
    )
    op.create_index("ix_proven_material", "proven", ["material"])
    for statement in POSTGRESQL if op.get_bind().dialect.name == "postgresql" else SQLITE:
        op.get_bind().exec_driver_sql(statement)


def downgrade() -> None:
    raise NotImplementedError("a store is not taken back: restore the copy that was kept beside it")
