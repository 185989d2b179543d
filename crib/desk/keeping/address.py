"""Where the user's store is when nobody says otherwise."""

import os


def store_address(given: str | None) -> str:
    """Give the address of the store.

    Args:
        given: what the user said (a file, or postgresql://…); empty: CRIB_DB, else the data folder.

    Returns:
        A file path or a postgresql:// address.
    """
    if address := given or os.environ.get("CRIB_DB"):
        return address
    return os.path.join(data_folder(), "crib.db")


def data_folder() -> str:
    """Give the user's own folder for crib's files; it need not exist yet."""
    from platformdirs import user_data_dir  # only where no address is given

    return user_data_dir("crib", appauthor=False)
