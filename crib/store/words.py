"""The closed word lists of the store, in one place for models, ledger and readers alike."""

ITEM_KINDS = ("insert", "holder", "bar", "bit", "rotary", "gauge", "workholding", "spare", "other")
CONDITIONS = ("new", "good", "worn", "damaged", "scrap")
HANDS = ("R", "L", "N")
PARTY_KINDS = ("person", "company")
PLACE_KINDS = ("site", "area", "cabinet", "drawer", "machine")
MACHINE_KINDS = ("lathe", "boring mill", "drill", "mill")
MEASURES = ("inside", "outside", "depth", "other")
HAPPENINGS = (
    "added",
    "moved",
    "brought in",
    "taken home",
    "lent",
    "returned",
    "regraded",
    "edge used",
    "counted",
    "claimed",
    "replaced",
    "scrapped",
    "corrected",
)
SETTING_KEYS = ("me", "site", "units", "speeds")
WHOSE_SPEEDS = ("book", "own")  # whose speeds win: the published ones or the shop's own
PATH_JOINT = " / "  # between the steps of a place's path
