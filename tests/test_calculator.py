"""What a calculator is: a wrong declaration never gets past import, and a result carries all that belongs to it."""

from typing import Annotated, Any

import pytest

from shopcompanion.calculator import RESERVED, Calculator, Column, Table, fields_of
from shopcompanion.errors import InputFault
from shopcompanion.fields import Choice, Count, Length, Pairs, Ratio, Turning
from shopcompanion.record import Record

from .asking import INCH_64, MM_01


class Inputs(Record):
    width: Annotated[float, Length("Width", above=0)]
    parts: Annotated[int, Count("Parts", at_least=1)] = 2


class Answers(Record):
    part: Annotated[float, Length("One part", formula="width / parts", source="sharing")]


def calculator(**changes: Any) -> Calculator:
    whole: dict[str, Any] = {
        "name": "share",
        "question": "How wide is one part?",
        "inputs": Inputs,
        "answers": Answers,
        "work": lambda inputs: Answers(part=inputs.width / inputs.parts),
        "headline": "part",
        "cautions": ("Mind the saw.",),
        "sources": ("Sharing.",),
    }
    return Calculator(**{**whole, **changes})


def record(name: str, fields: dict[str, Any], **defaults: Any) -> type[Record]:
    return type(name, (Record,), {"__annotations__": fields, **defaults})


def inputs_with(kind: Any, name: str = "width", **default: Any) -> type[Record]:
    return record("Inputs", {name: kind}, **({name: default["d"]} if default else {}))


def answers_with(**kind: Any) -> type[Record]:
    return record("Answers", {"part": Annotated[float, Length("One part", **kind)]})


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"inputs": inputs_with(float)}, r"Inputs\.width has no kind of field"),
        ({"inputs": inputs_with(Annotated[float, "mm"])}, r"Inputs\.width has no kind of field"),
        ({"inputs": inputs_with(Annotated[float, Length("a"), Ratio("b")])}, r"Inputs\.width has more than one kind"),
        ({"inputs": inputs_with(Annotated[int, Length("Width")])}, r"Inputs\.width is a int, not what a Length holds"),
        ({"inputs": inputs_with(Annotated[str | None, Length("Width")])}, r"width is a str, not what a Length holds"),
        ({"inputs": inputs_with(Annotated[float, Choice("Law", options=("a",))])}, r"width is a float, not what a Cho"),
        ({"inputs": inputs_with(Annotated[float, Length(" ")])}, r"Inputs\.width has no label"),
        ({"inputs": inputs_with(Annotated[float, Length("W", above=0)], d=0.0)}, r"Inputs\.width has a default out of"),
        ({"inputs": inputs_with(Annotated[int, Count("Parts")], d=2.5)}, r"Inputs\.width has a default out of"),
        ({"inputs": inputs_with(Annotated[float, Length("W")], d=float("nan"))}, r"Inputs\.width has a default out of"),
        ({"inputs": inputs_with(Annotated[float, Length("W")], d=None)}, r"width has no value by default but is not"),
        ({"inputs": inputs_with(Annotated[float, Length("W", follows="spar.girth")])}, r"width follows 'spar\.girth'"),
        ({"inputs": inputs_with(Annotated[float, Length("W", follows="width")])}, "width follows 'width', which is no"),
        ({"inputs": inputs_with(Annotated[float, Length("W")], name="part")}, "part is both an input and an answer"),
        ({"headline": "whole"}, "the headline 'whole' is none of the answers"),
        ({"answers": answers_with(formula="width / parts")}, "answer part has a formula without its source"),
        ({"answers": answers_with(formula="part", source="s")}, "the formula of part only names itself"),
        ({"answers": answers_with(formula="girth / parts", source="s")}, "formula of part speaks of 'girth'"),
    ],
)
def test_a_declaration_error_fails_at_import_and_names_the_field(changes: dict[str, Any], words: str) -> None:
    with pytest.raises(TypeError, match=words) as caught:
        calculator(**changes)
    assert str(caught.value).startswith("calculator share: ")


@pytest.mark.parametrize("name", RESERVED)
def test_the_command_line_keeps_some_names(name: str) -> None:
    with pytest.raises(TypeError, match=f"input {name} has a name that the command line keeps"):
        calculator(inputs=inputs_with(Annotated[float, Length("W")], name=name))


def test_every_fault_of_a_declaration_is_told_at_once() -> None:
    two = record("Inputs", {"width": float, "parts": Annotated[str, Count("Parts")]})
    with pytest.raises(TypeError, match=r"Inputs\.width has no kind.*Inputs\.parts is a str"):
        fields_of(two)


def test_a_list_is_what_its_kind_holds_and_not_what_it_is_a_list_of() -> None:
    rows = tuple[tuple[float, float], ...]
    (must,) = fields_of(record("Inputs", {"rows": Annotated[rows, Pairs("Rows")]}))
    (may,) = fields_of(record("Inputs", {"rows": Annotated[rows | None, Pairs("Rows")]}, rows=None))
    assert (must.optional, may.optional) == (False, True)
    with pytest.raises(TypeError, match=r"Inputs\.rows is a tuple, not what a Length holds"):
        fields_of(record("Inputs", {"rows": Annotated[rows, Length("Rows")]}))


def test_a_field_may_follow_an_earlier_one_or_a_boat() -> None:
    inputs = record(
        "Inputs",
        {
            "width": Annotated[float, Length("Width", follows="spar.width_at")],
            "other": Annotated[float | None, Length("Other", follows="width")],
        },
        other=None,
    )
    width, other = calculator(inputs=inputs, answers=answers_with(formula="width", source="s")).input_fields
    assert (width.required, width.optional) == (True, False)
    assert (other.required, other.optional, other.default) == (False, True, None)


