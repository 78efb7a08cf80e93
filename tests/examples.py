"""How much is tried: of the tests, and of the examples for a property.

`SHOPCOMPANION_EXAMPLES=0.2` tries each property on a fifth of its examples; `20` on twenty times as many, drawn anew in
every run. `SHOPCOMPANION_EVERY=20` runs every twentieth test.
"""

import os

SHARE = float(os.environ.get("SHOPCOMPANION_EXAMPLES", "1"))

EVERY = int(os.environ.get("SHOPCOMPANION_EVERY", "1"))


def share(count: int) -> int:
    """So many of `count` examples as are asked for, three at least."""
    return max(3, round(count * SHARE))
