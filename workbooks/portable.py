"""The functions that a formula may use, as a file spells them: those that every engine of the checks has."""

from __future__ import annotations


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


# Functions that every engine of the checks knows, by what they give: t text, e an exact number or TRUE/FALSE,
# n a number with rounding in it, = whatever their arguments are, ? anything.
_PORTABLE = {
    "t": "ADDRESS CHAR CLEAN CONCATENATE DOLLAR FIXED LEFT LOWER MID PROPER REPLACE REPT RIGHT SUBSTITUTE"
    " T TEXT TRIM UPPER HYPERLINK",
    "e": "AND CEILING CODE COLUMN COLUMNS COUNT COUNTA COUNTBLANK COUNTIF COUNTIFS DATE DATEDIF DAY EDATE"
    " EOMONTH ERROR.TYPE EVEN EXACT FALSE FIND FLOOR GCD HOUR INT ISBLANK ISERR ISERROR ISEVEN ISLOGICAL"
    " ISNA ISNONTEXT ISNUMBER ISODD ISREF ISTEXT LEN MATCH MINUTE MONTH MROUND NETWORKDAYS"
    " NETWORKDAYS.INTL NOT ODD OR QUOTIENT RANK ROUND ROUNDDOWN ROUNDUP ROW ROWS SEARCH SECOND SIGN"
    " TODAY TRUE TRUNC TYPE WEEKDAY WEEKNUM WORKDAY WORKDAY.INTL YEAR",
    "n": "ACOS ACOSH ASIN ASINH ATAN ATAN2 ATANH AVERAGE AVERAGEA AVERAGEIF AVERAGEIFS CONVERT CORREL COS"
    " COSH DEGREES DEVSQ ERF ERFC EXP FACT FORECAST GEOMEAN INTERCEPT LN LOG LOG10 MEDIAN NORMSDIST"
    " NORMSINV NOW PERCENTILE PERCENTRANK PI PMT POWER PRODUCT QUARTILE RADIANS SIN SINH SLOPE SQRT"
    " STDEV STDEVP SUBTOTAL SUMIF SUMIFS SUMSQ TAN TANH TIME TINV VALUE VAR VARP",
    "=": "ABS CHOOSE IF IFERROR LARGE MAX MIN MOD N SMALL SUM SUMPRODUCT",
    "?": "HLOOKUP INDEX INDIRECT LOOKUP NA OFFSET VLOOKUP",
}
# The same, of those that came later: a file names them with this prefix, else LibreOffice doesn't know them.
PREFIX = "_xlfn."
_LATER = {
    "t": "CONCAT TEXTJOIN UNICHAR",
    "e": "CEILING.MATH DAYS FLOOR.MATH ISFORMULA ISOWEEKNUM NUMBERVALUE RANK.EQ UNICODE XOR",
    "n": "COVARIANCE.S ERF.PRECISE FORECAST.LINEAR NORM.DIST NORM.INV NORM.S.DIST NORM.S.INV"
    " PERCENTILE.EXC PERCENTILE.INC QUARTILE.INC RANK.AVG STDEV.P STDEV.S T.DIST T.INV T.INV.2T VAR.P"
    " VAR.S",
    "=": "IFNA IFS MAXIFS MINIFS SWITCH",
}
PLAIN = {name: kind for kind, names in _PORTABLE.items() for name in names.split()}
LATER = {name: kind for kind, names in _LATER.items() for name in names.split()}
INSTEAD = {
    "XLOOKUP": "INDEX with MATCH",
    "XMATCH": "MATCH",
    "LET": "a helper cell",
    "LAMBDA": "the formula itself",
    "FILTER": "SUMIFS, or a helper column",
    "UNIQUE": "COUNTIF in a helper column",
    "SORT": "SMALL",
    "SEQUENCE": "a column of numbers",
    "AGGREGATE": "SUBTOTAL, or IFERROR in a helper column",
    "RAND": "a typed number",
}
# Steps at whole numbers, where engines differ once the argument has rounding in it.
STEPS = _words("INT ROUNDUP ROUNDDOWN TRUNC FLOOR CEILING MROUND QUOTIENT FLOOR.MATH CEILING.MATH")
# Take one cell; given several, some engines answer for each and others not at all.
ONE_CELL = STEPS | _words(
    "ROUND ABS SQRT SIN COS TAN ASIN ACOS ATAN EXP LN LOG10 RADIANS DEGREES LEFT RIGHT MID LEN TRIM UPPER"
    " LOWER TEXT VALUE FIND SEARCH ISNUMBER ISTEXT ISBLANK ISERROR ISNA YEAR MONTH DAY WEEKDAY"
)
