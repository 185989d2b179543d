"""What worker threads tell a screen."""

from textual.message import Message

from crib.errors import CribError


class FromDesk(Message):
    """Something came back from the desk.

    Args:
        slot: which question of the screen it belongs to.
        number: the question's number; an older one is stale.
    """

    def __init__(self, slot: str, number: int) -> None:
        super().__init__()
        self.slot = slot
        self.number = number


class Answered(FromDesk):
    """The desk answered."""

    def __init__(self, slot: str, number: int, answer: object) -> None:
        super().__init__(slot, number)
        self.answer = answer


class Refused(FromDesk):
    """The desk said what was wrong."""

    def __init__(self, slot: str, number: int, error: CribError) -> None:
        super().__init__(slot, number)
        self.error = error


class Broke(FromDesk):
    """Something went wrong that nobody foresaw."""

    def __init__(self, slot: str, number: int, error: Exception) -> None:
        super().__init__(slot, number)
        self.error = error
