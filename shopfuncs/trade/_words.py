"""Words that several functions say alike."""

from __future__ import annotations

#: Where a casting is cracked, cut through or too thin.
REPAIR = "Welding, stitching or any other repair of a casting that is cracked or too thin lies outside these functions: ask a specialist."
