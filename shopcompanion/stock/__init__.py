"""The cutting plan: what to buy, and where every blank comes from."""
