"""Every number on a card is a calculator's: the command line, asked the same question, gives it in its JSON."""

import json
import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from shopcompanion.calculator import Table
from shopcompanion.card.ask import Asked
from shopcompanion.card.step import Step
from shopcompanion.card.steps import steps
from shopcompanion.catalog import load
from shopcompanion.cli.main import main
from shopcompanion.fields import Length
from shopcompanion.lengths import FINEST, Rule, show
from shopcompanion.profile.records import Spar
from shopcompanion.stock.blanks import whole

from .boats import PATHS, boat, spars

# A length in words, an angle or a speed of turning.
NUMBER = re.compile(
    r"-?(?:[0-9]+ ft )?[0-9]+(?:-[0-9]+/[0-9]+|/[0-9]+|\.[0-9]+)? (?:in|mm|ft)\b(?: full| bare|, rounded (?:up|down))?"
    r"|[0-9.]+°|[0-9 ]*[0-9] rpm"
)


@pytest.fixture(scope="module")
def profiles(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("boats")
    for path in PATHS.values():
        shutil.copy(path, folder)
    return folder


Answer = Callable[[Asked], dict[str, Any]]


@pytest.fixture
def ask(profiles: Path, capsys: pytest.CaptureFixture[str]) -> Callable[[str, str], Answer]:
    """Put a question of a card to the command line, for a spar of a boat."""

    def for_spar(name: str, of: str) -> Answer:
        def answer(asked: Asked) -> dict[str, Any]:
            about = ["--boat", name, "--spar", of, "--profiles", str(profiles), "--json"]
            assert main([asked.calculator, *about, *asked.options()]) == 0
            answer: dict[str, Any] = json.loads(capsys.readouterr().out)
            return answer

        return answer

    return for_spar


@pytest.mark.parametrize(("name", "of"), spars())
def test_every_number_is_a_calculators(name: str, of: str, ask: Callable[[str, str], Answer]) -> None:
    of_boat, answer = boat(name), ask(name, of)
    wanted, rule = of_boat.spar(of), of_boat.rule
    known = own(wanted, rule)
    blank = whole(of_boat, wanted, rule)  # the cutting plan's
    known |= {show(size, rule) for size in (blank.thickness, blank.width, blank.length)}
    answers: dict[Asked, dict[str, Any]] = {}
    for step in steps(of_boat, wanted, rule):
        for asked in step.asked:
            if asked not in answers:
                answers[asked] = answer(asked)
        results = [answers[asked] for asked in step.asked]
        texts = known | {text for result in results for text in texts_of(result, rule)}
        texts |= {show(asked.at, rule) for asked in step.asked if asked.at is not None}
        for number in numbers(step):
            assert number in texts, f"{number} of {step.id}"
        values = {value for result in results for value in values_of(result)} | lengths_of(wanted)
        values |= {asked.at for asked in step.asked if asked.at is not None}
        places = {round(value, 6) for value in values}
        for value in values_in(step.tables):
            assert round(value, 6) in places, f"{value} of {step.id}"


def numbers(step: Step) -> Iterator[str]:
    for line in (*step.says, *step.setup, *step.checks):
        for number in NUMBER.finditer(line):
            yield number[0].strip()


def values_in(tables: tuple[Table, ...]) -> Iterator[float]:
    for table in tables:
        for row in table.rows:
            yield from (value for value in row if isinstance(value, float))


def own(spar: Spar, rule: Rule) -> set[str]:
    """What the card may say of the profile and of the rule itself."""
    ridge = 25.4 / 64 if rule.unit == "in" else 0.5  # said as it is, whatever the rule
    return (
        {show(mm, rule) for mm in lengths_of(spar)}
        | {show(ridge, FINEST[rule.unit])}
        | {str(rule), show(float(rule.step), rule), "90°"}  # and a right angle
    )


def lengths_of(spar: Spar) -> set[float]:
    places = [part.at for part in (*spar.stations, *spar.joints, *spar.fittings)]
    cut = ("length", "flat", "hole", "slot", "slot_long", "bar", "bar_deep", "barrel", "barrel_deep")
    sizes = [size for fitting in spar.fittings for name in cut if (size := getattr(fitting, name))]
    middles = [
        (fitting.middle(spar.length), (long or 0.0) / 2)
        for fitting in spar.fittings
        for long in (fitting.length, fitting.slot_long)
    ]
    sizes += [middle + way * half for middle, half in middles for way in (-1, 0, 1)]
    regions = [
        mm
        for region in spar.regions
        for mm in (region.from_, region.to, region.from_ - region.run_out, region.to + region.run_out)
    ]
    regions += [spar.square_to + spar.square_run_out] if spar.square_to else []
    if spar.wall:  # the bore, and where there is none
        outline = spar.outline()
        sides = [outline.width_at(at) for at in (*places, 0.0, spar.length)]
        near = [(at, outline.width_at(at)) for at in (*(joint.at for joint in spar.joints), 0.0, spar.length)]
        near += [(middle, half + outline.width_at(middle) / 2) for middle, half in middles]
        solid = [at + way * wide for at, wide in near for way in (-1, 1)] + regions
        ends = solid + [at + way * 2 * outline.widest for at in solid for way in (-1, 1)]
        rows = [at for at in ends if 0 <= at <= spar.length]
        rows += [float(at) for k in range(int(spar.length // 304.8) + 1) for at in [304.8 * k]]
        sides += [outline.width_at(at) for at in rows]
        sizes += [*rows, *(side - 2 * spar.wall for side in sides), *(side / 2 - spar.wall for side in sides)]
    single = [
        38.1,
        spar.square_to,
        spar.square_run_out,
        spar.wall,
        spar.bow,
        spar.length,
        3.175,
        3.0,
    ]  # and the planing
    return {mm for mm in (*places, *sizes, *regions, *single) if mm is not None}


def texts_of(result: dict[str, Any], rule: Rule) -> Iterator[str]:
    for entry in (*result["inputs"].values(), *result["answers"].values()):
        yield from NUMBER.findall(str(entry["text"]))
        yield str(entry["text"])
        if "rounded" in str(entry["text"]) and isinstance(entry["value"], float):
            yield show(entry["value"], rule)  # in a sentence, by the nearest mark
    if "batten_off" in result["answers"]:  # said as outside or inside
        yield from (text.removeprefix("-") for text in [str(result["answers"]["batten_off"]["text"])])
    calculator = load(result["calculator"])
    known = {field.name: field.kind for field in (*calculator.input_fields, *calculator.answer_fields)}
    for table in result["tables"].values():
        for column, values in zip(table["columns"], zip(*table["rows"], strict=True), strict=True):
            kind = known.get(column) or Length("")
            if isinstance(kind, Length):
                yield from (show(value, rule) for value in values if isinstance(value, float))


def values_of(result: dict[str, Any]) -> Iterator[float]:
    for entry in (*result["inputs"].values(), *result["answers"].values()):
        if isinstance(entry["value"], float):
            yield entry["value"]
    for table in result["tables"].values():
        for row in table["rows"]:
            yield from (value for value in row if isinstance(value, float))
