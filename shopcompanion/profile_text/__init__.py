"""The one editor of TOML text that people wrote: a change touches what it changes, and every other byte stays."""
