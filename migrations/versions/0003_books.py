"""The books: set-ups and cuts, worth and proof, claims, minimums, kits, counts; batches that split and merge.

Revision: 0003, after 0002.
"""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

SORTED = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")

HAPPENINGS = (
    "what IN ('added', 'moved', 'brought in', 'taken home', 'split', 'merged', 'lent', 'sent out', "
    "'returned', 'regraded', 'edge used', 'counted', 'claimed', 'replaced', 'scrapped', 'corrected')"
)

# What is said once stays: a cut or a proof that was wrong is marked as withdrawn, a worth is said anew,
# a claim goes on by steps. For each table the columns that may still be written.
KEPT = {
    "cut": ("withdrawn_at", "withdrawn_by_id", "withdrawn_why"),
    "origin": (),
    "worth": (),
    "setup_point": (),
    "claim": ("state", "rules", "clause", "place_of_work", "note"),
    "claim_line": (),
    "claim_step": (),
    "evidence": (),
    "proof": ("withdrawn_at", "withdrawn_why"),
}
# as in 0001: a rebuilt table has lost its triggers
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


def upgrade() -> None:
    op.add_column("party", sa.Column("gone_on", sa.Date()))
    _search()
    _ledger()
    _setups_and_cuts()
    _worth()
    _claims()
    _evidence()
    _stocking()
    for table, free in KEPT.items():
        _keep(table, free)


def _search() -> None:
    """Index all that a search narrows by: it then reads only the items of its answer."""
    narrows = ["hand", "site_id", "held_by_id"]
    op.drop_index("ix_item_sc_ic_mm_an_deg", "item")
    op.drop_index("ix_item_kind_hand", "item")
    op.create_index("ix_item_seat", "item", ["sc", "ic_mm", "an_deg", "kind", *narrows])
    op.create_index("ix_item_facets", "item", ["kind", "norm", "id", "hand", "condition", *narrows[1:]])


def _ledger() -> None:
    """Give the ledger its new words and columns; on SQLite the table is made anew for it."""
    with op.batch_alter_table("ledger") as ledger:
        ledger.drop_constraint(op.f("ck_ledger_what_known"), type_="check")
        ledger.create_check_constraint(op.f("ck_ledger_what_known"), HAPPENINGS)
        ledger.add_column(sa.Column("other_item_id", sa.Integer()))
        ledger.add_column(sa.Column("corrects_id", sa.Integer()))
        ledger.add_column(sa.Column("act", SORTED))
        ledger.add_column(sa.Column("told", SORTED))
        ledger.add_column(sa.Column("edges_unknown", sa.Boolean()))
        ledger.create_foreign_key(op.f("fk_ledger_other_item_id"), "item", ["other_item_id"], ["id"])
        ledger.create_foreign_key(op.f("fk_ledger_corrects_id"), "ledger", ["corrects_id"], ["id"])
    for column in ("act", "corrects_id"):  # a line that says neither is written without these indexes
        said = sa.text(f"{column} IS NOT NULL")
        op.create_index(f"ix_ledger_{column}", "ledger", [column], sqlite_where=said, postgresql_where=said)
    if op.get_bind().dialect.name == "sqlite":
        for statement in LEDGER:
            op.get_bind().exec_driver_sql(statement)


