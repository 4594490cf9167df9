"""The add-in as LibreOffice loads it: a shell whose methods are made from the catalogue. Runs only inside LibreOffice."""

from __future__ import annotations

import uno
import unohelper
from com.sun.star.lang import Locale, XLocalizable, XServiceInfo, XServiceName

from shopfuncs.declare import catalogue
from shopfuncs.faces.calc import INTERFACE, SERVICE
from shopfuncs.faces.calc.methods import methods

SERVICES = (SERVICE, "com.sun.star.sheet.AddIn")


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


AddIn = type("AddIn", (_Shell,), methods(catalogue().values()))
g_ImplementationHelper = unohelper.ImplementationHelper()  # noqa: N816 (LibreOffice looks for this name)
g_ImplementationHelper.addImplementation(AddIn, SERVICE, SERVICES)
