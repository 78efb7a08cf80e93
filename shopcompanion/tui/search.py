"""Finding by words: what can be picked, what of it holds every word that was typed, and what answers a question."""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from ..record import NamedTuple


class PickerRow(NamedTuple):
    """A row to pick: `group` and `says` stand beside the word; `value` is what picking gives. `also` are other words by
    which it is found; the one that was meant is then shown. `after` puts it behind others that are found as well.
    """

    word: str
    says: str
    value: Any
    group: str = ""
    also: tuple[str, ...] = ()
    after: int = 0


def rank(choices: list[PickerRow], query: str) -> list[PickerRow]:
    """The choices that hold every word of `query`: those whose word begins with it first, then by where it stands; last
    those that hold it in their other words.
    """
    words = query.casefold().split()
    if not words:
        return choices

    def score(choice: PickerRow) -> tuple[int, int] | None:
        word, text = choice.word.casefold(), f"{choice.word} {choice.group} {choice.says}".casefold()
        whole = " ".join(words)
        if not all(part in text for part in words):
            return (3 + choice.after, 0) if meant(choice, query) else None
        tier = 0 if word.startswith(whole) else 1 if whole in word else 2
        return (tier + choice.after, text.index(words[0]))

    scored = [(points, index) for index, choice in enumerate(choices) if (points := score(choice)) is not None]
    return [choices[index] for _, index in sorted(scored)]


def meant(choice: PickerRow, query: str) -> str:
    """The one of a choice's other words that holds every word of `query`; "" when none does."""
    words = query.casefold().split()
    return next((other for other in choice.also if all(part in other.casefold() for part in words)), "")


# Words of a question that say nothing of what is asked.
_IDLE = frozenset((
    "a", "about", "all", "an", "and", "any", "are", "at", "be", "by", "can", "change", "could", "do", "does",
    "for", "from", "get", "go", "have", "how", "i", "if", "in", "into", "is", "it", "its", "keep", "look",
    "make", "me", "my", "need", "no", "not", "of", "on", "one", "or", "our", "out", "put", "see", "set",
    "should", "show", "so", "some", "that", "the", "their", "them", "there", "this", "to", "use", "want", "was",
    "way", "what", "when", "where", "which", "who", "why", "will", "with", "would", "you", "your",
))  # fmt: skip
_WIDER = {  # a word and what it is one of
    **dict.fromkeys(("mast", "boom", "gaff", "yard", "bowsprit", "pole", "stick"), "spar"),
    **dict.fromkeys(("mm", "metres", "centimetres"), "millimetres"),
    **dict.fromkeys(("feet", "inch"), "inches"),
    **dict.fromkeys(("wood", "lumber", "plank"), "timber"),
}
_ENDINGS = ("iest", "ing", "est", "ies", "ier", "er", "ed", "es", "s", "y")
_MOST = 12  # answers to a question


def answers(choices: Sequence[PickerRow], question: str) -> list[PickerRow]:
    """What a question in words is about, the best first: `how do I make a mast lighter?`.

    Words that say nothing are passed over, endings too. First comes what holds the whole question in one of its other
    words, then what holds most of it; a word that few choices have counts for more, and so does one in a choice's name.
    Nothing when less than half of the words are there.
    """
    words = [_stem(word) for word in _words(question) if word not in _IDLE]
    if not words:
        return []
    weights = [_weights(choice, words) for choice in choices]
    rare = [1 / max(1, sum(bool(weight[n]) for weight in weights)) for n in range(len(words))]
    scored = []
    for place, (choice, weight) in enumerate(zip(choices, weights, strict=True)):
        if 2 * sum(map(bool, weight)) >= len(words):
            whole = any(all(_meets(word, _stems(phrase)) for word in words) for phrase in choice.also)
            score = sum(worth * share for worth, share in zip(weight, rare, strict=True))
            scored.append((not whole, -sum(map(bool, weight)), -score, choice.after, place))
    return [choices[place] for *_, place in sorted(scored)[:_MOST]]


def _words(text: str) -> list[str]:
    return re.findall(r"[\w'-]+", text.casefold())


@lru_cache(maxsize=4096)
def _stem(word: str) -> str:
    """A word without its ending.

    >>> [_stem(word) for word in ("lighter", "lightest", "printing", "heavy", "heavier")]
    ['light', 'light', 'print', 'heav', 'heav']
    """
    word = word.removesuffix("'s")
    for ending in _ENDINGS:
        if word.endswith(ending) and len(word) - len(ending) > 2:
            return word.removesuffix(ending)
    return word


@lru_cache(maxsize=1024)
def _stems(text: str) -> frozenset[str]:
    return frozenset(_stem(word) for word in _words(text))


def _weights(choice: PickerRow, words: list[str]) -> list[int]:
    """How well every word is met: in the choice's own word, in what is said of it, in its other words, or not."""
    parts = ((4, choice.word), (3, f"{choice.group} {choice.says}"), (2, " ".join(choice.also)))
    stems = [(worth, _stems(text)) for worth, text in parts]
    return [max((worth for worth, held in stems if _meets(word, held)), default=0) for word in words]


def _meets(word: str, held: frozenset[str]) -> bool:
    wider = _stem(_WIDER.get(word, word))
    return word in held or wider in held or (len(word) > 2 and any(stem.startswith(word) for stem in held))
