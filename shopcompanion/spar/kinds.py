"""The kinds of spar, by the trade's names."""

SPARS = (
    "mast", "mizzen", "topmast", "bowsprit", "bumkin", "boom", "gaff", "yard", "sprit", "pole", "bitt", "other",
)  # fmt: skip
MASTS = ("mast", "mizzen", "topmast")  # what jaws go round
