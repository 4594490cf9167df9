"""Sheet "Engine": the engine's own figures, and the limits that its maker sets."""

from __future__ import annotations

from shopfuncs.declare import Arg, choice, load, ratio, text
from workbooks.describe import ByKey, Field, Form, One, Sheet, Table, calc, given, like, result
from workbooks.job import rules
from workbooks.job.shape import Shape

MATERIALS = ("iron", "aluminium")


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Engine",
        "What the maker's manual says, and what was measured once for the whole engine.",
        (figures(shape), limits(shape), valve_limits(shape), bearing_limits()),
        caution="Take limits from the engine maker's manual. Where a limit is left blank the verdict it belongs to is a CHECK.",
    )


def figures(shape: Shape) -> Form:
    opening = "opening at the head's face; blank: the bore circle"
    if shape.side_valve:
        opening = "opening at the head's face, over bore and valves; the effects wait for it"
    fields = [
        given("standard_bore", "Standard bore", like("finish_bore.standard", hint="as the maker made it, before any oversize"), needed=True),
        given("present_oversize", "Oversize it has now", like("finish_bore.oversize", hint="on diameter; 0 where it is still standard"), preset=0),
        result("bore_before", "Nominal bore now",
               calc("finish_bore", standard=One("engine.standard_bore"), oversize=One("engine.present_oversize")),
               hint="standard bore and oversize together"),
        given("stroke", "Stroke", like("swept_volume.stroke", hint="twice the crank's throw"), needed=True),
        given("cylinder_length", "Cylinder length", like("cut_time.length", hint="deck to the lower end of the bore; for the time that boring takes")),
        given("rod_length", "Connecting-rod length", like("deck_clearance.rod_length", hint="centre to centre")),
        given("pin_height", "Piston compression height", like("deck_clearance.pin_height", hint="pin centre to crown")),
        given("block_height", "Block height, crank centre to deck", like("deck_clearance.block_height", hint="from the manual, or as measured")),
        given("deck_clearance", "Piston below deck, measured", like("compression_ratio.deck_clearance", hint="at top centre; negative: it stands proud")),
        result(
            "deck_computed",
            "Piston below deck, computed",
            calc("deck_clearance", block_height=One("engine.block_height"), stroke=One("engine.stroke"),
                 rod_length=One("engine.rod_length"), pin_height=One("engine.pin_height")),
            hint="from block height, stroke, rod and piston",
        ),
        result("deck_used", "Piston below deck, in use",
               calc(rules.known, measured=One("engine.deck_clearance"), computed=One("engine.deck_computed")),
               like("deck_clearance.", hint="the measured figure where there is one")),
        result("deck_verdict", "Measured against computed",
               calc(rules.agreement_verdict, measured=One("engine.deck_clearance"), computed=One("engine.deck_computed"),
                    within=0.010 if shape.unit == "in" else 0.25),
               text("do the two agree to .010, or was one with other pistons" if shape.unit == "in" else
                    "do the two agree to 0.25 mm, or was one with other pistons"), flag=True),
        given("crown", "Crown volume", like("compression_ratio.crown", hint="of the piston: dish and valve pockets plus, dome minus"), preset=0),
        given("chamber", "Chamber volume, measured", like("compression_ratio.chamber", hint="in the head, with valves and plug in place")),
        given("chamber_area", "Chamber area at the head face", like("compression_after_milling.chamber_area", hint=opening)),
        given("gasket_bore", "Head gasket bore", like("compression_ratio.gasket_bore", hint="not round: of the circle of the same area")),
        given("gasket_thickness", "Head gasket, crushed", like("compression_ratio.gasket_thickness", hint="thickness when clamped")),
        given("intake_closes", "Intake closes", like("trapped_ratio.intake_closes", hint="degrees after bottom centre, of the cam that goes in")),
        given("ratio_wanted", "Compression ratio wanted", ratio("to 1; blank where none is asked for", within=(3, 20))),
        given("block_material", "Block material", choice("choose from the list", *MATERIALS), preset="iron"),
        given("head_material", "Material the seats sit in",
              choice("the block's in a side-valve engine, else the head's", *MATERIALS), preset="iron"),
    ]  # fmt: skip
    fields += [
        given("bore_metal", "Rings run on", choice("cylinder or liner", *MATERIALS), preset="iron"),
        given("ring_metal", "Ring material", choice("of the top ring", "iron", "steel"), preset="iron"),
        given("use", "Use", choice("hard: boosted, towing, racing", "ordinary", "hard"), preset="ordinary"),
    ]
    if shape.side_valve:
        fields.append(given("head_metal", "Head material", choice("choose from the list", *MATERIALS), preset="iron"))
    fields += [
        given("crank_metal", "Crank material", choice("choose from the list", "steel", "iron"), preset="steel"),
        given("rod_metal", "Rod material", choice("choose from the list", "steel", "aluminium"), preset="steel"),
    ]
    fields.append(given("speed", "Highest engine speed", like("spring_surge.engine_speed", hint="in service")))
    if not shape.side_valve:
        fields += [
            given("rocker_ratio", "Rocker ratio", like("net_valve_lift.ratio", hint="valve's travel over the lobe's; 1 where the lobe lifts it directly"),
                  preset=1 if shape.valve_train == "overhead-cam" else None),
            given("valve_angle", "Valve to cylinder axis", like("valve_to_piston.valve_angle", hint="between stem and bore"), preset=0),
            given("crown_top", "Under the valve is", like("valve_to_piston.top", hint="a pocket that lies as the valve's head, or a flat top"), preset="pocket"),
        ]  # fmt: skip
    if shape.two_valves:
        fields.append(
            given(
                "valve_centres",
                "Between the valves' centres",
                like(
                    "seat_od_from_valve.centre_distance",
                    hint="of one cylinder; blank: the bridge between inserts isn't looked at",
                ),
            )
        )
    if shape.layout == "vee":
        fields += [
            given(
                "bank_angle",
                "Angle between the banks",
                like("manifold_cut.bank_angle", hint="between the two rows of bores"),
                preset=90,
            ),
            given(
                "face_angle",
                "Intake face angle",
                like("manifold_cut.face_angle", hint="from the upright plane through the crank"),
                preset=45,
            ),
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
            limit("out_of_round", "Out-of-round, at most", "bore wear limit, on diameter", (0, 0.05)),
            limit("taper", "Taper, at most", "bore wear limit, on diameter", (0, 0.05)),
            limit("wall", "Cylinder wall, at least", "after boring, at the thinnest place", (0.02, 1)),
            limit(
                "deck_height",
                "Block height, at least",
                "crank centre to deck; on sheet Faces it is measured the same way",
                (1, 40),
            ),
            limit("head_thickness", "Head thickness, at least", "measured the same way as on sheet Faces", (0.1, 20)),
            limit("flatness", "Face out of flat, at most", "deck or head, where it is to stay uncut", (0, 0.05)),
            limit("piston_room", "Piston to head, at least", "crushed gasket and piston below deck together", (0, 0.5)),
            limit("floor", "Metal under a seat pocket, at least", "between the pocket and the water", (0.01, 1)),
            limit("tip_height", "Stem-tip height, at most", "from the spring seat or the head, installed", (0.1, 20)),
            limit(
                "centre",
                "Crank centre may rise by, at most",
                "line honing or boring brings it nearer to the heads",
                (0, 0.1),
            ),
            limit("piston_clearance", "Piston clearance wanted", "on diameter, as the piston's maker says", (0, 0.05)),
            limit("piston_clearance_most", "Piston clearance, at most", "on diameter; blank: twice what is wanted is a CHECK", (0, 0.05)),
            *([limit("bridge", "Metal between two inserts, at least", "of one cylinder; looked at where valve centres are given", (0, 1))]
              if shape.two_valves else []),
        ),
    )  # fmt: skip


