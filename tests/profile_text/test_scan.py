"""Where the tables stand, against tomllib: the sections put together are the text, and each holds what tomllib says."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.profile_text.scan import sections

from .test_edit_boat import STYLES, WRITTEN

KEY = st.sampled_from(["a", "b", '"q [x]"', "'l'"])
VALUE = st.sampled_from([
    "1", '"[x]"', "'[[y]]'", '"""\n[z]\n"""', "'''\n[[w]]'''''", '[ 1, "]",\n [2] # [v]\n]',
    '{ k = "}", l = ["[u]"] }', '"\\""', '"""a\\""""', '""""b"""', "''", '""',
])  # fmt: skip
HEADER = st.sampled_from(["[{}]", "  [ {} ]  # [no]", "[[{}]]", "[['t'.{}]]", "[s.{}] # ]"])


@st.composite
def texts(draw: st.DrawFn) -> tuple[str, list[str]]:
    """A TOML text and its headers in order, none of them twice."""
    blocks, headers = [], []
    for n in range(draw(st.integers(0, 4))):
        if n:
            header = draw(HEADER).format(f"h{n}")
            headers.append(header)
            blocks.append(header)
        for k in range(draw(st.integers(0, 3))):
            blocks.append(
                f"{draw(st.sampled_from(['', '  ']))}k{k} = {draw(VALUE)} {draw(st.sampled_from(['', '# c [x]']))}"
            )
        blocks.extend(draw(st.lists(st.sampled_from(["", "# [c]", "\t"]), max_size=2)))
    return "\n".join(blocks) + draw(st.sampled_from(["", "\n"])), headers


@given(texts())
def test_sections_are_the_text_and_begin_at_its_headers(made: tuple[str, list[str]]) -> None:
    text, headers = made
    tomllib.loads(text)
    every = sections(text)
    assert "".join(text[section.start : section.end] for section in every) == text
    assert len(every) == len(headers) + 1
    for section, header in zip(every[1:], headers, strict=True):
        assert text[section.start : section.end].startswith(header)
        assert section.is_row == header.strip().startswith("[[")
    for section in every:
        rest = text[section.content_end : section.end]
        assert all(not line.strip() or line.strip().startswith("#") for line in rest.split("\n"))
        assert tomllib.loads(text[section.start : section.content_end]) == tomllib.loads(
            text[section.start : section.end]
        )


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("layout", WRITTEN)
def test_the_awkward_layouts_are_found(layout: str, style: str) -> None:
    text = STYLES[style](WRITTEN[layout]).removeprefix("\ufeff")
    rows = [section for section in sections(text) if section.path == ("preset",) and section.is_row]
    assert len(rows) == (0 if layout == "an array of its own" else 2)