def _setups_and_cuts() -> None:
    op.create_table(
        "setup",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", SORTED, nullable=False),
        sa.Column("machine_id", sa.Integer()),
        sa.Column("note", SORTED),
        sa.ForeignKeyConstraint(["machine_id"], ["machine.place_id"], name=op.f("fk_setup_machine_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_setup")),
        sa.UniqueConstraint("name", name=op.f("uq_setup_name")),
    )
    op.create_table(
        "setup_point",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("setup_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("point", SORTED, nullable=False),
        sa.Column("gives", SORTED),
        sa.Column("k_n_mm", sa.Double()),
        sa.Column("k_low_n_mm", sa.Double()),
        sa.Column("k_high_n_mm", sa.Double()),
        sa.Column("frequency_hz", sa.Double()),
        sa.Column("damping_ratio", sa.Double()),
        sa.Column("damping_low", sa.Double()),
        sa.Column("damping_high", sa.Double()),
        sa.Column("by_id", sa.Integer()),
        sa.Column("how", SORTED),
        sa.CheckConstraint("damping_ratio > 0", name=op.f("ck_setup_point_damping_ratio_more_than_zero")),
        sa.CheckConstraint("frequency_hz > 0", name=op.f("ck_setup_point_frequency_hz_more_than_zero")),
        sa.CheckConstraint("k_high_n_mm > 0", name=op.f("ck_setup_point_k_high_n_mm_more_than_zero")),
        sa.CheckConstraint("k_low_n_mm > 0", name=op.f("ck_setup_point_k_low_n_mm_more_than_zero")),
        sa.CheckConstraint("k_n_mm > 0", name=op.f("ck_setup_point_k_n_mm_more_than_zero")),
        sa.ForeignKeyConstraint(["by_id"], ["party.id"], name=op.f("fk_setup_point_by_id")),
        sa.ForeignKeyConstraint(["setup_id"], ["setup.id"], name=op.f("fk_setup_point_setup_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_setup_point")),
    )
    op.create_index("ix_setup_point_setup_id_point", "setup_point", ["setup_id", "point"])
    op.create_table(
        "cut",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("operation", SORTED, nullable=False),
        sa.Column("material", SORTED, nullable=False),
        sa.Column("result", SORTED, nullable=False),
        sa.Column("by_id", sa.Integer()),
        sa.Column("job", SORTED),
        sa.Column("machine_id", sa.Integer()),
        sa.Column("setup_id", sa.Integer()),
        sa.Column("setup_point", SORTED),
        sa.Column("setup_words", SORTED),
        sa.Column("arm_item_id", sa.Integer()),
        sa.Column("insert_item_id", sa.Integer()),
        sa.Column("tool_material", SORTED),
        sa.Column("conditions", SORTED, nullable=False),
        sa.Column("diameter_mm", sa.Double()),
        sa.Column("n_rev_min", sa.Double()),
        sa.Column("vc_m_min", sa.Double()),
        sa.Column("f_mm", sa.Double()),
        sa.Column("ap_mm", sa.Double()),
        sa.Column("length_mm", sa.Double()),
        sa.Column("minutes", sa.Double()),
        sa.Column("heard_hz", sa.Double()),
        sa.Column("regenerative_n_mm", sa.Double()),
        sa.Column("margin", sa.Double()),
        sa.Column("note", SORTED),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True)),
        sa.Column("withdrawn_by_id", sa.Integer()),
        sa.Column("withdrawn_why", SORTED),
        sa.CheckConstraint(
            "result IN ('clean', 'marks', 'chatter', 'edge broke', 'worn out')",
            name=op.f("ck_cut_result_known"),
        ),
        sa.CheckConstraint("ap_mm > 0", name=op.f("ck_cut_ap_mm_more_than_zero")),
        sa.CheckConstraint("f_mm > 0", name=op.f("ck_cut_f_mm_more_than_zero")),
        sa.CheckConstraint("length_mm > 0", name=op.f("ck_cut_length_mm_more_than_zero")),
        sa.CheckConstraint("n_rev_min > 0", name=op.f("ck_cut_n_rev_min_more_than_zero")),
        sa.CheckConstraint("vc_m_min > 0", name=op.f("ck_cut_vc_m_min_more_than_zero")),
        sa.ForeignKeyConstraint(["arm_item_id"], ["item.id"], name=op.f("fk_cut_arm_item_id")),
        sa.ForeignKeyConstraint(["by_id"], ["party.id"], name=op.f("fk_cut_by_id")),
        sa.ForeignKeyConstraint(["insert_item_id"], ["item.id"], name=op.f("fk_cut_insert_item_id")),
        sa.ForeignKeyConstraint(["machine_id"], ["machine.place_id"], name=op.f("fk_cut_machine_id")),
        sa.ForeignKeyConstraint(["setup_id"], ["setup.id"], name=op.f("fk_cut_setup_id")),
        sa.ForeignKeyConstraint(["withdrawn_by_id"], ["party.id"], name=op.f("fk_cut_withdrawn_by_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_cut")),
    )
    op.create_index("ix_cut_material", "cut", ["material"])
    op.create_index("ix_cut_setup_id", "cut", ["setup_id"])


