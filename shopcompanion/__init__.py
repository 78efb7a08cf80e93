"""The shop companion: every sum a small boat's spars ask for, before the saw starts."""


def version() -> str | None:
    """The version that is installed, None when none is."""
    from importlib.metadata import PackageNotFoundError
    from importlib.metadata import version as installed

    try:
        return installed("shopcompanion")
    except PackageNotFoundError:
        return None
