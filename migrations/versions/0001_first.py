"""The first version: parties, places, machines, items with their details, gauges, ledger, settings, search.

Revision: 0001, after nothing.
"""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

SORTED = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")

# On SQLite a "replace" would drop a line without firing the delete trigger: the insert trigger stops that.
SQLITE = (
    "PRAGMA application_id = 1131571554",
    "CREATE TRIGGER ledger_no_update BEFORE UPDATE ON ledger "
    "BEGIN SELECT RAISE(ABORT, 'lines of the ledger are never changed'); END",
    "CREATE TRIGGER ledger_no_delete BEFORE DELETE ON ledger "
    "BEGIN SELECT RAISE(ABORT, 'lines of the ledger are never deleted'); END",
    """CREATE TRIGGER ledger_no_replace BEFORE INSERT ON ledger
    WHEN EXISTS (SELECT 1 FROM ledger WHERE id = NEW.id)
      OR EXISTS (SELECT 1 FROM ledger WHERE "key" = NEW."key")
    BEGIN SELECT RAISE(ABORT, 'lines of the ledger are never changed'); END""",
    "CREATE VIRTUAL TABLE item_search USING "
    "fts5(tok, content='item', content_rowid='id', tokenize='ascii', detail='none', columnsize=0)",
    "CREATE TRIGGER item_search_insert AFTER INSERT ON item "
    "BEGIN INSERT INTO item_search (rowid, tok) VALUES (NEW.id, NEW.tok); END",
    "CREATE TRIGGER item_search_delete AFTER DELETE ON item "
    "BEGIN INSERT INTO item_search (item_search, rowid, tok) VALUES ('delete', OLD.id, OLD.tok); END",
    """CREATE TRIGGER item_search_update AFTER UPDATE OF tok ON item WHEN OLD.tok <> NEW.tok BEGIN
    INSERT INTO item_search (item_search, rowid, tok) VALUES ('delete', OLD.id, OLD.tok);
    INSERT INTO item_search (rowid, tok) VALUES (NEW.id, NEW.tok);
    END""",
)

# The vector is built from our own tokens as they are: no parser or dictionary of the server is involved.
POSTGRESQL = (
    "ALTER TABLE item ADD COLUMN search tsvector "
    "GENERATED ALWAYS AS (array_to_tsvector(string_to_array(tok, ' '))) STORED",
    "CREATE INDEX ix_item_search ON item USING gin (search)",
    "CREATE FUNCTION ledger_refuse() RETURNS trigger LANGUAGE plpgsql "
    "AS $$ BEGIN RAISE EXCEPTION 'lines of the ledger are never changed or deleted'; END $$",
    "CREATE TRIGGER ledger_no_change BEFORE UPDATE OR DELETE ON ledger "
    "FOR EACH ROW EXECUTE FUNCTION ledger_refuse()",
    "CREATE TRIGGER ledger_no_truncate BEFORE TRUNCATE ON ledger "
    "FOR EACH STATEMENT EXECUTE FUNCTION ledger_refuse()",
)


def upgrade() -> None:
    _people_and_places()
    _items()
    _details()
    _gauges()
    _ledger()
    for statement in POSTGRESQL if op.get_bind().dialect.name == "postgresql" else SQLITE:
        op.get_bind().exec_driver_sql(statement)


