"""Sheet "Cut plan": every cut in working order, with sizes and passes, and a place for what was really cut."""

from __future__ import annotations

from typing import Any

from shopfuncs.declare import Arg, text
from workbooks.describe import Alone, ByKey, Down, Here, One, Several, Sheet, Table, calc, given, like, result
from workbooks.job import plan_rules
from workbooks.job.faces import face_keys
from workbooks.job.shape import Shape

PLACES = ("one", "two", "three", "four", "five")


class Steps:
    """Collects the steps in working order; for each column its rule's arguments by step key."""

    def __init__(self, shape: Shape) -> None:
        self.shape = shape
        self.keys: dict[str, str] = {}
        self.given: dict[str, dict[str, dict[str, Any]]] = {}  # column -> argument -> step key -> where it comes from

    def add(
        self,
        key: str,
        words: str,
        cut_to: str = "",
        habit: str = "",
        stops: tuple[tuple[str, Any], ...] = (),
        **columns: Any,
    ) -> None:
        """Args: cut_to: what is measured. habit: which one says how far off it may be. stops: sheets and their
        verdicts that stop the step. columns: a path, or the arguments of the column's rule.
        """
        self.keys[key] = f"{len(self.keys) + 1}. {words}"
        columns["of"] = {"words": cut_to, **columns.get("of", {})}
        if habit:
            columns["within"] = {"value": One(f"shop.{habit}")}
        columns["verdict"] = {}
        for place, (sheet, verdicts) in zip(PLACES, stops, strict=False):
            columns["verdict"] |= {place: verdicts, f"at_{place}": f"STOP: see {sheet}"}
        for column, arguments in columns.items():
            for name, where in (arguments if isinstance(arguments, dict) else {"value": One(arguments)}).items():
                self.given.setdefault(column, {}).setdefault(name, {})[key] = where

    def column(self, name: str) -> dict[str, Any]:
        return {argument: ByKey(each) for argument, each in self.given[name].items()}

    def collisions(self) -> tuple[str, Any]:
        return "Valve train", Down("clearances", ("verdict",))

    def caps(self, part: str, words: str, bore: str, stops: tuple[tuple[str, Any], ...]) -> None:
        """Caps, and the bores that are resized after it."""
        cut = Several((f"caps.{part}.cap_cut", f"caps.{part}.face_cut"))
        limits = {
            "kind": "middle",
            "value": One(f"bearing_limits.{part}.housing_least"),
            "other": One(f"bearing_limits.{part}.housing_most"),
        }
        self.add(f"caps_{part}", f"Cut {words} caps", "upright bore", "within_faces", stops, of={"kind": "optional", "amounts": cut},
                 start=f"caps.{part}.bore", target=f"caps.{part}.height", off=f"caps.{part}.off")  # fmt: skip
        more = {"others": Several(("resize.saddle_cut", "resize.oversize"))} if part == "mains" else {}
        self.add(f"resize_{part}", bore, "diameter", "", (*stops, ("Caps and rods", Alone(f"caps.{part}.verdict"))), of={"kind": "optional", "amounts": cut, **more},
                 start=f"caps.{part}.height", target=limits, within=limits)  # fmt: skip

    def crank(self) -> None:
        """What holds the crank and the rods: it moves the pistons, so it comes before the deck."""
        effects = "Effects", Down("effects", ("verdict",))
        place = "Caps and rods", Alone("resize.centre_verdict")
        self.caps("mains", "main", "Line bore or hone mains", (place, effects))
        self.caps("rods", "rod", "Hone big ends of rods", (effects,))
        self.add("small_ends", "Bore small ends off centre", "rod length", "within_bored", (effects,),
                 of={"kind": "optional", "amounts": Alone("resize.pin_shift")}, start="resize.rod_before",
                 target="resize.rod", off="resize.pin_shift")  # fmt: skip
        for part, words, keys in (("mains", "main", self.shape.main_keys), ("rods", "rod", self.shape.pin_keys)):
            verdicts = Down("journals", ("verdict",), tuple(keys))
            self.add(f"grind_{part}", f"Grind {words} journals", "diameter", "within_honed", (("Crank", verdicts),),
                     of={"kind": "grind", "doubts": verdicts, "undersize": One(f"shaft.{part}.undersize"), "present": One(f"shaft.{part}.present")},
                     target={"kind": "under", "value": One(f"shaft.{part}.finish"), "other": One("shop.within_honed")})  # fmt: skip

    def sleeves(self) -> None:
        """One kind of sleeve for all: the block is bored alike for each; sheet Sleeves has a line for every cylinder."""
        wanted = {"kind": "count", "counts": Down("sleeves", ("bore_to",)), "doubts": Down("sleeves", ("verdict",))}
        stops = ("Sleeves", Down("sleeves", ("verdict",))), ("Sleeves", Alone("sleeve.hot_verdict"))
        self.add("sleeve_block", "Bore block for sleeves", "diameter", "within_bored", stops, of=wanted,
                 target="tally.bore_to", off="tally.counterbore", rpm="boring.sleeve_rpm")  # fmt: skip
        self.add("sleeves", "Fit sleeves, neighbours in turn", "sheet Sleeves", "", stops, of=wanted)

    def guides(self) -> None:
        """One line for all, with a size where both kinds are pressed into the same hole; sheet Guides has each."""
        doubts = Down("guides", ("fit_verdict",))
        self.add("guides", "Guides: out, hole, in, ream", "hole", "within_bored",
                 (("Guides", doubts), ("Guides", Down("guide_kinds", ("hot_verdict",)))),
                 of={"kind": "count", "counts": Down("guides", ("hole",)), "doubts": doubts},
                 target={"kind": "alike", "many": Down("guide_kinds", ("outside",)), "others": Down("guide_kinds", ("press",))})  # fmt: skip

    def inserts(self) -> None:
        for key, words in self.shape.valve_keys.items():
            kind = key.split("_")[1]
            self.add(f"insert_{key}", f"Counterbore, {words.lower()}", "diameter", "within_bored",
                     (("Seats", Alone(f"seats.{key}.verdict")), ("Seats", Alone(f"pressing.{kind}.hot_verdict")),
                      ("Seats", Alone(f"pressing.{kind}.verdict"))),
                     of={"how": One(f"seats.{key}.action")}, target=f"seats.{key}.counterbore", off=f"seats.{key}.depth",
                     rpm=f"pockets.{kind}.rpm")  # fmt: skip

    def faces(self, part: str) -> None:
        for key, words in face_keys(self.shape).items():
            if key.startswith(part):
                bank = key.split("_")[1]
                stops = (
                    ("Faces", Alone(f"faces.{key}.verdict")),
                    ("Effects", Alone(f"effects.{bank}.verdict")),
                    self.collisions(),
                )
                self.add(f"face_{key}", f"Cut {words.lower()}", "height" if part == "deck" else "thickness", "within_faces",
                         stops if part == "deck" else (stops[0], stops[2]), of={"amount": One(f"faces.{key}.cut")},
                         start=f"faces.{key}.size", target=f"faces.{key}.after", off=f"faces.{key}.cut",
                         passes=f"faces.{key}.passes", rpm=f"facing.{key}.rpm")  # fmt: skip

    def intake_faces(self) -> None:
        """Of the heads, where the manifold would no longer fit."""
        for bank, words in self.shape.banks.items():
            cut = One(f"effects.{bank}.intake_cut")
            stops = tuple(("Faces", Alone(f"faces.{part}_{bank}.verdict")) for part in ("deck", "head"))
            self.add(f"intake_{bank}", f"Cut intake face{words}", "amount off", "within_faces", stops,
                     of={"amount": cut}, target={"value": cut}, off={"value": cut})  # fmt: skip

    def bores(self) -> None:
        fit = "Decisions", Alone("bore.verdict")
        for step, words in (("bore", "Bore"), ("hone", "Hone")):
            for key, cylinder in self.shape.cylinder_keys.items():
                stops = (
                    ("Decisions", Alone(f"cylinders.{key}.verdict")),
                    ("Sleeves", Alone(f"sleeves.{key}.verdict")),
                    fit,
                )
                kept = {"stays": One("bore.stays"), "sleeve": One(f"cylinders.{key}.sleeve")}
                how = One(f"cylinders.{key}.method")
                bored, sleeved = One(f"cylinders.{key}.bore_to"), One(f"sleeves.{key}.bore_sleeve")
                smallest, finish = One(f"worn.{key}.smallest"), One("bore.finish")
                if step == "bore":
                    self.add(f"bore_{key}", f"{words} {cylinder.lower()}", "diameter", "within_bored", stops,
                             of={"kind": "bore", "how": how, **kept}, target={"value": bored, "other": sleeved},
                             start={"value": smallest, "unless": One(f"sleeves.{key}.action")}, rpm="boring.rpm")  # fmt: skip
                else:
                    self.add(f"hone_{key}", f"{words} {cylinder.lower()}", "diameter", "within_honed", stops, of={"how": how, **kept},
                             start={"value": bored, "other": sleeved, "third": smallest}, target={"value": finish}, rpm="honing.rpm")  # fmt: skip

    def valve_faces(self) -> None:
        """One line for all, with what comes off where it is alike; sheet Valves has each."""
        grind = Down("valves", ("face_grind",))
        self.add("valve_faces", "Grind valve faces", "sheet Valves", "", (("Valves", Down("valves", ("verdict",))),),
                 of={"kind": "optional", "amounts": grind}, off={"every": grind})  # fmt: skip

    def seats(self) -> None:
        for key, words in self.shape.valve_keys.items():
            insert = One(f"seats.{key}.action")
            stops = (("Valves", Alone(f"valves.{key}.verdict")), ("Guides", Alone(f"guides.{key}.verdict")),
                     ("Seats", Alone(f"seats.{key}.verdict")), ("Shims and lash", Alone(f"train.{key}.height_verdict")),
                     ("Shims and lash", Alone(f"train.{key}.lash_verdict")))  # fmt: skip
            self.add(f"seat_{key}", f"Cut seat, {words.lower()}", "tip height", "within_seats", stops,
                     of={"amount": One(f"valves.{key}.seat_sink"), "unless": insert}, target=f"valves.{key}.tip_after",
                     start={"kind": "seat", "value": One(f"valves.{key}.tip"), "other": One(f"valves.{key}.face_grind"),
                            "angle": One("shop.seat_angle"), "unless": insert},
                     off={"value": One(f"valves.{key}.seat_sink"), "unless": insert})  # fmt: skip


