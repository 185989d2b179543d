"""Adding to the tree of places, and the store's settings."""

from sqlalchemy.orm import Session

from crib.errors import InputError
from crib.store.models import Place, Setting
from crib.store.words import PATH_JOINT, SETTING_KEYS


def add_place(session: Session, name: str, kind: str, parent: Place | None = None) -> Place:
    """Add a place below another; a site has none above it.

    Args:
        session: of a write transaction.
        name: its name, without the joint of paths.
        kind: one of words.PLACE_KINDS.
        parent: the place it is in; None for a site.

    Raises:
        InputError: the name is empty or holds the joint, or a site is to be inside of something.
    """
    name = " ".join(name.split())
    if not name or PATH_JOINT.strip() in name.split():
        raise InputError(
            f"{name!r} can't be the name of a place", f"leave out {PATH_JOINT!r}: it joins places to paths"
        )
    if (kind == "site") != (parent is None):
        raise InputError(
            f"the place {name!r} can't stand there", "sites stand alone; all else is inside of a place"
        )
    path = name if parent is None else parent.path + PATH_JOINT + name
    place = Place(
        name=name,
        kind=kind,
        path=path,
        parent_id=None if parent is None else parent.id,
        site_id=None if parent is None else parent.site_id,
    )
    session.add(place)
    session.flush()
    if parent is None:
        place.site_id = place.id  # its own number is known only now
        session.flush()
    return place


def put_setting(session: Session, key: str, value: str) -> None:
    """Set a choice of this store.

    Raises:
        InputError: there is no such setting.
    """
    if key not in SETTING_KEYS:
        raise InputError(f"there is no setting {key!r}", "there are: " + ", ".join(SETTING_KEYS))
    session.merge(Setting(key=key, value=value))
