"""The timber that an input of a calculator names."""

from ..errors import InputFault
from ..timber.species import Own, Species, find


def timber_asked(name: str, own: Own | None, field: str = "species") -> Species:
    """The timber of that name, the boat's own first. InputFault of the field, with the nearest names, for none."""
    try:
        return find(name, own)
    except InputFault as fault:
        raise InputFault(fault.reason, field) from None
