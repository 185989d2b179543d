"""The one list of actions: every entry is bound, shown and explained."""

import pytest

from crib.tui.actions import ACTIONS, EVERYWHERE, SCREEN_NAMES, actions_of
from crib.tui.books import BOOKS
from crib.tui.screens.backups import AuditScreen, BackUpScreen, ExportScreen, RestoreScreen
from crib.tui.screens.begin import BeginScreen
from crib.tui.screens.books import BooksScreen
from crib.tui.screens.chatter import ChatterScreen
from crib.tui.screens.claim import ClaimScreen
from crib.tui.screens.claim_forms import ClaimForm, NewClaimScreen
from crib.tui.screens.decode import DecodeScreen
from crib.tui.screens.evidence import AddEvidenceScreen, EvidenceScreen, WithdrawEvidenceScreen
from crib.tui.screens.find import FindScreen
from crib.tui.screens.headings import ColumnScreen, HeadingsScreen, KeepHeadingsScreen
from crib.tui.screens.help import help_lines
from crib.tui.screens.intake import PreviewScreen
from crib.tui.screens.item import ItemScreen
from crib.tui.screens.kits import ChooseScreen, KitScreen, NeedScreen
from crib.tui.screens.listed import FileScreen
from crib.tui.screens.lists import LeavingScreen, WhoLeavesScreen
from crib.tui.screens.machines import MachinesScreen
from crib.tui.screens.missing_parts import PartScreen
from crib.tui.screens.people import GoneScreen, NewPlaceScreen, PersonScreen
from crib.tui.screens.pick import PickScreen
from crib.tui.screens.proven import ProvenFormScreen, WithdrawScreen
from crib.tui.screens.restock import LeftOfScreen, LeftScreen, MinimumScreen
from crib.tui.screens.setups import MeasureScreen, SetupsScreen
from crib.tui.screens.worth import AddWorthScreen, OriginScreen, WorthScreen

SCREENS = [
    *(FindScreen, ItemScreen, DecodeScreen, PickScreen, MachinesScreen, BooksScreen),
    *(SetupsScreen, MeasureScreen, ChatterScreen),
    *dict.fromkeys(type(book.open()) for book in BOOKS),
    *(FileScreen, LeftScreen, LeftOfScreen, MinimumScreen, KitScreen, NeedScreen, ChooseScreen, PartScreen),
    *(LeavingScreen, WhoLeavesScreen),
    *(ClaimScreen, NewClaimScreen, *ClaimForm.__subclasses__()),
    *(EvidenceScreen, AddEvidenceScreen, WithdrawEvidenceScreen, WorthScreen, AddWorthScreen, OriginScreen),
    *(ProvenFormScreen, WithdrawScreen),
    *(BeginScreen, PersonScreen, NewPlaceScreen, GoneScreen),
    *(BackUpScreen, RestoreScreen, ExportScreen, AuditScreen),
    *(PreviewScreen, HeadingsScreen, ColumnScreen, KeepHeadingsScreen),
]


def test_every_screen_with_keys_of_its_own_is_looked_at():
    assert {screen.AREA for screen in SCREENS} == set(SCREEN_NAMES) - {EVERYWHERE}


@pytest.mark.parametrize("screen", SCREENS)
def test_every_action_has_its_method(screen):
    for action in actions_of(screen.AREA, EVERYWHERE):
        assert callable(getattr(screen, f"action_{action.name.split('(')[0]}"))


@pytest.mark.parametrize("screen", SCREENS)
def test_no_key_means_two_things_on_a_screen(screen):
    keys = [key for action in actions_of(screen.AREA, EVERYWHERE) for key in action.keys]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize("screen", SCREENS)
def test_every_key_is_bound(screen):
    bound = {key for binding in screen.BINDINGS for key in binding.key.split(",")}
    assert {key for action in actions_of(screen.AREA, EVERYWHERE) for key in action.keys} == bound


def test_help_explains_every_action():
    text = "\n".join(line.text for line in help_lines("find", 400))
    for action in ACTIONS:
        assert f"{action.label}: {action.help}" in text


def test_help_starts_with_the_screen_it_was_asked_on():
    titles = [line.text for line in help_lines("pick", 80) if line.strong]
    assert titles[1] == "Pick"


def test_letters_are_not_offered_while_typing():
    for action in ACTIONS:
        shown = action.key_shown(typing=True)
        assert shown is None or len(shown) > 1
