"""Free-body diagram and N, V, M diagrams as SVG, from the hand calculation's tables: `python -m analysis.pictures.diagrams DIR`."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Polygon

from analysis.contracts.hand import HandFile
from analysis.contracts.linkage import Body, LinkageFile
from analysis.contracts.loads import CaseLoads, LoadsFile
from analysis.pictures.sheet import ARM_COLOUR, FOOT, LINE, MARK, SMALL, letter, paper, printed, room, save
from analysis.tables.files import read_csv
from params.files.read import read_arm
from params.schema.arm import Arm
from params.schema.geometry import BORES
from params.schema.units import System, outside, shown_unit
from params.steps.arguments import arguments
from params.steps.contract import read_model
from params.steps.guard import one_line_errors

INKS = {"input_bore": "#b3561e", "output_bore": "#4a7a3a", "pivot_bore": "#1f4e79", "weight": "#5a626a"}
NAMES = {"input_bore": "input pin", "output_bore": "output pin", "pivot_bore": "pivot", "weight": "weight"}
SHADE = "#aab2b9"
TABLE = 1.4  # inches, of the table of components below the free body
QUANTITIES = (
    ("N", "axial force N", "force", "tension +"),
    ("V2", "shear V2 in plane", "force", "eta +"),
    ("M3", "moment M3 in plane", "moment", "z +"),
    ("V3", "shear V3 sideways", "force", "z +"),
    ("M2", "moment M2 sideways", "moment", "eta +"),
    ("T", "torque T", "moment", "s +"),
)


@printed
def free_body(folder: Path, path: Path, case: str | None = None) -> None:
    """The arm as it stands in the world at a load case's governing position, with every force on it; the drawn case by default."""
    arm, loads = read_arm(folder / "arm.yaml"), read_model(folder / "loads.json", LoadsFile)
    case = case or read_model(folder / "hand.json", HandFile).drawn_case
    acting = loads.cases[case]
    figure = paper(5.0)
    axes = figure.add_axes(room(figure, 0.02, TABLE, 0.96))
    turn = rotation(acting.phi_rad)
    outline = read_model(folder / "linkage.json", LinkageFile).body
    centres = {
        f"{name}_bore": np.array(circle[:2]) for name, circle in zip(BORES, outline.circles, strict=True)
    }
    places = centres | {"weight": np.array(loads.cg_mm[:2])}
    forces = {name: np.array(bore.force[:2]) for name, bore in acting.bores.items()} | {
        "weight": np.array(acting.weight[:2])
    }
    body(axes, outline, turn)
    reach = max(arm.geometry.input_arm, arm.geometry.output_arm)
    scale = 0.42 * reach / max(float(np.hypot(*force)) for force in forces.values())
    for name, force in forces.items():
        arrow(
            axes,
            turn @ places[name],
            turn @ force,
            scale,
            0.10 * reach,
            name,
            f"{digits(float(np.hypot(*force)), 'force', arm.units)} {shown_unit('force', arm.units)}",
        )
    friction_label(axes, arm, acting.bores["pivot_bore"].moment[2], reach)
    axes.set_aspect("equal")
    axes.margins(0.08, 0.10)
    axes.autoscale_view()
    axes.axis("off")
    listed(figure, arm, acting)
    phi = math.degrees(acting.phi_rad)
    caption = f"Load case {case} at {100.0 * acting.fraction:.1f} % of the swing, output arm {phi:.1f} deg above the horizontal"
    letter(
        figure, f"{arm.name}, revision {arm.revision}: forces on the arm", f"{caption}; arrows to one scale"
    )
    save(figure, path)


def friction_label(axes: Axes, arm: Arm, moment: float, reach: float) -> None:
    """The friction moment at the pivot, where there is one."""
    if moment == 0.0:
        return
    ink, unit = INKS["pivot_bore"], shown_unit("moment", arm.units).replace("*", " ")
    way = "counter-clockwise" if moment > 0.0 else "clockwise"
    caption = f"pivot friction {digits(abs(moment), 'moment', arm.units)} {unit}, {way}"
    leader = {"arrowstyle": "-", "color": ink, "lw": 0.8}
    axes.annotate(
        caption, (0.0, 0.0), (-0.16 * reach, 0.40 * reach), color=ink, ha="right", arrowprops=leader
    )


