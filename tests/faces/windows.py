"""The real xlwings as it runs on Windows, over stand-ins for the modules that only Windows has.

What is real: all of xlwings that a cell's call goes through, from ``XLPython.CallUDF`` of its COM server over ``call_udf``,
the converters and the engine's cleaning of values to ``generate_vba_wrapper`` and ``import_udfs``. What is not: COM itself
(pywin32), Excel, VBA. :class:`Cells` stands for a range that Excel hands over.
"""

from __future__ import annotations

import asyncio
import ctypes
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from importlib.abc import MetaPathFinder
from types import ModuleType, SimpleNamespace
from typing import Any
from unittest import mock

MISSING = -2147352572  # an argument left out, as pywin32 gives it
RANGE = "{00020846-0000-0000-C000-000000000046}"
ERRORS = {  # Excel's error values, as pywin32 gives them
    "#DIV/0!": -2146826281, "#N/A": -2146826246, "#NAME?": -2146826259, "#NULL!": -2146826288, "#NUM!": -2146826252,
    "#REF!": -2146826265, "#VALUE!": -2146826273,
}  # fmt: skip


class ComDate(datetime):
    """What pywin32 makes of a cell with a date's format."""


class Cells:
    """A range as COM hands it over: Value is a lone value, or a tuple of rows."""

    def __init__(self, rows: list[list[Any]]) -> None:
        self.Value = rows[0][0] if len(rows) == len(rows[0]) == 1 else tuple(map(tuple, rows))
        self.Address = "$A$1"
        self.Rows, self.Columns = SimpleNamespace(Count=len(rows)), SimpleNamespace(Count=len(rows[0]))
        self.Row = self.Column = 1
        book = SimpleNamespace(Application=SimpleNamespace(Hwnd=1))
        self.Worksheet = SimpleNamespace(Parent=book, Name="Sheet1", Application=book.Application)
        self._oleobj_ = SimpleNamespace(
            GetTypeInfo=lambda: SimpleNamespace(GetTypeAttr=lambda: SimpleNamespace(iid=RANGE))
        )


class _Refused(MetaPathFinder):
    """The part of xlwings that needs a paid licence can't be imported at all."""

    def __init__(self) -> None:
        self.asked: list[str] = []

    def find_spec(self, name: str, path: Any = None, target: Any = None) -> None:
        if name == "xlwings.pro" or name.startswith("xlwings.pro."):
            self.asked.append(name)
            raise ImportError("xlwings.pro is not part of this")


class _Quiet(ModuleType):
    """A module whose every name is a stand-in that takes any call."""

    def __getattr__(self, name: str) -> Any:
        if name.startswith("__"):
            raise AttributeError(name)
        made = mock.MagicMock(name=f"{self.__name__}.{name}")
        setattr(self, name, made)
        return made


class _ComError(Exception):
    hresult = 0


def _unwrap(value: Any) -> Any:
    raise _ComError("not one of ours")  # as pywin32 says of any value that is no wrapped object


def _modules() -> dict[str, ModuleType]:
    names = """
        pythoncom pywintypes win32api win32con win32event win32gui win32process win32timezone win32com win32com.client
        win32com.client.gencache win32com.server win32com.server.dispatcher win32com.server.policy win32com.server.util
        win32com.client.dynamic
    """
    made: dict[str, Any] = {name: _Quiet(name) for name in names.split()}
    for name, module in made.items():
        module.__path__ = []
        above, _, own = name.rpartition(".")
        if above:
            setattr(made[above], own, module)
    client = made["win32com.client"]
    for name in ("CDispatch", "CoClassBaseClass", "DispatchBaseClass"):
        setattr(client, name, type(name, (), {}))
    client.Dispatch = client.DispatchEx = lambda value, *_, **__: value
    made["pywintypes"].com_error = made["pywintypes"].error = _ComError
    made["pywintypes"].TimeType = ComDate
    made["pywintypes"].IID = lambda text: text
    made["pythoncom"].com_error = made["pythoncom"].ole_error = _ComError
    made["pythoncom"].__file__ = "pythoncom"
    made["pythoncom"].IID_IDispatch = "IDispatch"
    made["pythoncom"].TypeIIDs = {"IDispatch": type("PyIDispatch", (), {})}
    made["win32com.server.util"].unwrap = _unwrap
    return made


@contextmanager
def windows() -> Iterator[SimpleNamespace]:
    """xlwings and our module for it, imported as on Windows; all of it is forgotten afterwards."""
    import numpy  # noqa: F401  # what looks at the system when it is imported must have looked
    import pandas  # noqa: F401

    assert asyncio.new_event_loop
    ours = [name for name in sys.modules if name == "xlwings" or name.startswith(("xlwings.", "shopfuncs.faces.excel"))]
    kept = {name: sys.modules.pop(name) for name in ours}
    refused, fakes = _Refused(), _modules()
    sys.meta_path.insert(0, refused)
    quiet = mock.MagicMock()
    patches = [
        mock.patch.dict(sys.modules, fakes),
        mock.patch.object(ctypes, "windll", quiet, create=True),
        mock.patch.object(ctypes, "oledll", quiet, create=True),
        mock.patch.object(ctypes, "PyDLL", mock.MagicMock()),
        mock.patch("atexit.register", lambda call, *_, **__: call),
    ]
    try:
        for patch in patches:
            patch.start()
        with mock.patch.object(sys, "platform", "win32"):
            import xlwings
            import xlwings.com_server
            import xlwings.udfs
        from shopfuncs.faces.excel import udfs

        yield SimpleNamespace(
            xlwings=xlwings, udfs=xlwings.udfs, server=xlwings.com_server.XLPython(), module=udfs, refused=refused
        )
    finally:
        xlwings.com_server.loop.close()
        for patch in reversed(patches):
            patch.stop()
        sys.meta_path.remove(refused)
        for name in [
            name for name in sys.modules if name == "xlwings" or name.startswith(("xlwings.", "shopfuncs.faces.excel"))
        ]:
            del sys.modules[name]
        sys.modules.update(kept)
