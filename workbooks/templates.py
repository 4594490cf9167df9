"""The templates there are: name -> (what describes it, its version)."""

from __future__ import annotations

from collections.abc import Callable

from workbooks.describe import Workbook
from workbooks.functions.book import VERSION as FUNCTIONS_VERSION
from workbooks.functions.book import functions
from workbooks.job import VERSION as JOB_VERSION
from workbooks.job import job
from workbooks.whatif import VERSION as WHATIF_VERSION
from workbooks.whatif import whatif

TEMPLATES: dict[str, tuple[Callable[..., Workbook], int]] = {
    "job": (job, JOB_VERSION),
    "whatif": (whatif, WHATIF_VERSION),
    "functions": (functions, FUNCTIONS_VERSION),
}
