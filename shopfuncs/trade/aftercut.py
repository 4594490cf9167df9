"""What a cut on a face does to its neighbours: piston at the deck, intake manifold of a V, cam timing."""

from __future__ import annotations

import math
from typing import Annotated

from shopfuncs.declare import Example, Figures, ShopError, angle, figures, function, length
from shopfuncs.sources import IDENTITY, MEMORY, PRACTICE, SHAPELY
from shopfuncs.trade._mixed import ONE_UNIT

GROUP = "surface"

BLOCK = length("crank centre line to the deck", within=(2, 40), usual=(9, 10))
STROKE = length("stroke", within=(0.5, 20), usual=(3, 4))
ROD = length("connecting rod, centre to centre", within=(1, 40), usual=(5.5, 6))
PIN = length("compression height of the piston: pin centre to crown", within=(0.3, 10), usual=(1.2, 1.8))
TOTAL = length("head cut + deck cut − added gasket, on each bank", within=(-0.25, 0.5), sign="any",
               usual=(0.005, 0.06))  # fmt: skip
BANKS = angle("included angle between the banks", within=(30, 150), usual=(60, 90))
FACE = angle("angle between the intake face and the upright plane through the crank", within=(5, 85),
             usual=(25, 60))  # fmt: skip
CENTRES = length("distance from crank centre to cam centre, before any cut", within=(2, 40), usual=(8, 14))
CRANK_RADIUS = length("pitch radius of the crank sprocket", within=(0.3, 5), usual=(1, 1.05))
CAM_RADIUS = length("pitch radius of the cam sprocket", within=(0.6, 10), usual=(2, 2.1))
DROP = length("how much nearer the cam comes; negative: farther", within=(-0.5, 0.5), sign="any",
              usual=(0.005, 0.1))  # fmt: skip

MOVED = SHAPELY("affinity: head and manifold as shapes, moved")
HULL = SHAPELY("hull of two circles: the belt around them")
DRIVE = {"centre_distance": 280.0, "crank_radius": 27.426144, "cam_radius": 54.643559}  # 9.525 mm, 18 and 36


@function(
    gives=length("piston below the deck at top centre", sign="any"),
    formula="block height − stroke / 2 − rod length − pin height",
    drawing="deck_stack",
    examples=(
        Example({"block_height": 9.500, "stroke": 3.75, "rod_length": 6.125, "pin_height": 1.480}, 0.020,
                IDENTITY, "20 thousandths down"),
        Example({"block_height": 220.0, "stroke": 84.0, "rod_length": 143.5, "pin_height": 34.75}, -0.25,
                IDENTITY, "a quarter millimetre proud"),
        Example({"block_height": 9.500, "stroke": 3.75, "rod_length": 6.125, "pin_height": 14.8}, "#VALUE!", IDENTITY,
                "one of them in mm, or a slip of the point"),
    ),
    valid="From sizes on paper, or after a cut with the block height that is left. A dial over the pin "
    "on each cylinder is better: rods, pistons, crank and deck each add their error.",
    caution="Piston to head wants room when hot and at speed: see squish, and the maker's figure.",
)  # fmt: skip
def deck_clearance(
    block_height: Annotated[float, BLOCK],
    stroke: Annotated[float, STROKE],
    rod_length: Annotated[float, ROD],
    pin_height: Annotated[float, PIN],
) -> float:
    """How far the piston's flat stays below the deck at top centre; negative: it stands above the deck."""
    left = block_height - stroke / 2 - rod_length - pin_height
    if round(abs(left), 9) > round(block_height / 10, 9):
        raise ShopError("block_height", "is far from what crank, rod and piston add up to", block_height, ONE_UNIT)
    return left


@function(
    gives={
        "intake_cut": length("cut on each intake face", sign="any"),
        "rail_drop": length("how far the manifold comes down onto the end rails of the valley", sign="any"),
        "mismatch": length("how far ports are out along the face if nothing is cut", sign="any"),
    },
    formula="intake cut = total × sin f / cos b; rail drop = total × cos(f − b) / cos b; "
    "mismatch = total × sin f / sin b",
    symbols={"total": "total_cut", "f": "half the bank angle", "b": "face_angle"},
    drawing="manifold_cut",
    examples=(
        Example({"total_cut": 1.0, "bank_angle": 90, "face_angle": 45},
                {"intake cut": 1.0, "rail drop": 1.414214, "mismatch": 1.0}, MOVED,
                "faces square to the decks", near=5e-7),
        Example({"total_cut": 1.0, "bank_angle": 90, "face_angle": 55},
                {"intake cut": 1.232803, "rail drop": 1.716960, "mismatch": 0.863218}, MOVED,
                "ten degrees off square", near=5e-7),
        Example({"total_cut": 1.0, "bank_angle": 90, "face_angle": 55},
                {"intake cut": 1.23, "rail drop": 1.71}, MEMORY,
                "the multipliers that the trade quotes", near=0.01),
        Example({"total_cut": 0.030, "bank_angle": 60, "face_angle": 30},
                {"intake cut": 0.0173205, "rail drop": 0.0346410, "mismatch": 0.030}, IDENTITY, near=5e-8),
    ),
    valid="Equal cuts on both banks, and a manifold that seals on both heads and on the ends of the valley.",
    caution="Check ports, bolt holes and coolant passages together, dry, before anything is cut.",
)  # fmt: skip
def manifold_cut(
    total_cut: Annotated[float, TOTAL],
    bank_angle: Annotated[float, BANKS],
    face_angle: Annotated[float, FACE],
) -> Figures:
    """What cuts on heads or decks of a V engine ask of the intake manifold.

    ``intake cut``: to come off each intake face, of the heads or of the manifold, square to the face.
    ``rail drop``: how far the manifold then sits lower, so what must come off each end rail (or out of its
    gasket) in the valley. ``mismatch``: how far ports and bolt holes are out along the face if nothing is
    cut and the manifold rides up. The face angle is half the angle between the two intake faces; where they
    are square to the decks it is half the bank angle. Measure it: faces that lean ten degrees farther than
    square (55 where the banks stand at 90) want 23 % more cut.
    """
    lean, face = math.radians(bank_angle / 2), math.radians(face_angle)
    return figures(
        intake_cut=total_cut * math.sin(lean) / math.cos(face),
        rail_drop=total_cut * math.cos(lean - face) / math.cos(face),
        mismatch=total_cut * math.sin(lean) / math.sin(face),
    )


