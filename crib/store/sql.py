"""The SQL of the read path, one text for both engines; a test holds each against the models.

Parameters are written :name. {match} and {hits} stand for what the engines write differently.
"""

_ITEM = """item.id, item.tag, item.kind, item.label, item.designation, item.equivalent, item.hand, item.sc,
item.an_deg, item.ic_mm, item.l_mm, item.owner_id, owner.name, owner.mark, item.place_id, place.path,
item.site_id, site.name, item.held_by_id, holder.name, item.due_back, item.condition, item.quantity,
item.edges_left, item.mark, item.serial, item.note,
(SELECT min(spare.what) FROM spare_part AS spare WHERE spare.item_id = item.id AND NOT spare.present)"""
ITEM_WIDTH = _ITEM.count(",") + 1

_NAMES = """JOIN party AS owner ON owner.id = item.owner_id
JOIN place ON place.id = item.place_id
JOIN place AS site ON site.id = item.site_id
LEFT JOIN party AS holder ON holder.id = item.held_by_id"""

ITEM = f"SELECT {_ITEM} FROM item {_NAMES} WHERE item.id = :id"

# The inner query finds and sorts with few columns; names are joined to the one page only. Where hits must be
# found and sorted they are counted on the way; a page of everything reads its own rows from the index only.
PAGE = f"""SELECT {_ITEM}, hit.total FROM (
SELECT item.id AS id, {{place}} AS rank, item.norm AS norm, {{total}} AS total FROM {{hits}}
{{where}} ORDER BY {{order}} LIMIT :limit OFFSET :offset
) AS hit JOIN item ON item.id = hit.id {_NAMES} ORDER BY hit.rank, hit.norm, hit.id"""
EMPTIED = "item.id IN (SELECT gone.id FROM item AS gone WHERE gone.quantity = 0)"
NOT_EMPTIED = EMPTIED.replace(" IN ", " NOT IN ")
COUNT = "SELECT count(*) FROM {hits} {where}"
CODES = "SELECT DISTINCT item.designation FROM {hits} {where}"
TOKENS = "SELECT item.tok, item.tag_code FROM {hits} {where} LIMIT :limit"
RANK = """CASE WHEN item.tag_code = :exact OR item.code = :exact THEN 0
WHEN substr(item.code, 1, length(CAST(:exact AS TEXT))) = :exact THEN 1 ELSE 2 END"""

HITS = {
    # CROSS JOIN: SQLite is not to walk all items in order and ask the index for each
    ("sqlite", True): "item_search CROSS JOIN item ON item.id = item_search.rowid",
    ("sqlite", False): "item",
    ("postgresql", True): "item",
    ("postgresql", False): "item",
}
MATCH = {"sqlite": "item_search MATCH :match", "postgresql": "item.search @@ CAST(:match AS tsquery)"}

DETAILS = {
    "holder": "clamping, style, kapr_deg, h_mm, b_mm, lf_mm, dmin_mm",
    "bar": "shank_type, dcon_mm, lf_mm, dmin_mm, reach_mm, style, kapr_deg, clamping, shank_material",
    "bit": "tool_material, shank_mm, kapr_deg, re_mm, rake_deg, clearance_deg, inclination_deg",
    "insert": "type_letter, tolerance, s_mm, re_mm, epsr_deg, edge_condition, cedc, grade, chipbreaker, "
    "tool_material, application, coating",
    "rotary": "what, dc_mm, lf_mm, tool_material",
    "gauge": "measures, low_mm, high_mm, resolution_mm, uncertainty_mm",
}


def detailed(kind: str, where: str) -> str:
    """Give the query for items of a kind with their details, in the order of their designations."""
    columns = ", ".join(f"detail.{name}" for name in DETAILS[kind].split(", "))
    return (
        f"SELECT {_ITEM}, {columns} FROM {kind}_detail AS detail JOIN item ON item.id = detail.item_id "
        f"{_NAMES} {where} ORDER BY item.norm, item.id"
    )


RODS = """SELECT rod.gauge_item_id, rod.id, rod.length_mm, rod.owner_id, owner.name, rod.present
FROM gauge_rod AS rod LEFT JOIN party AS owner ON owner.id = rod.owner_id
{where} ORDER BY rod.gauge_item_id, rod.length_mm, rod.id"""
CHECKS = """SELECT gauge_item_id, on_date, result, due, "by" FROM gauge_check
{where} ORDER BY gauge_item_id, on_date, id"""

PARTIES = "SELECT id, name, kind, mark, note, gone_on FROM party ORDER BY name"
PLACES = "SELECT id, name, kind, path, parent_id, site_id FROM place ORDER BY path"
SETTINGS = "SELECT key, value FROM setting ORDER BY key"

MACHINES = """SELECT machine.place_id, place.name, place.path, place.site_id, machine.kind, speed_low_rev_min,
speed_high_rev_min, power_kw, efficiency, swing_mm, travel_mm, shank_low_mm, shank_high_mm, bar_low_mm,
bar_high_mm, facing_head, least_bore_mm, head_speed_limit_rev_min, head_tangential_limit_m_min, note
FROM machine JOIN place ON place.id = machine.place_id ORDER BY place.path"""
MACHINE_SPEEDS = "SELECT machine_id, n_rev_min FROM machine_speed ORDER BY machine_id, n_rev_min"
MACHINE_FEEDS = "SELECT machine_id, f_mm FROM machine_feed ORDER BY machine_id, f_mm"

