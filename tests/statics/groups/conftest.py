"""Fixtures of the group tests."""

import os

import pytest


@pytest.fixture
def full_run() -> bool:
    """True when JOINTCALC_FULL=1 asks for the long form of a test."""
    return os.environ.get("JOINTCALC_FULL") == "1"
