"""How many examples a property is tried on: the same ones every time, or more and new ones when asked for.

`SHOPCOMPANION_EXAMPLES=0.2` tries a fifth of them; `20` tries twenty times as many, drawn anew in every run.
"""

import os

SHARE = float(os.environ.get("SHOPCOMPANION_EXAMPLES", "1"))


def share(count: int) -> int:
    """So many of `count` examples as are asked for, three at least."""
    return max(3, round(count * SHARE))
