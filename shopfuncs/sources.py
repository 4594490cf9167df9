"""Where expected numbers come from, and how strong that is.

A source is what stands outside this project and says that a number is right. Details are as recorded in the
project's check cases: what was read there was read in stored public copies; what was recalled says "from memory".
"""

from __future__ import annotations

from dataclasses import dataclass, replace

STRENGTHS = ("standard", "handbook", "data set", "library", "identity", "practice", "memory")


@dataclass(frozen=True)
class Source:
    """A source: its strength (one of :data:`STRENGTHS`), title, edition, and the section that is meant."""

    strength: str
    title: str
    edition: str = ""
    section: str = ""

    def __post_init__(self) -> None:
        if self.strength not in STRENGTHS:
            raise TypeError(f"no strength '{self.strength}'; one of: {', '.join(STRENGTHS)}")

    def __call__(self, section: str) -> Source:
        """The same source at one section."""
        return replace(self, section=section)

    def __str__(self) -> str:
        return ", ".join(part for part in (self.title, self.edition, self.section) if part)


PRACTICE = Source("practice", "common practice, no source")
IDENTITY = Source("identity", "follows from the definition (own derivation, exact)")
MEMORY = Source("memory", "from memory, not looked up")
HEYWOOD = Source("handbook", "Heywood, Internal Combustion Engine Fundamentals", "1988")
SHIGLEY = Source("handbook", "Budynas & Nisbett, Shigley's Mechanical Engineering Design", "9th ed.")
SHIGLEY_SOLUTIONS = Source("handbook", "Budynas, solutions to Shigley, Mechanical Engineering Design", "8th ed.")
BHANDARI = Source("handbook", "Bhandari, Design of Machine Elements (title inferred)")
KAW = Source("handbook", "Kaw, Holistic Numerical Methods (course text, University of South Florida)")
WICKERT = Source("handbook", "Wickert & Lewis, An Introduction to Mechanical Engineering (title inferred)")
GROOVER = Source("handbook", "Groover, Fundamentals of Modern Manufacturing, solved examples of a course on it")
MACHINERYS = Source("handbook", "Machinery's Handbook", "27th ed.")
CALLISTER = Source("handbook", "Callister & Rethwisch, Materials Science and Engineering")
SP811 = Source("standard", "NIST SP 811, Guide for the Use of the SI", "2008", "app. B")
ISO1 = Source("standard", "ISO 1", "2022")
ISO1101 = Source("standard", "ISO 1101", "2017")
ISO286 = Source("standard", "ISO 286-2", "2010")
ISO2533 = Source("standard", "ISO 2533 / US Standard Atmosphere", "1975 / 1976")
SCIPY = Source("library", "scipy")
SHAPELY = Source("library", "shapely")