def valve_limits(shape: Shape) -> Table:
    metric = shape.unit == "mm"

    def limit(name: str, label: str, hint: str, most: float) -> Field:
        return given(name, label, Arg("length", hint, within=(0, most), sign="0 or more"))

    def force(name: str, label: str, hint: str) -> Field:
        return given(name, label, load(hint, within=(1, 5000)))

    fields = [
        limit("clearance_least", "Stem clearance, at least", "in its guide, on diameter", 0.05),
        limit("clearance_most", "Stem clearance, at most", "wear limit", 0.05),
        given("margin", "Valve margin, at least", like("valve_margin.least_margin", hint="after its face is ground")),
        given("lash", "Lash", like("tip_grind.lash", hint="cold or hot as the maker says; 0 with hydraulic lifters")),
        given("height", "Spring height, installed", like("spring_shim.wanted_height", hint="pad to retainer")),
        force("load_least", "Spring load closed, at least", "at that height"),
        force("load_most", "Spring load open, at most", "at full lift"),
    ]
    if shape.valve_train == "pushrod":
        fields += [
            limit(
                "preload_least", "Lifter preload, at least", "how far the plunger is pushed in; hydraulic lifters", 0.3
            ),
            limit("preload_most", "Lifter preload, at most", "short of the plunger's end; hydraulic lifters", 0.3),
        ]
    what, least = ("head", (0.050, 0.050)) if shape.side_valve else ("piston", (0.080, 0.100))
    room = {kind: round(25.4 * one, 1) if metric else one for kind, one in zip(shape.kinds, least, strict=True)}
    fields.append(
        given("room", f"Open valve to {what}, at least", Arg("length", "preset with common practice (no source)", within=(0, 0.5)),
              preset=ByKey(room))
    )  # fmt: skip
    return Table("valve_limits", "The maker's limits: valves and springs", shape.kinds, tuple(fields), sideways=True)


def bearing_limits() -> Table:
    def limit(name: str, label: str, hint: str) -> Field:
        return given(name, label, Arg("length", hint, within=(0, 0.05), sign="0 or more"))

    return Table(
        "bearing_limits",
        "The maker's limits: crank",
        {"mains": "Mains", "rods": "Rods"},
        (
            given("journal", "Journal, standard", like("next_undersize.standard", hint="upper limit, before any undersize")),
            given("undersize", "Undersize it has now", like("finish_journal.undersize", hint="on diameter; 0 where it is still standard"), preset=0),
            limit("wear", "Journal wear, at most", "smaller than it should be, or out of round"),
            given("housing_least", "Housing bore, at least", like("bearing_clearance.housing", hint="tightened, without shells")),
            given("housing_most", "Housing bore, at most", like("bearing_clearance.housing", hint="tightened, without shells")),
            given("shell", "Shell wall, standard", like("undersize_shell.standard_wall", hint="in its middle")),
            limit("clearance_least", "Bearing clearance, at least", "on diameter; the bearing's maker comes first"),
            limit("clearance_most", "Bearing clearance, at most", "on diameter"),
        ),
        sideways=True,
    )  # fmt: skip
