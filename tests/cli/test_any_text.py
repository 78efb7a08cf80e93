"""Whatever is typed, the command line answers or says what is wrong, and nothing else."""

import io
from contextlib import redirect_stderr, redirect_stdout

from hypothesis import given
from hypothesis import strategies as st

from shopcompanion import catalog
from shopcompanion.cli.grammar import spelled
from shopcompanion.cli.main import main

from ..asked import GIVEN

NEAR = st.text(alphabet="0123456789-/ .,'\"=;inmft+*½", max_size=30) | st.text(max_size=140)


def ask(*argv: str) -> int:
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        status = main(argv)
    assert status in (0, 2)
    assert bool(out.getvalue()) == (status == 0)
    assert bool(err.getvalue()) == (status == 2)
    assert all(line.isprintable() for line in err.getvalue().split("\n"))
    return status


@given(st.data(), st.sampled_from(catalog.NAMES), NEAR)
def test_any_text_for_any_input(data, name, text):
    field = data.draw(st.sampled_from(catalog.load(name).typed_fields))
    option = spelled(field.name)
    given_already = GIVEN[name]
    pairs = [
        word
        for at in range(0, len(given_already), 2)
        if given_already[at] != option
        for word in given_already[at : at + 2]
    ]
    ask(name, *pairs, f"{option}={text}", *data.draw(st.sampled_from([(), ("--json",), ("--working", "--ascii")])))


WORDS = st.sampled_from(["facets", "drum", "--width", "--json", "--at", "-3", "--units", "mm", "--", "-", ""]) | NEAR


@given(st.lists(WORDS, max_size=8))
def test_any_line(argv):
    if argv and argv[0] in catalog.NAMES:
        ask(*argv)
    else:
        ask(*argv, "facets")
