"""The trade functions: one module per kind of work at the bench."""

GROUPS = (
    "dimension",
    "bore",
    "surface",
    "compression",
    "seat",
    "valve",
    "crank",
    "cutting",
    "fastener",
    "gauge",
    "cost",
)
