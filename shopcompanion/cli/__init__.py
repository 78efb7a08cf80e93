"""The command line: a command for every calculator, commands for the boats, and the way into the app."""


def run() -> None:
    """The console script: `main` for this process, which ends with its status, cleanly whatever happens."""
    import gc

    gc.disable()  # a lookup, imports and all, is over before a collection would pay
    import os
    import sys

    status = 1
    try:
        from .main import main

        status = main(sys.argv[1:])
    except BrokenPipeError:  # whoever read the output has had enough
        status = 0
    except KeyboardInterrupt:
        status = 130
    except Exception as error:
        if os.environ.get("SHOPCOMPANION_DEBUG"):
            raise
        from ..errors import printable
        from .output import complain

        complain(printable(f"unforeseen, please report it: {type(error).__name__}: {error}", 300))
    gc.freeze()  # nor is anything that is left worth one on the way out
    sys.exit(status)