def _worth() -> None:
    op.create_table(
        "origin",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("how", SORTED, nullable=False),
        sa.Column("by_id", sa.Integer()),
        sa.Column("on_date", sa.Date()),
        sa.Column("from_whom", SORTED),
        sa.Column("maker", SORTED),
        sa.Column("receipt", SORTED),
        sa.Column("paid", sa.Text()),
        sa.Column("currency", SORTED),
        sa.Column("note", SORTED),
        sa.CheckConstraint(
            "how IN ('bought for this job', 'own before hire', 'gift', 'inherited', 'exchanged', 'made', "
            "'bought', 'unknown')",
            name=op.f("ck_origin_how_known"),
        ),
        sa.ForeignKeyConstraint(["by_id"], ["party.id"], name=op.f("fk_origin_by_id")),
        sa.ForeignKeyConstraint(["item_id"], ["item.id"], name=op.f("fk_origin_item_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_origin")),
    )
    op.create_index("ix_origin_item_id", "origin", ["item_id"])
    op.create_table(
        "worth",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("on_date", sa.Date(), nullable=False),
        sa.Column("basis", SORTED, nullable=False),
        sa.Column("amount", sa.Text(), nullable=False),
        sa.Column("currency", SORTED, nullable=False),
        sa.Column("by_id", sa.Integer()),
        sa.Column("life_years", sa.Double()),
        sa.Column("source", SORTED),
        sa.CheckConstraint(
            "basis IN ('agreed', 'replacement', 'cash value', 'estimate')",
            name=op.f("ck_worth_basis_known"),
        ),
        sa.CheckConstraint("life_years > 0", name=op.f("ck_worth_life_years_more_than_zero")),
        sa.ForeignKeyConstraint(["by_id"], ["party.id"], name=op.f("fk_worth_by_id")),
        sa.ForeignKeyConstraint(["item_id"], ["item.id"], name=op.f("fk_worth_item_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_worth")),
    )
    op.create_index("ix_worth_item_id", "worth", ["item_id"])


