"""Exact and least-squares geometry for the trade functions, standard library only."""
