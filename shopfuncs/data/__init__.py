"""Tables that a shop looks up: facts only, each with its source in its module's header.

They are Python modules so that a trade function reads them with an import, also where LibreOffice carries it.
"""
