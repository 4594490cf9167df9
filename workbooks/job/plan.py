"""Sheet "Cut plan": every cut in working order, with sizes and passes, and a place for what was really cut."""

from __future__ import annotations

from typing import Any

from shopfuncs.declare import Arg, text
from workbooks import common_rules
from workbooks.describe import ByKey, Here, One, Sheet, Table, calc, given, like, result
from workbooks.job import rules
from workbooks.job.faces import face_keys
from workbooks.job.shape import Shape


class Steps:
    """Collects the steps in working order; each column's figures by step key."""

    def __init__(self, shape: Shape) -> None:
        self.shape = shape
        self.keys: dict[str, str] = {}
        self.columns: dict[str, dict[str, Any]] = {
            "start": {},
            "target": {},
            "depth": {},
            "passes": {},
            "rpm": {},
            "how": {},
            "else": {},
            "bored": {},
            "sleeved": {},
            "sleeve": {},
            "of": {},
        }

    def add(self, key: str, words: str, of: str = "", **figures: str) -> None:
        """Args: of: what the sizes of this step are. figures: where each comes from."""
        self.keys[key] = f"{len(self.keys) + 1}. {words}"
        if of:
            self.columns["of"][key] = of
        for column, path in figures.items():
            self.columns[column][key] = One(path)

    def inserts(self) -> None:
        for key, words in self.shape.valve_keys.items():
            self.add(f"insert_{key}", f"Counterbore, {words.lower()}", "diameter", target=f"seats.{key}.counterbore",
                     depth=f"seats.{key}.depth", how=f"seats.{key}.action",
                     rpm=f"pockets.{key.split('_')[1]}.rpm")  # fmt: skip

    def faces(self, part: str) -> None:
        for key, words in face_keys(self.shape).items():
            if key.startswith(part):
                self.add(f"face_{key}", f"Cut {words.lower()}", "height" if part == "deck" else "thickness", start=f"faces.{key}.size", target=f"faces.{key}.after",
                         depth=f"faces.{key}.cut", passes=f"faces.{key}.passes",
                         rpm=f"facing.{key}.rpm")  # fmt: skip

    def bores(self) -> None:
        for key, words in self.shape.cylinder_keys.items():
            self.add(f"bore_{key}", f"Bore {words.lower()}", "diameter", start=f"worn.{key}.smallest", target=f"cylinders.{key}.bore_to",
                     how=f"cylinders.{key}.method", rpm="boring.rpm", sleeved=f"sleeves.{key}.bore_sleeve",
                     sleeve=f"sleeves.{key}.action")  # fmt: skip
        for key, words in self.shape.cylinder_keys.items():
            self.add(
                f"hone_{key}",
                f"Hone {words.lower()}",
                "diameter",
                start=f"sleeves.{key}.bore_sleeve",
                bored=f"cylinders.{key}.bore_to",
                target="bore.finish",
                rpm="honing.rpm",
                **{"else": f"worn.{key}.smallest"},
            )

    def seats(self) -> None:
        for key, words in self.shape.valve_keys.items():
            self.add(f"seat_{key}", f"Cut seat, {words.lower()}", "tip height", depth=f"valves.{key}.seat_sink",
                     target=f"valves.{key}.tip_after", start=f"valves.{key}.tip")  # fmt: skip


def steps(shape: Shape) -> Steps:
    """Inserts before the face they sit in, faces before bores and final seat cuts, cleaning last."""
    found = Steps(shape)
    found.add("inspect", "Clean, crack-test, measure")
    if shape.side_valve:
        found.inserts()
    found.add("sleeves", "Sleeve cylinders (sheet Sleeves)", how="tally.how")
    found.faces("deck")
    found.bores()
    if not shape.side_valve:
        found.inserts()
    found.faces("head")
    found.seats()
    found.add("lash", "Grind tips; prove lash with its own cam")
    found.add("wash", "Wash all passages, oil, cover")
    found.add("last", "Last look: every line signed")
    return found


def sheet(shape: Shape) -> Sheet:
    made = steps(shape)

    def shown(column: str) -> Any:
        return calc(common_rules.same, value=ByKey(made.columns[column]))

    def either(column: str, other: str) -> Any:
        return calc(rules.first, value=ByKey(made.columns[column]), other=ByKey(made.columns[other]))

    size = Arg("length", "as planned")
    planned, done = "As planned", "As done"
    plan = Table(
        "steps",
        "In working order",
        made.keys,
        (
            result("how", "How", either("how", "sleeve"), text("method, or whether it is wanted"), group=planned),
            result("of", "Measured as", shown("of"), text("what the sizes are"), group=planned),
            result("start", "From", calc(rules.first_of, value=ByKey(made.columns["start"]), other=ByKey(made.columns["bored"]), third=ByKey(made.columns["else"])),
                   size, tenths=True, group=planned),
            result("target", "To", either("target", "sleeved"), size, tenths=True, group=planned),
            result("depth", "Depth of cut", shown("depth"), size, tenths=True, group=planned),
            result("passes", "Passes", shown("passes"), Arg("count", "touch, rough and finish passes together"), group=planned),
            result("rpm", "Spindle", calc(rules.where_wanted, how=Here("how"), value=ByKey(made.columns["rpm"])), like("rpm.", hint="from sheet Speeds, with feed and time"), group=planned),
            given("as_cut", "As cut", like("stock_remaining.target", hint="the size that was really cut"), plain=True, tenths=True, group=done),
            given("initials", "Initials", text("who cut it and stands by it"), short=True, plain=True, group=done),
            given("cut_on", "Date", Arg("date", "the day it was cut"), plain=True, group=done),
            given("note", "Note", text("what was met on the way"), group=done),
            result("verdict", "On size?",
                   calc(rules.cut_verdict, target=Here("target"), cut=Here("as_cut"), within=One("shop.as_cut_within")),
                   text("as cut against the plan"), flag=True, columns=2, group=done),
        ),
        note="Heights and thicknesses are what is left after the cut; the tip height is the stem's, on the finished seat. "
        "Inserts stand proud and are cut flush with the face. Pale lines are not wanted.",
        key_label="Step",
        dim=("how", "none"),
        row_height=21,
    )  # fmt: skip
    return Sheet(
        "Cut plan",
        "Every cut in the order that works. Write down what was really cut, and sign it.",
        (plan,),
        caution="Guards on, no gloves at a turning spindle. Heat, dry ice and liquid nitrogen burn; their gas displaces air: "
        "open the door. Stop at the first figure that doesn't fit the plan.",
    )