def _claims() -> None:
    op.create_table(
        "claim",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("number", SORTED, nullable=False),
        sa.Column("claimant_id", sa.Integer(), nullable=False),
        sa.Column("payer_id", sa.Integer(), nullable=False),
        sa.Column("made_on", sa.Date(), nullable=False),
        sa.Column("currency", SORTED, nullable=False),
        sa.Column("state", SORTED, nullable=False),
        sa.Column("rules", SORTED),
        sa.Column("clause", SORTED),
        sa.Column("place_of_work", SORTED),
        sa.Column("note", SORTED),
        sa.CheckConstraint(
            "state IN ('draft', 'sent', 'agreed', 'part agreed', 'refused', 'part settled', "
            "'settled', 'closed', 'withdrawn')",
            name=op.f("ck_claim_state_known"),
        ),
        sa.ForeignKeyConstraint(["claimant_id"], ["party.id"], name=op.f("fk_claim_claimant_id")),
        sa.ForeignKeyConstraint(["payer_id"], ["party.id"], name=op.f("fk_claim_payer_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_claim")),
        sa.UniqueConstraint("number", name=op.f("uq_claim_number")),
    )
    op.create_index("ix_claim_claimant_id", "claim", ["claimant_id"])
    op.create_index("ix_claim_state", "claim", ["state"])
    op.create_table(
        "claim_line",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("claim_id", sa.Integer(), nullable=False),
        sa.Column("line_no", sa.Integer(), nullable=False),
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("event", SORTED, nullable=False),
        sa.Column("basis", SORTED, nullable=False),
        sa.Column("amount", sa.Text(), nullable=False),
        sa.Column("quantity", sa.Integer(), nullable=False),
        sa.Column("ledger_id", sa.Integer()),
        sa.Column("on_date", sa.Date()),
        sa.Column("what_happened", SORTED),
        sa.Column("job", SORTED),
        sa.Column("machine", SORTED),
        sa.Column("seen_by", SORTED),
        sa.Column("asked_by", SORTED),
        sa.Column("worked_out", SORTED),
        sa.Column("old_piece", SORTED),
        sa.Column("already_had", sa.Text()),
        sa.CheckConstraint(
            "basis IN ('receipt', 'agreed', 'like for like', 'age-reduced', 'share', 'consumption', "
            "'repair')",
            name=op.f("ck_claim_line_basis_known"),
        ),
        sa.CheckConstraint(
            "event IN ('bought', 'broken', 'worn out', 'lost', 'stolen', 'consumed', 'taken over')",
            name=op.f("ck_claim_line_event_known"),
        ),
        sa.CheckConstraint("quantity > 0", name=op.f("ck_claim_line_quantity_more_than_zero")),
        sa.ForeignKeyConstraint(["claim_id"], ["claim.id"], name=op.f("fk_claim_line_claim_id")),
        sa.ForeignKeyConstraint(["item_id"], ["item.id"], name=op.f("fk_claim_line_item_id")),
        sa.ForeignKeyConstraint(["ledger_id"], ["ledger.id"], name=op.f("fk_claim_line_ledger_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_claim_line")),
        sa.UniqueConstraint("claim_id", "line_no", name=op.f("uq_claim_line_claim_id_line_no")),
    )
    op.create_index("ix_claim_line_item_id", "claim_line", ["item_id"])
    op.create_table(
        "claim_step",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("claim_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("to_state", SORTED, nullable=False),
        sa.Column("claim_line_id", sa.Integer()),
        sa.Column("on_date", sa.Date()),
        sa.Column("amount", sa.Text()),
        sa.Column("by_id", sa.Integer()),
        sa.Column("to_whom", SORTED),
        sa.Column("why", SORTED),
        sa.Column("replacement_item_id", sa.Integer()),
        sa.CheckConstraint(
            "to_state IN ('draft', 'sent', 'agreed', 'part agreed', 'refused', 'part settled', "
            "'settled', 'closed', 'withdrawn')",
            name=op.f("ck_claim_step_to_state_known"),
        ),
        sa.ForeignKeyConstraint(["by_id"], ["party.id"], name=op.f("fk_claim_step_by_id")),
        sa.ForeignKeyConstraint(["claim_id"], ["claim.id"], name=op.f("fk_claim_step_claim_id")),
        sa.ForeignKeyConstraint(
            ["claim_line_id"], ["claim_line.id"], name=op.f("fk_claim_step_claim_line_id")
        ),
        sa.ForeignKeyConstraint(
            ["replacement_item_id"], ["item.id"], name=op.f("fk_claim_step_replacement_item_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_claim_step")),
    )
    op.create_index("ix_claim_step_claim_id", "claim_step", ["claim_id"])
    op.create_index("ix_claim_step_claim_line_id", "claim_step", ["claim_line_id"])


def _evidence() -> None:
    op.create_table(
        "evidence",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("sha256", SORTED, nullable=False),
        sa.Column("media_type", SORTED, nullable=False),
        sa.Column("name", SORTED, nullable=False),
        sa.Column("size", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.Column("by_id", sa.Integer()),
        sa.ForeignKeyConstraint(["by_id"], ["party.id"], name=op.f("fk_evidence_by_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_evidence")),
        sa.UniqueConstraint("sha256", name=op.f("uq_evidence_sha256")),
    )
    op.create_table(
        "proof",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("evidence_id", sa.Integer(), nullable=False),
        sa.Column("kind", SORTED, nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("item_id", sa.Integer()),
        sa.Column("claim_line_id", sa.Integer()),
        sa.Column("on_date", sa.Date()),
        sa.Column("by_id", sa.Integer()),
        sa.Column("says", SORTED),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True)),
        sa.Column("withdrawn_why", SORTED),
        sa.CheckConstraint(
            "kind IN ('photo', 'receipt', 'statement', 'list', 'other')", name=op.f("ck_proof_kind_known")
        ),
        sa.CheckConstraint(
            "(item_id IS NULL) <> (claim_line_id IS NULL)", name=op.f("ck_proof_of_one_thing")
        ),
        sa.ForeignKeyConstraint(["by_id"], ["party.id"], name=op.f("fk_proof_by_id")),
        sa.ForeignKeyConstraint(["claim_line_id"], ["claim_line.id"], name=op.f("fk_proof_claim_line_id")),
        sa.ForeignKeyConstraint(["evidence_id"], ["evidence.id"], name=op.f("fk_proof_evidence_id")),
        sa.ForeignKeyConstraint(["item_id"], ["item.id"], name=op.f("fk_proof_item_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_proof")),
    )
    op.create_index("ix_proof_claim_line_id", "proof", ["claim_line_id"])
    op.create_index("ix_proof_evidence_id", "proof", ["evidence_id"])
    op.create_index("ix_proof_item_id", "proof", ["item_id"])


def _stocking() -> None:
    op.create_table(
        "minimum",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("norm", SORTED, nullable=False),
        sa.Column("what", SORTED, nullable=False),
        sa.Column("least", sa.Integer(), nullable=False),
        sa.Column("site_id", sa.Integer(), nullable=False),
        sa.Column("grade", SORTED, nullable=False),
        sa.Column("counted_in", SORTED, nullable=False),
        sa.Column("up_to", sa.Integer()),
        sa.Column("lead_days", sa.Integer()),
        sa.Column("payer_id", sa.Integer()),
        sa.Column("price", sa.Text()),
        sa.Column("currency", SORTED),
        sa.Column("note", SORTED),
        sa.CheckConstraint("counted_in IN ('pieces', 'edges')", name=op.f("ck_minimum_counted_in_known")),
        sa.CheckConstraint("lead_days > 0", name=op.f("ck_minimum_lead_days_more_than_zero")),
        sa.CheckConstraint("least >= 0", name=op.f("ck_minimum_least_not_negative")),
        sa.CheckConstraint("up_to >= 0", name=op.f("ck_minimum_up_to_not_negative")),
        sa.ForeignKeyConstraint(["payer_id"], ["party.id"], name=op.f("fk_minimum_payer_id")),
        sa.ForeignKeyConstraint(["site_id"], ["place.id"], name=op.f("fk_minimum_site_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_minimum")),
        sa.UniqueConstraint("norm", "grade", "site_id", name=op.f("uq_minimum_norm_grade_site_id")),
    )
    op.create_table(
        "kit",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", SORTED, nullable=False),
        sa.Column("note", SORTED),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_kit")),
        sa.UniqueConstraint("name", name=op.f("uq_kit_name")),
    )
    op.create_table(
        "kit_line",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("kit_id", sa.Integer(), nullable=False),
        sa.Column("line_no", sa.Integer(), nullable=False),
        sa.Column("need", SORTED, nullable=False),
        sa.Column("quantity", sa.Integer(), nullable=False),
        sa.Column("item_id", sa.Integer()),
        sa.CheckConstraint("quantity > 0", name=op.f("ck_kit_line_quantity_more_than_zero")),
        sa.ForeignKeyConstraint(["item_id"], ["item.id"], name=op.f("fk_kit_line_item_id")),
        sa.ForeignKeyConstraint(["kit_id"], ["kit.id"], name=op.f("fk_kit_line_kit_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_kit_line")),
        sa.UniqueConstraint("kit_id", "line_no", name=op.f("uq_kit_line_kit_id_line_no")),
    )
    op.create_table(
        "spare_part",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("what", SORTED, nullable=False),
        sa.Column("code", SORTED),
        sa.Column("present", sa.Boolean(), nullable=False),
        sa.Column("note", SORTED),
        sa.ForeignKeyConstraint(["item_id"], ["item.id"], name=op.f("fk_spare_part_item_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_spare_part")),
        sa.UniqueConstraint("item_id", "what", name=op.f("uq_spare_part_item_id_what")),
    )
    op.create_table(
        "stocktake",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("place_id", sa.Integer(), nullable=False),
        sa.Column("begun_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("by_id", sa.Integer()),
        sa.Column("closed_at", sa.DateTime(timezone=True)),
        sa.ForeignKeyConstraint(["by_id"], ["party.id"], name=op.f("fk_stocktake_by_id")),
        sa.ForeignKeyConstraint(["place_id"], ["place.id"], name=op.f("fk_stocktake_place_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stocktake")),
    )
    op.create_index("ix_stocktake_place_id", "stocktake", ["place_id"])
    op.create_table(
        "stocktake_count",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("stocktake_id", sa.Integer(), nullable=False),
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("quantity", sa.Integer(), nullable=False),
        sa.Column("edges_left", sa.Integer()),
        sa.CheckConstraint("edges_left >= 0", name=op.f("ck_stocktake_count_edges_left_not_negative")),
        sa.CheckConstraint("quantity >= 0", name=op.f("ck_stocktake_count_quantity_not_negative")),
        sa.ForeignKeyConstraint(["item_id"], ["item.id"], name=op.f("fk_stocktake_count_item_id")),
        sa.ForeignKeyConstraint(
            ["stocktake_id"], ["stocktake.id"], name=op.f("fk_stocktake_count_stocktake_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stocktake_count")),
    )
    op.create_index("ix_stocktake_count_stocktake_id_item_id", "stocktake_count", ["stocktake_id", "item_id"])


def _keep(table: str, free: tuple[str, ...]) -> None:
    """Let the database refuse to change or drop rows of a table, but for its free columns."""
    columns = [column["name"] for column in sa.inspect(op.get_bind()).get_columns(table)]
    kept = ", ".join(f'"{name}"' for name in columns if name not in free)
    said = f"rows of {table} are never changed or deleted"
    if op.get_bind().dialect.name == "postgresql":
        statements = (
            f"CREATE FUNCTION {table}_refuse() RETURNS trigger LANGUAGE plpgsql "
            f"AS $$ BEGIN RAISE EXCEPTION '{said}'; END $$",
            f"CREATE TRIGGER {table}_no_change BEFORE DELETE OR UPDATE OF {kept} ON {table} "
            f"FOR EACH ROW EXECUTE FUNCTION {table}_refuse()",
            f"CREATE TRIGGER {table}_no_truncate BEFORE TRUNCATE ON {table} "
            f"FOR EACH STATEMENT EXECUTE FUNCTION {table}_refuse()",
        )
    else:
        # a "replace" would drop a row without firing the delete trigger: the insert trigger stops that
        statements = (
            f"CREATE TRIGGER {table}_no_delete BEFORE DELETE ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{said}'); END",
            f"CREATE TRIGGER {table}_no_update BEFORE UPDATE OF {kept} ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{said}'); END",
            f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
            f"WHEN EXISTS (SELECT 1 FROM {table} WHERE id = NEW.id) "
            f"BEGIN SELECT RAISE(ABORT, '{said}'); END",
        )
    for statement in statements:
        op.get_bind().exec_driver_sql(statement)


def downgrade() -> None:
    raise NotImplementedError("a store is not taken back: restore the copy that was kept beside it")
