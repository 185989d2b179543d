"""The pilot's waiting times that conftest.py shortens are still where they were."""

from textual._wait import wait_for_idle


def test_the_waiting_times_are_read_when_waiting():
    assert {"SLEEP_GRANULARITY", "SLEEP_IDLE"} <= set(wait_for_idle.__code__.co_names)
