"""A boat's name as the name of a file: always one plain word of letters, figures and hyphens, never a path."""

import re
import unicodedata

LONGEST = 60  # bytes, so that a number, an ending and a temporary file's mark still fit where names are shortest
# Names that some systems keep for devices, with any ending.
_DEVICES = r"con|prn|aux|nul|com\d|lpt\d|conin|conout|clock"


def slug(name: str) -> str:
    """The file name, without its ending, for a boat called `name`.

    >>> slug("Saltmarsh yawl"), slug("../../etc/passwd"), slug("CON"), slug("…")
    ('saltmarsh-yawl', 'etc-passwd', 'con-boat', 'boat')
    """
    plain = unicodedata.normalize("NFKC", name).casefold()
    word = "-".join(re.findall(r"[^\W_]+", unicodedata.normalize("NFC", plain)))
    word = word.encode("utf-8", "ignore")[:LONGEST].decode("utf-8", "ignore").strip("-")
    return f"{word}-boat" if re.fullmatch(_DEVICES, word) else word or "boat"
