"""Figures three lines high, to be read from three paces: a face of 3 × 5 dots drawn with half blocks."""

from functools import lru_cache

_HALVES = {(0, 0): " ", (1, 0): "▀", (0, 1): "▄", (1, 1): "█"}
# Five rows of dots, top to bottom; `#` is ink.
_FACE = {
    "0": "### #.# #.# #.# ###", "1": ".#. ##. .#. .#. ###", "2": "### ..# ### #.. ###", "3": "### ..# .## ..# ###",
    "4": "#.# #.# ### ..# ..#", "5": "### #.. ### ..# ###", "6": "### #.. ### #.# ###", "7": "### ..# ..# .#. .#.",
    "8": "### #.# ### #.# ###", "9": "### #.# ### ..# ###", "A": ".#. #.# ### #.# #.#", "B": "##. #.# ##. #.# ##.",
    "C": "### #.. #.. #.. ###", "D": "##. #.# #.# #.# ##.", "E": "### #.. ##. #.. ###", "F": "### #.. ##. #.. #..",
    "G": "### #.. #.# #.# ###", "H": "#.# #.# ### #.# #.#", "I": "### .#. .#. .#. ###", "J": "..# ..# ..# #.# ###",
    "K": "#.# #.# ##. #.# #.#", "L": "#.. #.. #.. #.. ###", "M": "#...# ##.## #.#.# #...# #...#",
    "N": "#..# ##.# #.## #..# #..#", "O": "### #.# #.# #.# ###", "P": "### #.# ### #.. #..", "Q": "### #.# #.# ### ..#",
    "R": "##. #.# ##. #.# #.#", "S": "### #.. ### ..# ###", "T": "### .#. .#. .#. .#.", "U": "#.# #.# #.# #.# ###",
    "V": "#.# #.# #.# #.# .#.", "W": "#...# #...# #.#.# ##.## #...#", "X": "#.# #.# .#. #.# #.#",
    "Y": "#.# #.# .#. .#. .#.", "Z": "### ..# .#. #.. ###", "-": "... ... ### ... ...", "/": "..# ..# .#. #.. #..",
    ".": ". . . . #", "'": "# # . . .", "°": "## ## .. .. ..", ",": ". . . # #", " ": ".. .. .. .. ..",
}  # fmt: skip


def large(text: str) -> list[str]:
    """`text` as three lines. Letters come out as capitals; a character the face has not stands as it is, small."""
    lines = ["", "", ""]
    for letter in text.upper():
        lines = [line + (" " if line else "") + part for line, part in zip(lines, _drawn(letter), strict=True)]
    return lines


@lru_cache(maxsize=128)
def _drawn(letter: str) -> tuple[str, ...]:
    dots = _FACE.get(letter)
    if dots is None:
        return " ", letter, " "
    rows = [*dots.split(" "), "." * len(dots.split(" ")[0])]
    return tuple(
        "".join([_HALVES[a == "#", b == "#"] for a, b in zip(rows[i], rows[i + 1], strict=True)]) for i in (0, 2, 4)
    )