def steps(shape: Shape) -> Steps:
    """Line boring and rods before the deck, what is decked flush before it, then the bores; guides before their seats, faces of
    heads and valves before the final seat cuts, tips after them, cleaning last.
    """
    found = Steps(shape)
    found.add("inspect", "Clean, crack-test, measure")
    found.crank()
    if shape.side_valve:
        found.guides()
        found.inserts()
    found.sleeves()
    found.faces("deck")
    found.bores()
    if not shape.side_valve:
        found.guides()
        found.inserts()
    found.faces("head")
    if shape.layout == "vee":
        found.intake_faces()
    found.valve_faces()
    found.seats()
    lash = Down("train", ("lash_verdict",))
    found.add("lash", "Grind tips; prove lash, own cam", stops=(("Shims and lash", lash),))
    found.add("wash", "Wash all passages, oil, cover")
    found.add("last", "Last look: every line signed")
    return found


def sheet(shape: Shape) -> Sheet:
    made = steps(shape)
    size = Arg("length", "as planned")
    planned, done = "As planned", "As done"
    of = Here("of")
    inserts = (
        "Inserts and flanges of sleeves stand proud and are cut flush with the deck. "
        if shape.side_valve
        else "Flanges of sleeves stand proud and are decked flush; inserts lie in the chamber, deep as said. "
    )
    plan = Table(
        "steps",
        "In working order",
        made.keys,
        (
            result("verdict", "Go ahead? On size?",
                   calc(plan_rules.step_verdict, of=of, target=Here("target"), cut=Here("as_cut"), within=Here("within"), **made.column("verdict")),
                   text("STOP of the sheet that decides it; later, as cut against the plan"), flag=True, columns=2),
            result("of", "Cut to", calc(plan_rules.cut_to, **made.column("of")), text("what the sizes are, or that it is not wanted"), group=planned),
            result("start", "From", calc(plan_rules.starts_at, of=of, **made.column("start")), size, tenths=True, group=planned),
            result("target", "To", calc(plan_rules.ends_at, of=of, **made.column("target")), size, tenths=True, group=planned),
            result("within", "Within, ±", calc(plan_rules.on_size_within, of=of, **made.column("within")),
                   Arg("length", "how far off it may be: sheet Shop, of housings the maker's limits"), tenths=True, group=planned),
            result("off", "Off, square to the face", calc(plan_rules.comes_off, of=of, **made.column("off")),
                   Arg("length", "off the face or the seat, square to it; of a pocket its depth"), tenths=True, group=planned),
            result("passes", "Passes", calc(plan_rules.comes_off, of=of, **made.column("passes")),
                   Arg("count", "touch, rough and finish passes together"), group=planned),
            result("rpm", "Spindle", calc(plan_rules.comes_off, of=of, **made.column("rpm")),
                   like("rpm.", hint="from sheet Speeds, with feed and time"), group=planned),
            given("as_cut", "As cut", like("stock_remaining.target", hint="the size that was really cut"), plain=True, tenths=True, group=done),
            given("initials", "Initials", text("who cut it and stands by it"), short=True, plain=True, group=done),
            given("cut_on", "Date", Arg("date", "the day it was cut"), plain=True, group=done),
            given("note", "Note", text("what was met on the way"), group=done),
        ),
        note="Heights and thicknesses are what is left. From: of a bore its smallest reading; of a seat the tip height with the ground "
        "valve on it. Cut seats to the tip height, with the ground valve: it moves by more than comes off, for the seat slopes. "
        f"Of a pocket Off is its depth. {inserts}Pale: not wanted.",
        key_label="Step",
        dim=("of", plan_rules.NOT_WANTED),
        row_height=17 if shape.unit == "mm" and 64 < len(made.keys) < 75 else 19,  # an eight on A4 keeps to two pages
    )  # fmt: skip
    return Sheet(
        "Cut plan",
        "Every cut in the order that works. Write down what was really cut, and sign it.",
        (plan,),
        caution="Guards on, no gloves at a turning spindle. Heat, dry ice and liquid nitrogen burn; their gas displaces air: "
        "open the door. Stop at the first figure that doesn't fit the plan.",
    )