def _people_and_places() -> None:
    op.create_table(
        "party",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", SORTED, nullable=False),
        sa.Column("kind", SORTED, nullable=False),
        sa.Column("mark", SORTED),
        sa.Column("note", SORTED),
        sa.CheckConstraint("kind IN ('person', 'company')", name=op.f("ck_party_kind_known")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_party")),
        sa.UniqueConstraint("name", name=op.f("uq_party_name")),
    )
    op.create_index("ix_party_mark", "party", ["mark"])
    op.create_table(
        "place",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", SORTED, nullable=False),
        sa.Column("kind", SORTED, nullable=False),
        sa.Column("path", SORTED, nullable=False),
        sa.Column("parent_id", sa.Integer()),
        sa.Column("site_id", sa.Integer()),
        sa.CheckConstraint(
            "(parent_id IS NULL) = (kind = 'site')", name=op.f("ck_place_only_sites_are_roots")
        ),
        sa.CheckConstraint(
            "kind IN ('site', 'area', 'cabinet', 'drawer', 'machine')", name=op.f("ck_place_kind_known")
        ),
        sa.CheckConstraint("site_id IS NOT NULL OR kind = 'site'", name=op.f("ck_place_has_site")),
        sa.ForeignKeyConstraint(["parent_id"], ["place.id"], name=op.f("fk_place_parent_id")),
        sa.ForeignKeyConstraint(["site_id"], ["place.id"], name=op.f("fk_place_site_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_place")),
        sa.UniqueConstraint("path", name=op.f("uq_place_path")),
    )
    op.create_index("ix_place_parent_id", "place", ["parent_id"])
    op.create_index("ix_place_site_id", "place", ["site_id"])
    op.create_table(
        "machine",
        sa.Column("place_id", sa.Integer(), nullable=False),
        sa.Column("kind", SORTED, nullable=False),
        sa.Column("speed_low_rev_min", sa.Double()),
        sa.Column("speed_high_rev_min", sa.Double()),
        sa.Column("power_kw", sa.Double()),
        sa.Column("efficiency", sa.Double()),
        sa.Column("swing_mm", sa.Double()),
        sa.Column("travel_mm", sa.Double()),
        sa.Column("shank_low_mm", sa.Double()),
        sa.Column("shank_high_mm", sa.Double()),
        sa.Column("bar_low_mm", sa.Double()),
        sa.Column("bar_high_mm", sa.Double()),
        sa.Column("facing_head", sa.Boolean(), nullable=False),
        sa.Column("least_bore_mm", sa.Double()),
        sa.Column("head_speed_limit_rev_min", sa.Double()),
        sa.Column("note", SORTED),
        sa.CheckConstraint(
            "kind IN ('lathe', 'boring mill', 'drill', 'mill')", name=op.f("ck_machine_kind_known")
        ),
        sa.ForeignKeyConstraint(["place_id"], ["place.id"], name=op.f("fk_machine_place_id")),
        sa.PrimaryKeyConstraint("place_id", name=op.f("pk_machine")),
    )
    op.create_table(
        "machine_speed",
        sa.Column("machine_id", sa.Integer(), nullable=False),
        sa.Column("n_rev_min", sa.Double(), nullable=False),
        sa.CheckConstraint("n_rev_min >= 0", name=op.f("ck_machine_speed_n_rev_min_not_negative")),
        sa.ForeignKeyConstraint(
            ["machine_id"], ["machine.place_id"], name=op.f("fk_machine_speed_machine_id")
        ),
        sa.PrimaryKeyConstraint("machine_id", "n_rev_min", name=op.f("pk_machine_speed")),
    )
    op.create_table(
        "machine_feed",
        sa.Column("machine_id", sa.Integer(), nullable=False),
        sa.Column("f_mm", sa.Double(), nullable=False),
        sa.CheckConstraint("f_mm >= 0", name=op.f("ck_machine_feed_f_mm_not_negative")),
        sa.ForeignKeyConstraint(
            ["machine_id"], ["machine.place_id"], name=op.f("fk_machine_feed_machine_id")
        ),
        sa.PrimaryKeyConstraint("machine_id", "f_mm", name=op.f("pk_machine_feed")),
    )
    op.create_table(
        "setting",
        sa.Column("key", SORTED, nullable=False),
        sa.Column("value", SORTED, nullable=False),
        sa.PrimaryKeyConstraint("key", name=op.f("pk_setting")),
    )


def _items() -> None:
    op.create_table(
        "item",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("tag", SORTED, nullable=False),
        sa.Column("kind", SORTED, nullable=False),
        sa.Column("label", SORTED, nullable=False),
        sa.Column("designation", SORTED),
        sa.Column("equivalent", SORTED),
        sa.Column("mark", SORTED),
        sa.Column("serial", SORTED),
        sa.Column("note", SORTED),
        sa.Column("hand", SORTED),
        sa.Column("sc", SORTED),
        sa.Column("an_deg", sa.Double()),
        sa.Column("ic_mm", sa.Double()),
        sa.Column("l_mm", sa.Double()),
        sa.Column("owner_id", sa.Integer(), nullable=False),
        sa.Column("place_id", sa.Integer(), nullable=False),
        sa.Column("site_id", sa.Integer(), nullable=False),
        sa.Column("held_by_id", sa.Integer()),
        sa.Column("due_back", sa.Date()),
        sa.Column("condition", SORTED, nullable=False),
        sa.Column("quantity", sa.Integer(), nullable=False),
        sa.Column("edges_left", sa.Integer()),
        sa.Column("norm", SORTED, nullable=False),
        sa.Column("tok", SORTED, nullable=False),
        sa.Column("code", SORTED),
        sa.Column("tag_code", SORTED, nullable=False),
        sa.CheckConstraint(
            "condition IN ('new', 'good', 'worn', 'damaged', 'scrap')", name=op.f("ck_item_condition_known")
        ),
        sa.CheckConstraint("hand IN ('R', 'L', 'N')", name=op.f("ck_item_hand_known")),
        sa.CheckConstraint(
            "kind IN ('insert', 'holder', 'bar', 'bit', 'rotary', 'gauge', 'workholding', 'spare', 'other')",
            name=op.f("ck_item_kind_known"),
        ),
        sa.CheckConstraint(
            "due_back IS NULL OR held_by_id IS NOT NULL", name=op.f("ck_item_due_back_is_lent")
        ),
        sa.CheckConstraint("edges_left >= 0", name=op.f("ck_item_edges_left_not_negative")),
        sa.CheckConstraint("quantity >= 0", name=op.f("ck_item_quantity_not_negative")),
        sa.ForeignKeyConstraint(["held_by_id"], ["party.id"], name=op.f("fk_item_held_by_id")),
        sa.ForeignKeyConstraint(["owner_id"], ["party.id"], name=op.f("fk_item_owner_id")),
        sa.ForeignKeyConstraint(["place_id"], ["place.id"], name=op.f("fk_item_place_id")),
        sa.ForeignKeyConstraint(["site_id"], ["place.id"], name=op.f("fk_item_site_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_item")),
        sa.UniqueConstraint("tag", name=op.f("uq_item_tag")),
    )
    op.create_index("ix_item_code", "item", ["code"])
    op.create_index("ix_item_condition", "item", ["condition"])
    op.create_index("ix_item_held_by_id", "item", ["held_by_id"])
    op.create_index("ix_item_kind_hand", "item", ["kind", "hand"])
    op.create_index("ix_item_mark", "item", ["mark"])
    op.create_index("ix_item_norm_id", "item", ["norm", "id"])
    op.create_index("ix_item_owner_id", "item", ["owner_id"])
    op.create_index("ix_item_place_id", "item", ["place_id"])
    op.create_index("ix_item_sc_ic_mm_an_deg", "item", ["sc", "ic_mm", "an_deg"])
    op.create_index("ix_item_site_id", "item", ["site_id"])
    op.create_index("ix_item_tag_code", "item", ["tag_code"])


def _details() -> None:
    op.create_table(
        "insert_detail",
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("type_letter", SORTED),
        sa.Column("tolerance", SORTED),
        sa.Column("s_mm", sa.Double()),
        sa.Column("re_mm", sa.Double()),
        sa.Column("epsr_deg", sa.Double()),
        sa.Column("edge_condition", SORTED),
        sa.Column("cedc", sa.Integer()),
        sa.Column("grade", SORTED),
        sa.Column("chipbreaker", SORTED),
        sa.Column("tool_material", SORTED),
        sa.Column("application", SORTED),
        sa.Column("coating", SORTED),
        sa.ForeignKeyConstraint(["item_id"], ["item.id"], name=op.f("fk_insert_detail_item_id")),
        sa.PrimaryKeyConstraint("item_id", name=op.f("pk_insert_detail")),
    )
    op.create_table(
        "holder_detail",
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("clamping", SORTED),
        sa.Column("style", SORTED),
        sa.Column("kapr_deg", sa.Double()),
        sa.Column("h_mm", sa.Double()),
        sa.Column("b_mm", sa.Double()),
        sa.Column("lf_mm", sa.Double()),
        sa.Column("dmin_mm", sa.Double()),
        sa.ForeignKeyConstraint(["item_id"], ["item.id"], name=op.f("fk_holder_detail_item_id")),
        sa.PrimaryKeyConstraint("item_id", name=op.f("pk_holder_detail")),
    )
    op.create_table(
        "bar_detail",
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("shank_type", SORTED),
        sa.Column("dcon_mm", sa.Double()),
        sa.Column("lf_mm", sa.Double()),
        sa.Column("dmin_mm", sa.Double()),
        sa.Column("reach_mm", sa.Double()),
        sa.Column("style", SORTED),
        sa.Column("kapr_deg", sa.Double()),
        sa.Column("clamping", SORTED),
        sa.Column("shank_material", SORTED),
        sa.ForeignKeyConstraint(["item_id"], ["item.id"], name=op.f("fk_bar_detail_item_id")),
        sa.PrimaryKeyConstraint("item_id", name=op.f("pk_bar_detail")),
    )
    op.create_table(
        "bit_detail",
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("tool_material", SORTED),
        sa.Column("shank_mm", sa.Double()),
        sa.Column("kapr_deg", sa.Double()),
        sa.Column("re_mm", sa.Double()),
        sa.Column("rake_deg", sa.Double()),
        sa.Column("clearance_deg", sa.Double()),
        sa.Column("inclination_deg", sa.Double()),
        sa.ForeignKeyConstraint(["item_id"], ["item.id"], name=op.f("fk_bit_detail_item_id")),
        sa.PrimaryKeyConstraint("item_id", name=op.f("pk_bit_detail")),
    )
    op.create_table(
        "rotary_detail",
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("what", SORTED),
        sa.Column("dc_mm", sa.Double()),
        sa.Column("lf_mm", sa.Double()),
        sa.Column("tool_material", SORTED),
        sa.ForeignKeyConstraint(["item_id"], ["item.id"], name=op.f("fk_rotary_detail_item_id")),
        sa.PrimaryKeyConstraint("item_id", name=op.f("pk_rotary_detail")),
    )


def _gauges() -> None:
    op.create_table(
        "gauge_detail",
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("measures", SORTED, nullable=False),
        sa.Column("low_mm", sa.Double()),
        sa.Column("high_mm", sa.Double()),
        sa.Column("resolution_mm", sa.Double()),
        sa.Column("uncertainty_mm", sa.Double()),
        sa.CheckConstraint(
            "measures IN ('inside', 'outside', 'depth', 'other')", name=op.f("ck_gauge_detail_measures_known")
        ),
        sa.ForeignKeyConstraint(["item_id"], ["item.id"], name=op.f("fk_gauge_detail_item_id")),
        sa.PrimaryKeyConstraint("item_id", name=op.f("pk_gauge_detail")),
    )
    op.create_table(
        "gauge_rod",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("gauge_item_id", sa.Integer(), nullable=False),
        sa.Column("length_mm", sa.Double(), nullable=False),
        sa.Column("owner_id", sa.Integer()),
        sa.Column("present", sa.Boolean(), nullable=False),
        sa.CheckConstraint("length_mm >= 0", name=op.f("ck_gauge_rod_length_mm_not_negative")),
        sa.ForeignKeyConstraint(
            ["gauge_item_id"], ["gauge_detail.item_id"], name=op.f("fk_gauge_rod_gauge_item_id")
        ),
        sa.ForeignKeyConstraint(["owner_id"], ["party.id"], name=op.f("fk_gauge_rod_owner_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_gauge_rod")),
    )
    op.create_index("ix_gauge_rod_gauge_item_id", "gauge_rod", ["gauge_item_id"])
    op.create_table(
        "gauge_check",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("gauge_item_id", sa.Integer(), nullable=False),
        sa.Column("on_date", sa.Date(), nullable=False),
        sa.Column("result", SORTED, nullable=False),
        sa.Column("due", sa.Date()),
        sa.Column("by", SORTED),
        sa.ForeignKeyConstraint(
            ["gauge_item_id"], ["gauge_detail.item_id"], name=op.f("fk_gauge_check_gauge_item_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_gauge_check")),
    )
    op.create_index("ix_gauge_check_gauge_item_id", "gauge_check", ["gauge_item_id"])


def _ledger() -> None:
    op.create_table(
        "ledger",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("what", SORTED, nullable=False),
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("actor_id", sa.Integer()),
        sa.Column("quantity_change", sa.Integer(), nullable=False),
        sa.Column("edges_change", sa.Integer()),
        sa.Column("from_owner_id", sa.Integer()),
        sa.Column("to_owner_id", sa.Integer()),
        sa.Column("from_place_id", sa.Integer()),
        sa.Column("to_place_id", sa.Integer()),
        sa.Column("from_held_by_id", sa.Integer()),
        sa.Column("to_held_by_id", sa.Integer()),
        sa.Column("from_condition", SORTED),
        sa.Column("to_condition", SORTED),
        sa.Column("due_back", sa.Date()),
        sa.Column("why", SORTED),
        sa.Column("cut_ref", SORTED),
        sa.Column("key", SORTED),
        sa.CheckConstraint(
            "from_condition IN ('new', 'good', 'worn', 'damaged', 'scrap')",
            name=op.f("ck_ledger_from_condition_known"),
        ),
        sa.CheckConstraint(
            "to_condition IN ('new', 'good', 'worn', 'damaged', 'scrap')",
            name=op.f("ck_ledger_to_condition_known"),
        ),
        sa.CheckConstraint(
            "what IN ('added', 'moved', 'brought in', 'taken home', 'lent', 'returned', 'regraded', "
            "'edge used', 'counted', 'claimed', 'replaced', 'scrapped', 'corrected')",
            name=op.f("ck_ledger_what_known"),
        ),
        sa.ForeignKeyConstraint(["actor_id"], ["party.id"], name=op.f("fk_ledger_actor_id")),
        sa.ForeignKeyConstraint(["from_held_by_id"], ["party.id"], name=op.f("fk_ledger_from_held_by_id")),
        sa.ForeignKeyConstraint(["from_owner_id"], ["party.id"], name=op.f("fk_ledger_from_owner_id")),
        sa.ForeignKeyConstraint(["from_place_id"], ["place.id"], name=op.f("fk_ledger_from_place_id")),
        sa.ForeignKeyConstraint(["item_id"], ["item.id"], name=op.f("fk_ledger_item_id")),
        sa.ForeignKeyConstraint(["to_held_by_id"], ["party.id"], name=op.f("fk_ledger_to_held_by_id")),
        sa.ForeignKeyConstraint(["to_owner_id"], ["party.id"], name=op.f("fk_ledger_to_owner_id")),
        sa.ForeignKeyConstraint(["to_place_id"], ["place.id"], name=op.f("fk_ledger_to_place_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_ledger")),
        sa.UniqueConstraint("key", name=op.f("uq_ledger_key")),
    )
    op.create_index("ix_ledger_item_id", "ledger", ["item_id"])


def downgrade() -> None:
    raise NotImplementedError("a store is not taken back: restore the copy that was kept beside it")
