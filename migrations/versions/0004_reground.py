"""New sizes after a regrind, which the ledger tells; batches without a piece left have an index.

Revision: 0004, after 0003.
"""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

HAPPENINGS = (
    "what IN ('added', 'moved', 'brought in', 'taken home', 'split', 'merged', 'lent', 'sent out', "
    "'returned', 'regraded', 'reground', 'edge used', 'counted', 'claimed', 'replaced', 'scrapped', "
    "'corrected')"
)
# as in 0001 and 0003: a rebuilt table has lost its triggers
LEDGER = (
    "CREATE TRIGGER ledger_no_update BEFORE UPDATE ON ledger "
    "BEGIN SELECT RAISE(ABORT, 'lines of the ledger are never changed'); END",
    "CREATE TRIGGER ledger_no_delete BEFORE DELETE ON ledger "
    "BEGIN SELECT RAISE(ABORT, 'lines of the ledger are never deleted'); END",
    """CREATE TRIGGER ledger_no_replace BEFORE INSERT ON ledger
    WHEN EXISTS (SELECT 1 FROM ledger WHERE id = NEW.id)
      OR EXISTS (SELECT 1 FROM ledger WHERE "key" = NEW."key")
    BEGIN SELECT RAISE(ABORT, 'lines of the ledger are never changed'); END""",
)
SAID = ("act", "corrects_id")  # indexed where they say something; made anew with the table


def upgrade() -> None:
    empty = sa.text("quantity = 0")
    op.create_index("ix_item_emptied", "item", ["id"], sqlite_where=empty, postgresql_where=empty)
    for column in SAID:
        op.drop_index(f"ix_ledger_{column}", "ledger")
    with op.batch_alter_table("ledger") as ledger:
        ledger.drop_constraint(op.f("ck_ledger_what_known"), type_="check")
        ledger.create_check_constraint(op.f("ck_ledger_what_known"), HAPPENINGS)
        for column in ("from_dc_mm", "to_dc_mm", "from_lf_mm", "to_lf_mm"):
            ledger.add_column(sa.Column(column, sa.Double()))
    for column in SAID:
        said = sa.text(f"{column} IS NOT NULL")
        op.create_index(f"ix_ledger_{column}", "ledger", [column], sqlite_where=said, postgresql_where=said)
    if op.get_bind().dialect.name == "sqlite":
        for statement in LEDGER:
            op.get_bind().exec_driver_sql(statement)
