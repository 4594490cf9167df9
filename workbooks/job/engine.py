"""Sheet "Engine": the engine's own figures, and the limits that its maker sets."""

from __future__ import annotations

from shopfuncs.declare import Arg, choice, ratio
from workbooks.describe import Field, Form, One, Sheet, calc, given, like, result
from workbooks.job import rules
from workbooks.job.shape import Shape

MATERIALS = ("iron", "aluminium")


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Engine",
        "What the maker's manual says, and what was measured once for the whole engine.",
        (figures(shape), limits(shape)),
        caution="Take limits from the engine maker's manual. A limit that is left blank isn't checked, and the sheets say so.",
    )


def figures(shape: Shape) -> Form:
    fields = [
        given("standard_bore", "Standard bore", like("finish_bore.standard"), needed=True),
        given("present_oversize", "Oversize it has now", like("finish_bore.oversize"), preset=0),
        result("bore_before", "Nominal bore now",
               calc("finish_bore", standard=One("engine.standard_bore"), oversize=One("engine.present_oversize"))),
        given("stroke", "Stroke", like("swept_volume.stroke"), needed=True),
        given("rod_length", "Connecting-rod length", like("deck_clearance.rod_length")),
        given("pin_height", "Piston pin to crown", like("deck_clearance.pin_height")),
        given("block_height", "Block height, crank centre to deck", like("deck_clearance.block_height")),
        given("deck_clearance", "Piston below deck, measured", like("compression_ratio.deck_clearance")),
        result(
            "deck_computed",
            "Piston below deck, computed",
            calc("deck_clearance", block_height=One("engine.block_height"), stroke=One("engine.stroke"),
                 rod_length=One("engine.rod_length"), pin_height=One("engine.pin_height")),
        ),
        result("deck_used", "Piston below deck, in use",
               calc(rules.known, measured=One("engine.deck_clearance"), computed=One("engine.deck_computed")),
               like("deck_clearance.", hint="the measured figure where there is one")),
        given("crown", "Crown volume", like("compression_ratio.crown"), preset=0),
        given("chamber", "Chamber volume, measured", like("compression_ratio.chamber")),
        given("chamber_area", "Chamber area at the head face", like("compression_after_milling.chamber_area")),
        given("gasket_bore", "Head gasket bore", like("compression_ratio.gasket_bore")),
        given("gasket_thickness", "Head gasket, crushed", like("compression_ratio.gasket_thickness")),
        given("ratio_wanted", "Compression ratio wanted", ratio("what the customer or the maker wants", within=(3, 20))),
        given("block_material", "Block material", choice("of the cylinder block", *MATERIALS), preset="iron"),
        given("head_material", "Material the seats sit in",
              choice("the block's in a side-valve engine, else the head's", *MATERIALS), preset="iron"),
    ]  # fmt: skip
    if shape.layout == "vee":
        fields += [
            given("bank_angle", "Angle between the banks", like("manifold_cut.bank_angle"), preset=90),
            given("face_angle", "Intake face angle", like("manifold_cut.face_angle"), preset=45),
        ]
    if shape.valve_train == "overhead-cam":
        fields += [
            given("centre_distance", "Crank centre to cam centre", like("cam_retard.centre_distance")),
            given("crank_radius", "Crank sprocket pitch radius", like("cam_retard.crank_radius")),
            given("cam_radius", "Cam sprocket pitch radius", like("cam_retard.cam_radius")),
        ]
    return Form("engine", "The engine", tuple(fields))


def limits(shape: Shape) -> Form:
    def limit(name: str, label: str, hint: str, within: tuple[float, float]) -> Field:
        return given(name, label, Arg("length", hint, within=within, sign="0 or more"))

    return Form(
        "limits",
        "The maker's limits",
        (
            limit("out_of_round", "Most out-of-round", "bore wear limit, full difference", (0, 0.05)),
            limit("taper", "Most taper", "bore wear limit, full difference", (0, 0.05)),
            limit("wall", "Least cylinder wall", "after boring, at the thinnest place", (0.02, 1)),
            limit("deck_height", "Least block height", "crank centre to deck, as measured on sheet Faces", (1, 40)),
            limit("head_thickness", "Least head thickness", "as measured on sheet Faces", (0.1, 20)),
            limit("piston_room", "Least piston-to-head clearance", "gasket and deck clearance together", (0, 0.5)),
            limit("floor", "Least metal under a seat pocket", "between the pocket and the water", (0.01, 1)),
            limit("tip_height", "Most stem-tip height", "from the spring seat or the head, installed", (0.1, 20)),
            limit("piston_clearance", "Piston clearance wanted", "on diameter, by the piston's maker", (0, 0.05)),
        ),
    )
