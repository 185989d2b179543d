"""What the tests of the screens share, for whole jobs done on them."""

from tui.conftest import brisk_pilot as brisk_pilot
from tui.conftest import until as until