def digits(value: float, kind: str, units: System) -> str:
    """Four significant digits in the unit of the system; nothing finer than a millionth of it."""
    number = outside(value, shown_unit(kind, units), kind)
    return "0" if abs(number) < 1e-6 else f"{number:,.4g}" if abs(number) < 9999.0 else f"{number:,.0f}"


def rotation(angle: float) -> np.ndarray:
    """Matrix that turns the arm's frame into the world's."""
    return np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])


def body(axes: Axes, outline: Body, turn: np.ndarray) -> None:
    """Outline in pale grey: two tapered arms with their axes, hub, bosses and bores."""
    for corners in outline.limbs:
        axes.add_patch(
            Polygon([turn @ corner for corner in corners], closed=True, fc=ARM_COLOUR, ec="none", alpha=0.6)
        )
    pivot, *pins = outline.circles
    for x, y in (turn @ pin[:2] for pin in pins):
        axes.plot([0.0, x], [0.0, y], color=LINE, lw=0.8, ls=(0, (8, 3, 2, 3)))
    for *centre, outside_radius, bore_radius in (pivot, *pins):
        x, y = (float(part) for part in turn @ centre)
        axes.add_patch(Circle((x, y), outside_radius, fc=ARM_COLOUR, ec=SHADE))
        axes.add_patch(Circle((x, y), bore_radius, fc="white", ec=SHADE))


def arrow(
    axes: Axes, at: np.ndarray, force: np.ndarray, scale: float, least: float, name: str, caption: str
) -> None:
    """A force from its point, labelled beyond its head; one too small for the scale gets a dashed arrow of `least` length."""
    size = float(np.hypot(*force))
    if size <= 0.0:
        return
    short = scale * size < least
    head = at + force / size * (least if short else scale * size)
    style = {
        "arrowstyle": "-|>",
        "color": INKS[name],
        "lw": 1.4,
        "shrinkA": 0.0,
        "shrinkB": 0.0,
        "mutation_scale": 10,
        "ls": "--" if short else "-",
    }
    axes.annotate("", (head[0], head[1]), (at[0], at[1]), arrowprops=style)
    axes.plot(*at, "o", ms=3, color=INKS[name])
    label = f"{NAMES[name]} {caption}" + (" (not to scale)" if short else "")
    if short:
        leader = {"arrowstyle": "-", "color": INKS[name], "lw": 0.7}
        place = (-1.2 * least, min(0.0, float(head[1])) - 4.2 * least)
        axes.annotate(label, (head[0], head[1]), place, color=INKS[name], ha="center", arrowprops=leader)
        axes.update_datalim(np.array([head, place]))
        return
    across, up = force / size
    beyond = head + force / size * 0.25 * least
    ha = "center" if abs(up) > abs(across) else "left" if across > 0.0 else "right"
    va = "center" if abs(across) > abs(up) else "bottom" if up > 0.0 else "top"
    axes.text(float(beyond[0]), float(beyond[1]), label, color=INKS[name], ha=ha, va=va)
    axes.update_datalim(np.array([head, beyond + force / size * 0.6 * least]))


