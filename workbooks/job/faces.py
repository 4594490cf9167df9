"""Sheet "Faces": heights of deck and head faces, what it takes to clean them up, and what is left."""

from __future__ import annotations

from shopfuncs.declare import text
from workbooks.describe import ByKey, Down, Field, Here, One, Sheet, Table, calc, given, like, result
from workbooks.job import crank_rules, rules
from workbooks.job.shape import Shape


def sheet(shape: Shape) -> Sheet:
    points = {str(number): f"Point {number}" for number in range(1, shape.points + 1)}
    return Sheet(
        "Faces",
        "Heights of points on each face, from one setting of the part; where they lie; and the part's own height.",
        (point_table("deck_points", "Block deck", "deck", shape, points), point_table("head_points", "Head", "head", shape, points),
         face_table(shape)),
        caution="Never flatten a bent aluminium overhead-cam head by cutting alone: check the cam bores first."
        if shape.valve_train == "overhead-cam"
        else "A head or block that is bent was hot: look for cracks and loose inserts before it is cut.",
    )  # fmt: skip


def point_table(name: str, title: str, part: str, shape: Shape, points: dict[str, str]) -> Table:
    fields: list[Field] = []
    for bank, words in shape.banks.items():
        group = f"{title}{words}"
        fields += [
            given(f"x_{bank}", "Along", like("flatness.points", hint=f"{part}{words}: distance from the front",
                                             sign="any", within=(0, 60), usual=None), group=group, plain=True),
            given(f"y_{bank}", "Across", like("flatness.points", hint=f"{part}{words}: distance from one side",
                                              sign="any", within=(0, 30), usual=None), group=group, plain=True),
            given(f"height_{bank}", "Height", like("flatness.points", hint=f"{part}{words}: indicator reading, high is plus",
                                                   sign="any", within=(-1, 1), usual=None), group=group, plain=True, tenths=True),
        ]  # fmt: skip
    return Table(name, f"{title}: points", points, tuple(fields),
                 note="Corners first, then edges and the middle. Along: from the front. Across: from one side. Height: all from one "
                 "indicator setting, high is plus. At least the four corners; a point is typed whole or left blank.", key_label="Point")  # fmt: skip


def face_keys(shape: Shape) -> dict[str, str]:
    return {f"{part}_{bank}": f"{words}{name}" for part, words in (("deck", "Block deck"), ("head", "Head"))
            for bank, name in shape.banks.items()}  # fmt: skip


def face_table(shape: Shape) -> Table:
    keys = face_keys(shape)

    def points(*columns: str) -> ByKey:
        return ByKey({key: Down(f"{key.split('_')[0]}_points", tuple(f"{name}_{key.split('_')[1]}" for name in columns))
                      for key in keys})  # fmt: skip

    limit = ByKey(
        {key: One("limits.deck_height" if key.startswith("deck") else "limits.head_thickness") for key in keys}
    )
    risen = ByKey({key: One("resize.drop") for key in keys if key.startswith("deck")})
    return Table(
        "faces",
        "What it takes",
        keys,
        (
            given("size", "Height or thickness now", like("face_left.measured"), needed=True),
            result("flatness", "Flatness, least squares",
                   calc("flatness", points=points("x", "y", "height"), method="least squares"), tenths=True),
            result("needed", "Least cut, as it is set",
                   calc("cleanup_cut", points=points("x", "y", "height"), low_spot_extra=One("shop.low_spot"),
                        tilt="none", want="cut"), tenths=True),
            given("chosen", "Chosen cut", like("face_left.cut", hint="leave blank to take the least cut")),
            given("reason", "Reason", text("why another cut is chosen"), reason_for="chosen"),
            result("cut", "Cut in use", calc(rules.used, recommended=Here("needed"), chosen=Here("chosen")),
                   like("face_left.cut"), tenths=True),
            result("passes", "Passes",
                   calc("pass_count", total=Here("cut"), rough=One("shop.rough"), finish=One("shop.finish"),
                        touch=One("shop.touch"), unit=shape.unit, want="passes")),
            result("after", "Height after", calc(rules.less, value=Here("size"), amount=Here("cut")),
                   like("face_left.measured"), tenths=True),
            result("minimum", "Must stay", calc(crank_rules.plus_if_any, value=limit, by=risen), like("face_left.minimum"), tenths=True),
            result("left", "Left above that",
                   calc("face_left", measured=Here("size"), cut=Here("cut"), minimum=Here("minimum")), tenths=True),
            result("verdict", "Verdict",
                   calc(rules.face_verdict, cut=Here("cut"), needed=Here("needed"), left=Here("left"), minimum=limit,
                        flatness=Here("flatness"), flat=One("limits.flatness")),
                   text("does it clean up, or may it stay; and is enough left"), flag=True),
        ),
        note="The least cut is for the part as it was set; shimmed to the best tilt it can be less. 0 chosen: it stays uncut. "
        "Must stay: the minimum on sheet Engine; for a deck also what line boring brings the crank nearer.",
        key_label="Face",
    )  # fmt: skip