PROVEN = """SELECT proven.id, proven.at, actor.name, proven.material, proven.tool_material, proven.operation,
proven.cut, proven.conditions, proven.vc_m_min, proven.f_mm, proven.ap_mm, proven.machine_id, place.name,
proven.note, proven.result, proven.withdrawn_at, withdrawer.name, proven.withdrawn_why
FROM proven
LEFT JOIN party AS actor ON actor.id = proven.by_id
LEFT JOIN party AS withdrawer ON withdrawer.id = proven.withdrawn_by_id
LEFT JOIN place ON place.id = proven.machine_id
{where} ORDER BY proven.at, proven.id"""

SETUPS = """SELECT setup.id, setup.name, setup.machine_id, place.name, setup.note
FROM setup LEFT JOIN place ON place.id = setup.machine_id ORDER BY setup.name"""
SETUP_POINTS = """SELECT point.setup_id, point.id, point.at, point.point, point.gives, point.k_n_mm,
point.k_low_n_mm, point.k_high_n_mm, point.frequency_hz, point.damping_ratio, point.damping_low,
point.damping_high, actor.name, point.how
FROM setup_point AS point LEFT JOIN party AS actor ON actor.id = point.by_id
ORDER BY point.setup_id, point.id"""

CUTS = """SELECT cut.id, cut.at, cut.operation, cut.material, cut.result, actor.name, cut.job, cut.machine_id,
place.name, cut.setup_id, setup.name, cut.setup_point, cut.setup_words, cut.arm_item_id, arm.tag,
cut.insert_item_id, insert_item.tag, cut.tool_material, cut.conditions, cut.diameter_mm, cut.n_rev_min,
cut.vc_m_min, cut.f_mm, cut.ap_mm, cut.length_mm, cut.minutes, cut.heard_hz,
cut.regenerative_n_mm, cut.margin, cut.note, cut.withdrawn_at, withdrawer.name, cut.withdrawn_why
FROM cut
LEFT JOIN party AS actor ON actor.id = cut.by_id
LEFT JOIN party AS withdrawer ON withdrawer.id = cut.withdrawn_by_id
LEFT JOIN place ON place.id = cut.machine_id
LEFT JOIN setup ON setup.id = cut.setup_id
LEFT JOIN item AS arm ON arm.id = cut.arm_item_id
LEFT JOIN item AS insert_item ON insert_item.id = cut.insert_item_id
{where} ORDER BY cut.at, cut.id"""

# the line by which each tool went to whoever has it now: a later day for bringing it back is no new loan, and
# what an undo put back is told by the line that it put back
_LOAN = """SELECT max(loan.id) FROM ledger AS loan WHERE loan.item_id = item.id
AND loan.to_held_by_id = item.held_by_id
AND (loan.from_held_by_id IS NULL OR loan.from_held_by_id <> loan.to_held_by_id)"""
OUT = f"""SELECT {_ITEM}, line.at, line.what, actor.name, line.why
FROM item {_NAMES}
JOIN ledger AS line ON line.id = COALESCE(({_LOAN} AND loan.what <> 'corrected'), ({_LOAN}))
LEFT JOIN party AS actor ON actor.id = line.actor_id
WHERE item.held_by_id IS NOT NULL ORDER BY line.at, item.id"""

ACT_TAGS = """SELECT DISTINCT item.tag FROM ledger AS line JOIN item ON item.id = line.item_id
WHERE line.act = :act AND line.item_id <> :but ORDER BY item.tag"""

RECENT = """SELECT line.act, line.id, line.at, line.what, actor.name, item.tag, line.why, line.corrects_id
FROM (SELECT act, max(id) AS last FROM ledger WHERE act IS NOT NULL
GROUP BY act ORDER BY last DESC LIMIT :most) AS doing
JOIN ledger AS line ON line.act = doing.act
JOIN item ON item.id = line.item_id
LEFT JOIN party AS actor ON actor.id = line.actor_id
ORDER BY doing.last DESC, line.id"""

CLAIMED = """SELECT DISTINCT claim_line.item_id FROM claim_line JOIN claim ON claim.id = claim_line.claim_id
WHERE claim.state NOT IN ('settled', 'closed', 'refused', 'withdrawn')"""

STOCKTAKES = """SELECT stocktake.id, stocktake.place_id, place.path, stocktake.begun_at, actor.name
FROM stocktake JOIN place ON place.id = stocktake.place_id
LEFT JOIN party AS actor ON actor.id = stocktake.by_id
WHERE stocktake.closed_at IS NULL ORDER BY stocktake.id"""
STOCKTAKE_COUNTS = """SELECT item_id, quantity, edges_left FROM stocktake_count
WHERE stocktake_id = :stocktake_id ORDER BY id"""

LEDGER = """SELECT line.id, line.at, line.what, line.item_id, actor.name, line.quantity_change,
line.edges_change, owner_a.name, owner_b.name, place_a.path, place_b.path, held_a.name, held_b.name,
line.from_condition, line.to_condition, line.due_back, line.why, line.cut_ref, line.key, line.told, line.act,
line.corrects_id, other.tag, line.from_dc_mm, line.to_dc_mm, line.from_lf_mm, line.to_lf_mm
FROM ledger AS line
LEFT JOIN party AS actor ON actor.id = line.actor_id
LEFT JOIN party AS owner_a ON owner_a.id = line.from_owner_id
LEFT JOIN party AS owner_b ON owner_b.id = line.to_owner_id
LEFT JOIN place AS place_a ON place_a.id = line.from_place_id
LEFT JOIN place AS place_b ON place_b.id = line.to_place_id
LEFT JOIN party AS held_a ON held_a.id = line.from_held_by_id
LEFT JOIN party AS held_b ON held_b.id = line.to_held_by_id
LEFT JOIN item AS other ON other.id = line.other_item_id
WHERE line.item_id = :item_id ORDER BY line.id"""
