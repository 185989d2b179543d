"""What makes a cut harder than the tables' even one: skin, weld, interruption."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions:
    """The conditions of a cut, as told.

    Attributes:
        scale: mill scale or forging skin.
        sand: sand skin of a casting.
        flame_cut: flame-cut edge.
        weld: weld in the way of the cut.
        interrupted: interrupted cut.
    """

    scale: bool = False
    sand: bool = False
    flame_cut: bool = False
    weld: bool = False
    interrupted: bool = False

    @property
    def conditions(self) -> tuple[str, ...]:
        """What lowers speed and feed, in the words of the table "speed_factors"."""
        told = {
            "scale": self.scale,
            "sand": self.sand,
            "flame cut": self.flame_cut,
            "weld": self.weld,
            "interrupted": self.interrupted,
        }
        return tuple(word for word, there in told.items() if there)


BLOWS = ("interrupted", "weld")  # the tool is struck: a weld stands up and lies hard and soft
SKINS = ("scale", "sand", "flame cut", "weld")


def is_interrupted(conditions: tuple[str, ...]) -> bool:
    """Tell whether the tool is struck: half the depth of the edge then, and blows on top of the forces."""
    return any(word in BLOWS for word in conditions)
