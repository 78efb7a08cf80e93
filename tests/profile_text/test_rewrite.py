"""Places and pieces of a TOML text, against tomllib: what is put in is read, what is left stays to the byte."""

import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.profile_text.relist import relisted
from shopcompanion.profile_text.rewrite import toml, with_key
from shopcompanion.profile_text.scan import items, pairs, sections

from .test_edit_boat import STYLES, WRITTEN
from .test_scan import texts

GAP = st.sampled_from(["", " ", "\n", "\n  ", " # said\n", "\n  # said\n  ", "\r\n\t"])
BODY = st.sampled_from([
    "1", '"a, ] # b"', "'}'", "[ 2,\n 3 # c\n]", '{ k = "]", l = [1] }', "2026-05-02", "1979-05-27 07:32:00Z", "true",
    '"""\n, """',
])  # fmt: skip


@st.composite
def lists(draw: st.DrawFn) -> tuple[str, list[str]]:
    """A list in TOML, with remarks and commas wherever they can be, and its items."""
    bodies = draw(st.lists(BODY, max_size=5))
    text = "["
    for n, body in enumerate(bodies):
        text += draw(GAP) + body
        text += draw(GAP) + "," if n + 1 < len(bodies) or draw(st.booleans()) else ""
    return text + draw(GAP) + "]", bodies


def value(text: str) -> Any:
    return tomllib.loads(f"x = {text}")["x"]


@given(lists())
def test_the_items_of_a_list_are_those_that_are_read(made: tuple[str, list[str]]) -> None:
    text, bodies = made
    opener, elements, closer, _ = items(text, 0, len(text))
    assert [text[item.start : item.end] for item in elements] == bodies
    assert opener.startswith("[")
    assert closer.endswith("]")


@given(lists(), st.booleans())
def test_a_list_with_nothing_changed_is_the_same_text(made: tuple[str, list[str]], braced: bool) -> None:
    text, bodies = made
    if bodies:
        assert relisted(text, list(enumerate(bodies)), braced=braced) == text


@given(lists(), st.data())
def test_a_list_takes_any_items_in_any_order_and_keeps_the_remarks_between(
    made: tuple[str, list[str]], data: st.DataObject
) -> None:
    text, bodies = made
    order = data.draw(st.permutations(range(len(bodies)))) if bodies else []
    kept: list[tuple[int | None, str]] = [(n, bodies[n]) for n in order if data.draw(st.booleans())]
    for place in data.draw(st.lists(st.integers(0, 6), max_size=3)):
        kept.insert(place, (None, '"new"'))
    changed = relisted(text, kept)
    assert value(changed) == [value(body) for _, body in kept]
    if bodies and {n for n, _ in kept} >= set(range(len(bodies))):
        assert changed.count("# said") >= text.count("# said")
    own_lines = sum(line.strip() == "# said" for line in text.split("\n"))
    if bodies and not any("\n" in item.late for item in items(text, 0, len(text)).items):
        assert changed.count("# said") >= own_lines


def test_remarks_on_lines_of_their_own_stay_when_an_item_goes() -> None:
    text = "[\n  # all\n  1, # one\n\n  # the rest\n  2,\n  3, # three\n]"
    assert relisted(text, [(1, "2"), (2, "3")]) == "[\n  # all\n\n  # the rest\n  2,\n  3, # three\n]"
    assert relisted(text, [(0, "1"), (2, "3")]) == "[\n  # all\n  1, # one\n\n  # the rest\n  3, # three\n]"
    assert relisted(text, [(0, "1")]) == "[\n  # all\n  1, # one\n\n  # the rest\n]"
    assert relisted(text, [(1, "2"), (0, "1")]) == "[\n\n  # the rest\n  2,\n  # all\n  1, # one\n]"


