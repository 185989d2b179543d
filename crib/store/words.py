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
    "split",
    "merged",
    "lent",
    "sent out",
    "returned",
    "regraded",
    "reground",
    "edge used",
    "counted",
    "claimed",
    "replaced",
    "scrapped",
    "corrected",
)
SETTING_KEYS = ("me", "site", "units", "speeds", "currency", "rules")
WHOSE_SPEEDS = ("book", "own")  # whose speeds win: the published ones or the shop's own
CUT_RESULTS = ("clean", "marks", "chatter", "edge broke", "worn out")
ORIGINS = (
    "bought for this job",
    "own before hire",
    "gift",
    "inherited",
    "exchanged",
    "made",
    "bought",
    "unknown",
)
WORTH_BASES = ("agreed", "replacement", "cash value", "estimate")
EVIDENCE_KINDS = ("photo", "receipt", "statement", "list", "other")
CLAIM_STATES = (
    "draft",
    "sent",
    "agreed",
    "part agreed",
    "refused",
    "part settled",
    "settled",
    "closed",
    "withdrawn",
)
CLAIM_EVENTS = ("bought", "broken", "worn out", "lost", "stolen", "consumed", "taken over")
CLAIM_BASES = ("receipt", "agreed", "like for like", "age-reduced", "share", "consumption", "repair")
COUNTED_IN = ("pieces", "edges")
PATH_JOINT = " / "  # between the steps of a place's path
