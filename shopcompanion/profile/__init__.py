"""What a boat's profile says: its records, read from TOML, validated, and followed by the calculators."""