def test_working_shows_the_formula_the_numbers_and_the_result() -> None:
    wide_calculator = calculator()
    result = wide_calculator.run(Inputs(width=88.9))
    (step,) = result.working()
    assert step == ("part", "One part", "width / parts", "width / parts", "3.5 / 2", "1-3/4 in", "sharing")
    assert wide_calculator.run(Inputs(width=88.9), MM_01).working()[0].put_in == "88.9 / 2"


def test_a_sum_is_worded_with_the_labels_and_has_the_constants_of_the_units_in_force() -> None:
    inputs = record("Inputs", {"width": Annotated[float, Length("Side of the stock")]})
    wide_calculator = calculator(inputs=inputs, answers=answers_with(formula="width² / {1728|1000}", source="s"))
    wide_calculator = calculator(
        inputs=inputs, answers=wide_calculator.answers, work=lambda given: wide_calculator.answers(part=1.0)
    )
    steps = [wide_calculator.run(inputs(width=254.0), rule).working()[0] for rule in (INCH_64, MM_01)]
    assert [step.formula for step in steps] == ["width² / 1728", "width² / 1000"]
    assert [step.words for step in steps] == ["(side of the stock)² / 1728", "(side of the stock)² / 1000"]
    assert [step.lines()[1] for step in steps] == ["= 10² / 1728", "= 254² / 1000"]


def test_what_has_no_formula_or_a_number_missing_is_no_step() -> None:
    nothing = record("Answers", {"part": Annotated[float, Length("One part", source="by eye")]})
    assert calculator(answers=nothing, work=lambda given: nothing(part=1.0)).run(Inputs(width=1)).working() == ()
    wide_calculator = calculator(formulas=lambda given: {"part": ""})
    assert wide_calculator.run(Inputs(width=1)).working() == ()
    inputs = record("Inputs", {"width": Annotated[float | None, Length("Width")]}, width=None)
    halves = calculator(inputs=inputs, answers=answers_with(formula="width / 2", source="s"))
    halves = calculator(inputs=inputs, answers=halves.answers, work=lambda given: halves.answers(part=1.0))
    assert halves.run(inputs()).working() == ()


def test_a_case_may_have_a_formula_of_its_own() -> None:
    wide_calculator = calculator(formulas=lambda inputs: {"part": "width"} if inputs.parts == 1 else {})
    assert [wide_calculator.run(Inputs(width=10, parts=n)).working()[0].formula for n in (1, 2)] == [
        "width",
        "width / parts",
    ]


def test_cautions_are_lines_or_depend_on_the_case() -> None:
    def wide(inputs: Inputs, answers: Answers) -> tuple[str, float] | None:
        return ("{} is wide.", inputs.width) if inputs.width > 100 else None

    wide_calculator = calculator(cautions=("Mind the saw.", wide))
    assert wide_calculator.run(Inputs(width=50)).cautions == ("Mind the saw.",)
    assert wide_calculator.run(Inputs(width=127)).cautions == ("Mind the saw.", "5 in is wide.")
    assert wide_calculator.run(Inputs(width=127), MM_01).cautions[1] == "127 mm is wide."


def test_lengths_in_a_fault_are_told_by_the_rule_in_force() -> None:
    def work(inputs: Inputs) -> Answers:
        raise InputFault("{} is more than {}", "width", (inputs.width, 25.4))

    wide_calculator = calculator(work=work)
    for rule, line in ((INCH_64, "width: 3-1/2 in is more than 1 in"), (MM_01, "width: 88.9 mm is more than 25.4 mm")):
        with pytest.raises(InputFault) as caught:
            wide_calculator.run(Inputs(width=88.9), rule)
        assert str(caught.value) == line


def test_json_has_unrounded_values_stable_names_and_units() -> None:
    rows = Table("sums", (Column("n", Count("N")), Column("w", Length("W"))), ((1, 1 / 3), (2, 2 / 3)))
    wide_calculator = calculator(tables=lambda inputs, answers: (rows,))
    assert wide_calculator.run(Inputs(width=100 / 3, parts=3)).as_json() == {
        "calculator": "share",
        "inputs": {
            "width": {"value": 100 / 3, "unit": "mm", "text": "1-5/16 in"},
            "parts": {"value": 3, "unit": "1", "text": "3"},
        },
        "answers": {"part": {"value": 100 / 3 / 3, "unit": "mm", "text": "7/16 in"}},
        "tables": {"sums": {"columns": ["n", "w"], "units": ["1", "mm"], "rows": [[1, 1 / 3], [2, 2 / 3]]}},
        "cautions": ["Mind the saw."],
        "sources": ["Sharing."],
        "working": [
            {
                "name": "part",
                "formula": "width / parts",
                "with": "1.31234 / 3",
                "result": "7/16 in",
                "source": "sharing",
            }
        ],
    }


def test_an_answer_that_there_is_not_has_no_working() -> None:
    answers = record("Answers", {"speed": Annotated[float | None, Turning("Speed", formula="width", source="s")]})
    wide_calculator = calculator(answers=answers, headline="speed", work=lambda inputs: answers(speed=None))
    result = wide_calculator.run(Inputs(width=1))
    assert result.working() == ()
    assert result.as_json()["answers"]["speed"] == {"value": None, "unit": "rpm", "text": "—"}