def strand(centres: float, small: float, large: float) -> float:
    """Half of an open belt: around the small sprocket, along the tight side, and around the large one."""
    lean = math.asin((large - small) / centres)
    straight = math.sqrt(centres**2 - (large - small) ** 2)
    return straight + small * (math.pi / 2 - lean) + large * (math.pi / 2 + lean)


@function(
    gives=angle("crank degrees of retard", sign="any"),
    formula="2 × (T(C) − T(C − drop)) / R, in degrees; T(C) = √(C² − (R − r)²) + r (π/2 − s) + R (π/2 + s), "
    "sin s = (R − r) / C",
    symbols={"C": "centre_distance", "R": "cam_radius", "r": "crank_radius", "drop": "centre_drop", "T(C)": "half of the chain: tight side and what lies on the sprockets", "s": "lean of the tight side, in radians"},
    drawing="cam_drive",
    examples=(
        Example({**DRIVE, "centre_drop": 0.25}, 0.521783, HULL, "9.525 mm chain, 18 and 36 teeth", rel=2e-6),
        Example({**DRIVE, "centre_drop": 1.00}, 2.087107, HULL, "four times the drop",
                rel=5e-7),
        Example({"centre_distance": 11.0, "crank_radius": 1.08, "cam_radius": 2.15, "centre_drop": 0.020},
                1.0, PRACTICE, "about one degree for each .020 in", near=0.07),
        Example({**DRIVE, "centre_drop": 0}, 0.0, IDENTITY, "nothing cut"),
        Example({**DRIVE, "cam_radius": 27.4, "centre_drop": 0.5}, "#VALUE!", IDENTITY, "not two to one"),
    ),
    valid="One chain or belt from crank to cam with a straight tight side, the slack on the other side. "
    "A guide or tensioner on the tight side, an idler or a jackshaft changes size and sign. Cuts off head and deck move "
    "only a cam in the head; a cam in the block stays, and its push rods are then long. Line honing or boring moves the "
    "crank nearer to either: see centre_drop. Gears mesh deeper instead: check their backlash.",
    caution="Valves and pistons may meet: turn the engine by hand twice round, and check valve to piston, "
    "before it is started. An adjustable sprocket or an offset key restores the timing.",
)  # fmt: skip
def cam_retard(
    centre_distance: Annotated[float, CENTRES],
    crank_radius: Annotated[float, CRANK_RADIUS],
    cam_radius: Annotated[float, CAM_RADIUS],
    centre_drop: Annotated[float, DROP],
) -> float:
    """Crank degrees by which the cam comes late when a cut brings it nearer to the crank; negative: early.

    Radii are pitch radii: of a chain, pitch / (2 sin(180° / teeth)); of a toothed belt, teeth × pitch / (2
    π). A cam runs at half crank speed, so its radius is about twice the crank's; other pairs are refused.
    The drop is counted along the line of centres: of a cam in the head head cut + deck cut − added gasket, and of any cam
    what line honing or boring moves the crank towards it.
    """
    if round(cam_radius, 9) < round(1.9 * crank_radius, 9) or round(cam_radius, 9) > round(2.1 * crank_radius, 9):
        raise ShopError("cam_radius", "is not about twice the crank sprocket's", cam_radius,
                        "give radii, not diameters, of the two sprockets on one chain or belt")  # fmt: skip
    near = centre_distance - centre_drop
    if round(near, 9) <= round(crank_radius + cam_radius, 9):
        raise ShopError("centre_distance", "leaves no room between the sprockets", centre_distance,
                        "measure from centre to centre")  # fmt: skip
    if round(centre_distance, 9) > round(30 * cam_radius, 9):
        raise ShopError("centre_distance", "is far too long for these sprockets", centre_distance, ONE_UNIT)
    if round(abs(centre_drop), 9) > round(cam_radius / 8, 9):
        raise ShopError("centre_drop", "is more than an eighth of the cam sprocket's radius", centre_drop, ONE_UNIT)
    change = strand(centre_distance, crank_radius, cam_radius) - strand(near, crank_radius, cam_radius)
    return 2 * math.degrees(change / cam_radius)