def listed(figure: Figure, arm: Arm, acting: CaseLoads) -> None:
    """Components in the arm's frame as a table at the foot."""
    unit, turn = shown_unit("force", arm.units), shown_unit("moment", arm.units).replace("*", " ")
    head = ["at", *(f"F{axis}, {unit}" for axis in "xyz"), *(f"M{axis}, {turn}" for axis in "xyz")]
    rows = []
    for name in ("input_bore", "output_bore", "pivot_bore"):
        bore = acting.bores[name]
        rows.append(
            [
                NAMES[name],
                *(digits(v, "force", arm.units) for v in bore.force),
                *(digits(v, "moment", arm.units) for v in bore.moment),
            ]
        )
    rows.append(
        [
            "weight (at the centre of gravity)",
            *(digits(v, "force", arm.units) for v in acting.weight),
            "",
            "",
            "",
        ]
    )
    axes = figure.add_axes((0.03, FOOT / figure.get_figheight(), 0.94, TABLE / figure.get_figheight()))
    axes.axis("off")
    table = axes.table(
        rows,
        colLabels=head,
        loc="upper center",
        cellLoc="right",
        colWidths=[0.34, *[0.11] * 6],
        edges="horizontal",
    )
    table.auto_set_font_size(False)
    table.set_fontsize(SMALL)
    table.scale(1.0, 1.0)
    caption = (
        "Components in the arm's frame: x along the output arm, y square to it toward the upper side, z along the pins;\n"
        "moments about each bore's centre. "
        f"Unbalanced share of the pivot reaction {acting.residual:.0e}."
    )
    axes.text(0.0, 0.02, caption, va="bottom", color=LINE, transform=axes.transAxes)


@printed
def section_forces(folder: Path, path: Path) -> None:
    """N, V and M along both arms: the drawn case bold with its ends marked, the other load cases thin."""
    arm, rows = read_arm(folder / "arm.yaml"), read_csv(folder / "stations.csv", 1)
    case = read_model(folder / "hand.json", HandFile).drawn_case
    figure = paper(9.1)
    grid = figure.add_gridspec(
        len(QUANTITIES), 2, left=0.085, right=0.99, top=0.905, bottom=0.095, hspace=0.62, wspace=0.2
    )
    for line, (column, name, kind, sign) in enumerate(QUANTITIES):
        for side, limb in enumerate(("input", "output")):
            axes = figure.add_subplot(grid[line, side])
            panel(axes, arm, [row for row in rows if row["arm"] == limb], column, kind, case)
            unit = shown_unit(kind, arm.units).replace("*", " ")
            axes.set_title(f"{limb}: {name}, {unit} ({sign})", loc="left", color=LINE)
            if line == len(QUANTITIES) - 1:
                axes.set_xlabel(f"s from the pivot centre, {shown_unit('length', arm.units)}")
    caption = (
        f"Bold: load case {case}; thin: the others, each at its own governing position. "
        "Left: input arm, right: output arm, each from hub edge to boss edge. In brackets: positive direction; z toward the reader"
    )
    letter(figure, f"{arm.name}, revision {arm.revision}: internal forces of both arms", caption)
    save(figure, path)


def panel(axes: Axes, arm: Arm, rows: list[dict[str, str]], column: str, kind: str, drawn: str) -> None:
    """One quantity along one arm for every load case."""
    length, unit = shown_unit("length", arm.units), shown_unit(kind, arm.units).replace("*", "_")
    for case in dict.fromkeys(row["load_case"] for row in rows):
        some = [row for row in rows if row["load_case"] == case]
        s, value = (
            [float(row[f"{name}_{u}"]) for row in some] for name, u in (("s", length), (column, unit))
        )
        if case != drawn:
            axes.plot(s, value, color=SHADE, lw=0.6, zorder=1)
            continue
        axes.fill_between(s, 0.0, value, color="#1f4e79", alpha=0.14, zorder=2)
        axes.plot(s, value, color="#1f4e79", lw=1.4, zorder=3)
        for k, side in ((0, "left"), (-1, "right")):
            up = value[k] >= 0.0
            axes.annotate(
                f"{value[k]:,.4g}",
                (s[k], value[k]),
                (4 if k == 0 else -4, 5 if up else -5),
                textcoords="offset points",
                color=MARK,
                ha=side,
                va="bottom" if up else "top",
                zorder=4,
            )
    axes.axhline(0.0, color=LINE, lw=0.8)
    axes.margins(x=0.0, y=0.42)
    axes.grid(color="#e9ecee")
    for edge in ("top", "right"):
        axes.spines[edge].set_visible(False)


def main(folder: Path) -> None:
    free_body(folder, folder / "pictures" / "free-body.svg")
    section_forces(folder, folder / "pictures" / "diagrams.svg")


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, folder=Path))
