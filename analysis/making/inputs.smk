# Routes with a design, and the designs that were meshed for them, known only after a step.
import csv
from itertools import count


def making_tables(wildcards):
    """Routes, pieces, dates and decision of an arm."""
    names = "choices routes pieces tasks dates ways failures work decision"
    return expand("results/{arm}/making/{table}.csv", arm=getattr(wildcards, "arm", ARM), table=names.split())


def making_tables_shown(wildcards):
    """Those that the page shows; what two orders together give stands in the decision."""
    return [table for table in making_tables(wildcards) if not table.endswith("ways.csv")]


def steps_before(wildcards):
    """Tables of the designs of a route that were meshed before a step, or all; the first without a design ends them."""
    found = []
    for step in range(int(wildcards["step"])) if "step" in wildcards.keys() else count():
        table = checkpoints.next_of_route.get(arm=wildcards.arm, route=wildcards.route, step=step).output[0]
        with open(table, newline="") as file:
            if not list(csv.DictReader(file)):
                break
        found.append(table)
    return found


def summaries_before(wildcards):
    """Summaries of these designs."""
    found = []
    for table in steps_before(wildcards):
        with open(table, newline="") as file:
            found += [row["id"] for row in csv.DictReader(file)]
    place = f"results/{wildcards.arm}/making/{wildcards.route}/designs"
    return [f"{place}/{identifier}/summary.json" for identifier in found]


def best_rows(wildcards):
    """The row of best.csv of every route, known once its designs have been judged."""
    for route in ROUTES:
        judged = checkpoints.judge_route.get(arm=wildcards.get("arm", ARM), route=route)
        with open(judged.output[0], newline="") as table:
            yield from csv.DictReader(table)


def of_routes(file, wildcards, deposited=False):
    """A file of every route that has a design, or of those among them that deposit."""
    rows = [row for row in best_rows(wildcards) if row["id"] and (row["deposits"] == "yes" or not deposited)]
    return [f"results/{wildcards.get('arm', ARM)}/making/{row['route']}/{file}" for row in rows]


def confirmed_routes(wildcards):
    return of_routes("best/summary.json", wildcards)


def life_and_flaw_of_routes(wildcards):
    return of_routes("best/life-and-flaw.csv", wildcards)


def blanks_of_routes(wildcards):
    return of_routes("blank/blanks.json", wildcards)


def tables_of_pieces(wildcards):
    return of_routes("pieces/pieces.json", wildcards, deposited=True)


def plans_of_pieces(wildcards):
    return of_routes("plan.json", wildcards, deposited=True)


def joints_of_pieces(wildcards):
    return of_routes("joints.csv", wildcards, deposited=True)


def arms_of_deposits(wildcards):
    return of_routes("best/arm.yaml", wildcards, deposited=True)


def arms_of_routes(wildcards):
    return of_routes("best/arm.yaml", wildcards)


def materials_of_routes(wildcards):
    """The arm's material and those of all its routes."""
    names = [name for route in ROUTES for name in listed(route)]
    return list(dict.fromkeys(material(wildcards) + copies(wildcards.arm, "materials", names)))


def pictures_of_pieces(wildcards):
    return of_routes("pieces.png", wildcards, deposited=True)
