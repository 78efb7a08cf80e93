"""Big boats and many boats: the time to open against the stations, and a folder of thousands."""

import os
import tomllib
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

from shopcompanion.profile import toml
from shopcompanion.profile.parse import read
from shopcompanion.storage.store import Listing, find, listings, open_boat, places

from .figures import Figure, in_turn, medians
from .start import NORMAL, Starts, quick

LINEAR = 1.15  # times the time of a station in the smaller boat
LISTED = 500.0  # ms for the whole folder
STARTED = 1.3  # times the start with one boat; the system takes most of the rest to tell the times of the files


def boat_text(spars: int, stations: int) -> str:
    """A boat's profile: every spar 10 m long, with evenly spread stations."""
    lines = ['format = 1\n[boat]\nname = "Many spars"\nunits = "mm"\n']
    for number in range(spars):
        lines.append(f'[[spar]]\nname = "spar {number}"\nlength = "10 m"\nstations = [')
        for k in range(stations):
            at, width = 10000 * k / (stations - 1), 60 + (k * 37 + number) % 41
            lines.append(f'    {{ at = "{at:.2f} mm", width = "{width} mm" }},')
        lines.append("]")
    return "\n".join(lines) + "\n"


def _timed(act: object, *given: object) -> float:
    started = perf_counter()
    act(*given)  # type: ignore[operator]
    return (perf_counter() - started) * 1e3


def _opened_anew(listing: Listing) -> None:
    for known in (read, toml.parsed, toml._part):
        known.cache_clear()
    open_boat(listing)


def opening(spars: tuple[int, ...], stations: int, runs: int) -> list[Figure]:
    """Opening boats of so many spars, against reading their TOML alone; and the time of a station, which is to stay."""
    figures = []
    with TemporaryDirectory() as folder:
        each = []
        for count in spars:
            text = boat_text(count, stations)
            Path(folder, f"boat-{count}.toml").write_text(text, encoding="utf-8")
            listing = find(places(folder), f"boat-{count}")
            assert open_boat(listing).reading.faults == ()
            least, value = medians(runs, [lambda: _timed(tomllib.loads, text), lambda: _timed(_opened_anew, listing)])  # noqa: B023
            each.append(value / (count * stations) * 1e3)
            name = f"opening {count} spars of {stations:,} stations"
            figures.append(Figure(name, value, "ms", "tomllib alone", least, None, runs))
    name, beside = f"the same, one station of {spars[-1]} spars", f"one of {spars[0]} spars"
    return [*figures, Figure(name, each[-1], "µs", beside, each[0], LINEAR, runs)]


def many(boats: int, runs: int, starts: int) -> list[Figure]:
    """Listing a folder of so many boats, against asking the system for each file; and a start with it."""
    with TemporaryDirectory() as folder, TemporaryDirectory() as small:
        text = boat_text(1, 4)
        for number in range(boats):
            Path(folder, f"boat-{number:05}.toml").write_text(text, encoding="utf-8")
        example = find(places(small), "saltmarsh-yawl").path.read_bytes()
        for place in (folder, small):
            newest = Path(place, "zz-saltmarsh-yawl.toml")
            newest.write_bytes(example)
            os.utime(newest, (4_000_000_000, 4_000_000_000))
        least, value = medians(runs, [lambda: _timed(_stat_all, folder), lambda: _timed(listings, places(folder))])
        name = f"listing {boats:,} boats"
        figures = [Figure(name, value, "ms", "scandir and stat", least, LISTED, runs, of_value=True)]
        if starts:
            app = Starts()
            taken = in_turn(starts, [lambda: app.app(small, NORMAL), lambda: app.app(folder, NORMAL)])
            one, all_of_them = map(quick, taken)
            figures.append(
                Figure(f"start with {boats:,} boats", all_of_them, "ms", "start with one boat", one, STARTED, starts)
            )
        return figures


def _stat_all(folder: str) -> int:
    with os.scandir(folder) as entries:
        return sum(entry.stat().st_size for entry in entries)


def measure(
    spars: tuple[int, ...] = (50, 100, 200), stations: int = 1000, boats: int = 10_000, runs: int = 3, starts: int = 9
) -> list[Figure]:
    starting = many(boats, max(runs, 7), starts)  # first: a start by a process that holds much is slow
    return [*opening(spars, stations, runs), *starting]