def test_a_list_grows_in_the_manner_in_which_it_is_written() -> None:
    comma_first = '[\n    { at = "0" } # heel\n  , { at = "2" }\n]'
    assert relisted(comma_first, [(0, '{ at = "0" }'), (None, '{ at = "1" }'), (1, '{ at = "2" }')]) == (
        '[\n    { at = "0" } # heel\n  ,    { at = "1" }\n  , { at = "2" }\n]'
    )
    assert relisted("[{}, {} ]", [(0, "{}"), (1, "{}"), (None, "{}")]) == "[{}, {}, {} ]"
    assert relisted("[ # of oak\n]", [(None, "1"), (None, "2")]) == "[ # of oak\n    1,\n    2,\n]"
    assert relisted("[]", [(None, "{}"), (None, "{}")], "\t") == "[\n\t    {},\n\t    {},\n\t]"
    assert relisted("[]", [(None, "{}"), (None, "{}")], braced=True) == "[{}, {}]"


@given(texts())
def test_the_keys_of_every_section_are_those_that_are_read(made: tuple[str, list[str]]) -> None:
    text, _ = made
    read = {
        pair.key[-1]: value(text[pair.value : pair.end])
        for section in sections(text)
        for pair in pairs(text, text.find("\n", section.start) if section.path else 0, section.content_end)
    }
    values: dict[str, Any] = {}

    def walk(inner: Any) -> None:
        for key, inside in inner.items() if isinstance(inner, dict) else [("", row) for row in inner]:
            if key.startswith("k"):
                values[key] = inside
            elif isinstance(inside, dict | list):
                walk(inside)

    walk(tomllib.loads(text))
    assert read.keys() == values.keys()


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("layout", WRITTEN)
def test_every_key_of_the_awkward_layouts_is_found_where_its_value_stands(layout: str, style: str) -> None:
    text = STYLES[style](WRITTEN[layout]).removeprefix("\ufeff")
    for section in sections(text):
        start = text.find("\n", section.start) if section.path else 0
        body = tomllib.loads(text[start : section.content_end])
        for key, _, begin, end in pairs(text, start, section.content_end):
            there: Any = body
            for part in key:
                there = there[part]
            assert there == value(text[begin:end]) or isinstance(there, dict)


ORDER = ("a", "b", "c", "d")


@given(
    st.permutations(ORDER).flatmap(lambda all_: st.integers(0, 4).map(lambda n: all_[:n])),
    st.sampled_from(ORDER),
    st.one_of(st.none(), st.text(max_size=8), st.integers()),
    st.booleans(),
    st.sampled_from(["", "  ", "\t"]),
)
def test_a_key_is_set_and_taken_out_and_the_others_stay(
    there: list[str], key: str, new: str | int | None, braced: bool, indent: str
) -> None:
    body = [f"{name} = '{name}'" for name in there]
    lines = "".join(f"{indent}{pair} # of {pair[0]}\n" for pair in body)
    part = f"{{ {', '.join(body)} }}" if braced else f"[[x]] # head\n{lines}"
    changed = with_key(part, key, None if new is None else toml(new), ORDER)
    read = value(changed) if braced else tomllib.loads(changed)["x"][0]
    wanted = {name: name for name in there if name != key} | ({} if new is None else {key: new})
    assert read == wanted
    if not braced:
        assert all(f"of {name}" in changed for name in there if name != key or new is not None)
    if key not in there:
        assert with_key(changed, key, None, ORDER) == part or (braced and not there)


@given(st.one_of(st.text(), st.lists(st.text())))
def test_any_text_goes_into_toml_and_comes_back(new: Any) -> None:
    assert value(toml(new)) == new


def test_a_text_keeps_its_quotes() -> None:
    assert with_key("{ a = 'x' }", "a", toml("y"), ORDER) == "{ a = 'y' }"
    assert with_key("{ a = 'x' }", "a", toml("it's"), ORDER) == '{ a = "it\'s" }'
    assert with_key('{ a = "x" }', "a", toml('2"'), ORDER) == "{ a = '2\"' }"
