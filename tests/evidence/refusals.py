"""How a trade function refuses: which argument, what is wrong with it, and that a remedy is named."""

from __future__ import annotations

from typing import Any

import pytest

import shopfuncs
from shopfuncs.errors import ShopError


def refuses(name: str, call: tuple[Any, ...], argument: str, words: str) -> None:
    """Assert that the function refuses this call because of that argument, in these words."""
    with pytest.raises(ShopError) as raised:
        getattr(shopfuncs, name)(*call)
    assert raised.value.argument == argument
    assert words in raised.value.problem
    assert raised.value.remedy
