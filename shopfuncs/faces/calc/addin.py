"""The add-in as LibreOffice loads it: a shell whose methods are made from the catalogue. Runs only inside LibreOffice.

The Python that LibreOffice brings may be too old for the functions (on Windows and macOS it brings its own). Then
every function gives #VALUE!, and SHOP.EXPLAIN says why; so this file itself keeps to what an older one knows.
"""

from __future__ import annotations

import struct
import sys

import uno
import unohelper
from com.sun.star.lang import Locale, XLocalizable, XServiceInfo, XServiceName

OLDEST = (3, 9)  # Python
SERVICE, INTERFACE, EXPLAIN = "SHOP", "XShop", "EXPLAIN"  # as in shopfuncs.faces.calc, which an older Python can't read
SERVICES = (SERVICE, "com.sun.star.sheet.AddIn")
TOO_OLD = "The shop functions need Python {}, and this LibreOffice brings {}. Remedy: install a newer LibreOffice."


class _Shell(unohelper.Base, uno.getClass(INTERFACE), XServiceInfo, XServiceName, XLocalizable):  # type: ignore[misc]
    """What every add-in has to say of itself."""

    def __init__(self, context: object) -> None:
        self._locale = Locale("en", "", "")

    def getServiceName(self) -> str:  # noqa: N802
        return SERVICE

    def getImplementationName(self) -> str:  # noqa: N802
        return SERVICE

    def supportsService(self, name: str) -> bool:  # noqa: N802
        return name in SERVICES

    def getSupportedServiceNames(self) -> tuple[str, ...]:  # noqa: N802
        return SERVICES

    def setLocale(self, locale: object) -> None:  # noqa: N802
        self._locale = locale

    def getLocale(self) -> object:  # noqa: N802
        return self._locale


class _TooOld(_Shell):
    """Every function an error value, and the words that say why."""

    def __getattr__(self, name: str) -> object:
        if not name.isupper():
            raise AttributeError(name)
        if name == EXPLAIN:
            words = TOO_OLD.format(*(".".join(map(str, number[:2])) for number in (OLDEST, sys.version_info)))
            return lambda *given: words
        wrong = struct.unpack("<d", struct.pack("<Q", 0x7FF8000000000000 | 519))[0]  # #VALUE!
        return lambda *given: ((wrong,),)


if sys.version_info >= OLDEST:
    from shopfuncs.declare import catalogue
    from shopfuncs.faces.calc.methods import methods

    AddIn = type("AddIn", (_Shell,), methods(catalogue().values()))
else:
    AddIn = _TooOld
g_ImplementationHelper = unohelper.ImplementationHelper()  # noqa: N816 (LibreOffice looks for this name)
g_ImplementationHelper.addImplementation(AddIn, SERVICE, SERVICES)
