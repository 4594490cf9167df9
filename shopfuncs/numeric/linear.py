"""Small linear algebra: a square system, and a least-squares fit."""

from __future__ import annotations

from collections.abc import Sequence

Row = Sequence[float]


def solve(matrix: Sequence[Row], right: Row) -> list[float]:
    """The solution of a square system, by elimination with the largest pivot.

    Raises: ZeroDivisionError where there is no one solution.
    """
    rows = [[*row, value] for row, value in zip(matrix, right)]
    size = len(rows)
    for at in range(size):
        pivot = max(range(at, size), key=lambda row: abs(rows[row][at]))
        rows[at], rows[pivot] = rows[pivot], rows[at]
        for row in range(at + 1, size):
            factor = rows[row][at] / rows[at][at]
            for column in range(at, size + 1):
                rows[row][column] -= factor * rows[at][column]
    out = [0.0] * size
    for at in reversed(range(size)):
        known = sum(rows[at][column] * out[column] for column in range(at + 1, size))
        out[at] = (rows[at][size] - known) / rows[at][at]
    return out


def least_squares(rows: Sequence[Row], right: Row) -> list[float]:
    """The coefficients that fit ``rows × coefficients`` to ``right`` best in the sum of squares.

    Columns are made orthogonal one by one (modified Gram-Schmidt), which loses far fewer digits than the
    normal equations. Raises: ZeroDivisionError where columns depend on each other.
    """
    columns = [list(column) for column in zip(*rows)]
    rest, size = list(right), len(columns)
    upper = [[0.0] * size for _ in range(size)]
    target = [0.0] * size
    for at, column in enumerate(columns):
        norm = sum(value * value for value in column) ** 0.5
        unit = [value / norm for value in column]
        upper[at][at] = norm
        for later in range(at + 1, size):
            upper[at][later] = sum(a * b for a, b in zip(unit, columns[later]))
            columns[later] = [b - upper[at][later] * a for a, b in zip(unit, columns[later])]
        target[at] = sum(a * b for a, b in zip(unit, rest))
        rest = [b - target[at] * a for a, b in zip(unit, rest)]
    return solve(upper, target)
