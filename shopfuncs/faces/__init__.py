"""The faces of a trade function: each computed from its entry."""
