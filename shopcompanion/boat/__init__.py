"""A boat's profile: what it holds, how it is read and changed, and how its files are kept."""
