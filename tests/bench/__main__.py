"""`python -m tests.bench [--json] [NAME …]`: how fast and how big, each figure beside a yardstick of the same run.

Figures are medians unless they say otherwise. They want a machine that does little else: the load is told at the top.
"""

import os
import sys

from . import beam, boats, keys, lookup, start, stock
from .figures import table

BENCHES = {
    "start": start.measure,
    "lookup": lookup.measure,
    "keys": keys.measure,
    "boats": boats.measure,
    "stock": stock.measure,
    "beam": beam.measure,
}


def main(argv: list[str]) -> int:
    names = [name for name in argv if name != "--json"] or list(BENCHES)
    if unknown := [name for name in names if name not in BENCHES]:
        print(f"no bench is called {', '.join(unknown)}; there are {', '.join(BENCHES)}", file=sys.stderr)
        return 2
    figures, load = [], os.getloadavg()[0]
    for name in names:
        print(f"{name} …", file=sys.stderr)
        figures += BENCHES[name]()
    if "--json" in argv:
        import json

        told = {"load": load, "figures": [figure.as_json() for figure in figures]}
        print(json.dumps(told, ensure_ascii=False, indent=1))
    else:
        print(f"load before it began: {load:.2f} on {os.cpu_count()} cores", *table(figures), sep="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
