"""Finding by some words: what can be picked, and which of it holds every word that was typed."""

from typing import Any, NamedTuple


class Choice(NamedTuple):
    """A row to pick: `group` and `says` stand beside the word; `value` is what picking gives. `also` are other words by
    which it is found; the one that was meant is then shown. `after` puts it behind others that are found as well.
    """

    word: str
    says: str
    value: Any
    group: str = ""
    also: tuple[str, ...] = ()
    after: int = 0


def rank(choices: list[Choice], query: str) -> list[Choice]:
    """The choices that hold every word of `query`: those whose word begins with it first, then by where it stands; last
    those that hold it in their other words.
    """
    words = query.casefold().split()
    if not words:
        return choices

    def score(choice: Choice) -> tuple[int, int] | None:
        word, text = choice.word.casefold(), f"{choice.word} {choice.group} {choice.says}".casefold()
        whole = " ".join(words)
        if not all(part in text for part in words):
            return (3 + choice.after, 0) if meant(choice, query) else None
        tier = 0 if word.startswith(whole) else 1 if whole in word else 2
        return (tier + choice.after, text.index(words[0]))

    scored = [(points, index) for index, choice in enumerate(choices) if (points := score(choice)) is not None]
    return [choices[index] for _, index in sorted(scored)]


def meant(choice: Choice, query: str) -> str:
    """The one of a choice's other words that holds every word of `query`; "" when none does."""
    words = query.casefold().split()
    return next((other for other in choice.also if all(part in other.casefold() for part in words)), "")
